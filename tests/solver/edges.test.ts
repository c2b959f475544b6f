/** Decks at the edges of what rules say: bodies beyond the outline, and no room at all. */
import { describe, expect, it } from 'vitest'
import { check, mm, type Shape, solve, type Turn } from '../../solver/index.ts'
import { deck, item, overhang, part, poly, problem, put, rect } from './check-kit.ts'
import { conflictVerdict } from './oracle/compare.ts'
import { LONG } from './oracle/mixes.ts'

describe('a conflict', () => {
  it('is found where nothing of an overhanging body would be left on the deck', () => {
    // 4 mm deep on 2 mm of usable deck; turned, it could hang wholly beyond the left edge, but for the edges front and back
    const mast = part(7, 3.9, 5, { mount: { kind: 'adhesive' } })
    const p = problem([item('mast', mast, { turns: [0, 1], decks: [0], overhang: overhang({ left: 1.7 }) })], {
      grid: mm(7),
      edgeClearance: mm(2.9),
      decks: [deck(rect(-20, 5.5, 17.5, 7.8))],
    })
    const r = solve(p)
    expect(r.status).toBe('infeasible')
    if (r.status !== 'infeasible') return
    expect(r.conflict.map((m) => m.rule).sort()).toEqual(['R1', 'R10'])
    expect(conflictVerdict(p, r.conflict)).toBe('irreducible')
  })
})

describe('an overhanging body of which nothing would be left', () => {
  it('hangs over no other edge, whichever way it is turned', () => {
    const board = part(8, 2, 5, { mount: { kind: 'adhesive' } })
    const p = problem(
      [item('mast', board, { turns: [0, 1], decks: [0], required: false, overhang: overhang({ left: 0.3 }) })],
      {
        edgeClearance: mm(2.9),
        decks: [deck(rect(0, 0, 6, 6))],
        grid: mm(0.3),
        objective: ['optional-value'],
      },
    )
    const r = solve(p)
    expect(r.status === 'optimal' && r.placements).toEqual([])
  })
})

describe('an overhanging body', () => {
  /** Positions around the deck, every 2 mm, that are legal, and where the search would not say the same. */
  const stood = (outline: Shape, over: Parameters<typeof overhang>[0], clearance: number) => {
    const mast = part(6, 4, 5, { mount: { kind: 'adhesive' } })
    const openings = [{ id: 'o', shape: rect(10, 2, 4, 4), mayCover: false }]
    const p = problem([item('mast', mast, { decks: [0], overhang: overhang(over) })], {
      grid: mm(2),
      edgeClearance: mm(clearance),
      decks: [deck(outline, { openings })],
    })
    const legal: string[] = []
    const wrong: string[] = []
    const may = (x: number, y: number, turn: Turn) => check(p, [put(0, x, y, turn)]).length === 0
    for (let x = -6; x <= 22; x += 2)
      for (let y = -6; y <= 22; y += 2)
        for (const turn of [0, 1] as const) {
          const ok = may(x, y, turn)
          if (ok) legal.push(`${x},${y},${turn}`)
          // where all around is as it is, search and checker hardly differ: every fourth of these is enough
          const beside = () => [may(x - 2, y, turn), may(x + 2, y, turn), may(x, y - 2, turn), may(x, y + 2, turn)]
          if (!LONG && (x + y) % 8 !== 0 && beside().every((b) => b === ok)) continue
          // no other place, but not said as a place
          const there = { kind: 'inside', shape: turn === 0 ? rect(x, y, 6, 4) : rect(x, y, 4, 6) } as const
          const only = { ...p, items: p.items.map((i) => ({ ...i, turns: [turn], place: [there] })) }
          if ((solve(only, { explain: false }).status === 'optimal') !== ok) wrong.push(`${x},${y},${turn}: ${ok}`)
        }
    expect(wrong).toEqual([])
    return legal
  }
  const ell = poly([0, 0], [20, 0], [20, 4], [8, 4], [8, 20], [0, 20])
  it('stands where checker and search both say, wholly beyond an edge too, and passes no side by more than it may', () => {
    const front = stood(ell, { front: 6 }, 0)
    // beyond the front of the deck's box: nothing of it is left to lie on the deck or off it
    expect(front).toContain('14,20,1')
    expect(front).toContain('10,20,0')
    // 2 mm too far, and over a side on which it may not
    expect(front).not.toContain('14,22,1')
    expect(front).not.toContain('16,20,0')
    expect(front).not.toContain('-2,20,1')
    const two = stood(ell, { left: 6, back: 4 }, 1)
    expect(two).toContain('-6,-4,0')
    expect(two).not.toContain('-6,18,0')
    expect(stood(rect(0, 0, 20, 20, 6), { right: 4, front: 1 }, 1)).toContain('20,0,1')
  })
})

describe('a deck on which no grid line leaves room', () => {
  it('has proven objectives all the same, with what stands off the grid', () => {
    const glued = (w: number, d: number) => part(w, d, 5, { mount: { kind: 'adhesive' } })
    const items = [
      item('middle', glued(2.5, 7.1), { decks: [0], place: [{ kind: 'centred', axis: 'x' }] }),
      item('other', glued(2.2, 8.4), { decks: [0], required: false, value: 2 }),
    ]
    const p = problem(items, {
      grid: mm(7.3),
      edgeClearance: mm(1),
      itemClearance: mm(0.5),
      decks: [deck(rect(0, 0, 6.5, 28.1))],
      objective: ['optional-value'],
    })
    const r = solve(p, { steps: 2000 })
    expect(r).toMatchObject({ status: 'optimal', objectives: [{ value: 0, bound: 0 }] })
  })
})

describe('values with more decimals than are counted', () => {
  it('are proven where the bound is the value', () => {
    const tile = part(6, 5, 5, { mount: { kind: 'adhesive' } })
    const items = [1, 2, 3].map((k) =>
      item(`a#${k}`, tile, { base: 'a', decks: [0], turns: [0], required: false, value: 1 / 3 }),
    )
    const r = solve(problem(items, { grid: mm(1), decks: [deck(rect(0, 0, 14, 5))], objective: ['optional-value'] }))
    if (r.status !== 'optimal') throw new Error(r.status)
    expect(r.objectives[0]!.value).toBeCloseTo(2 / 3, 5)
    expect(r.objectives[0]!.bound).toBe(r.objectives[0]!.value)
  })
})
