/** A rule of whole layouts, handed in from outside: the solve never answers what it refuses, and is as good as when the same is asked by a rule of its own. */
import { describe, expect, it } from 'vitest'
import { type LazyRule, mm, type Placement, type Problem, solve } from '../../solver/index.ts'
import { readProject, toProblem } from '../../src/model/index.ts'

function deck(place: unknown[] = []): Problem {
  const part = (id: string, width: number, depth: number) => ({
    format: 'deckwright-footprint',
    version: 1,
    id,
    name: id,
    source: 'common practice, no source',
    kind: 'part',
    body: { width, depth, height: 5 },
    mount: { kind: 'adhesive' },
    terminals: [{ id: 't', at: [1, 1] }],
  })
  const project = {
    format: 'deckwright-project',
    version: 1,
    units: 'mm',
    name: 'lazy',
    decks: [{ id: 'main', z: 10, thickness: 3, outline: { rect: [0, 0, 40, 24], radius: 3 } }],
    exits: [{ id: 'out', deck: 'main', at: [38, 22] }],
    footprints: [part('a', 12, 8), part('b', 10, 9), part('c', 15, 12)],
    items: [
      { id: 'a', footprint: 'a', turns: [0], place },
      { id: 'b', footprint: 'b', turns: [0] },
      { id: 'c', footprint: 'c', count: 2, required: false, value: 3 },
    ],
    wires: [{ id: 'w', from: { exit: 'out' }, to: { item: 'a', terminal: 't' } }],
    objective: ['optional-value', 'wire-length'],
  }
  const read = readProject(JSON.stringify(project), 'lazy.json', new Map())
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return toProblem(read.value, 'base', new Map())
}

/** The first item must stay in the left half. */
const leftHalf: LazyRule = {
  name: 'left half',
  find: (_, placements) =>
    placements.flatMap((p) =>
      p.item === 0 && p.at.x + mm(12) > mm(20) ? [{ placements: [0], text: 'a stands in the right half' }] : [],
    ),
}

const values = (p: Problem, lazy: readonly LazyRule[] = []) => {
  const r = solve(p, { lazy })
  if (r.status !== 'optimal') throw new Error(r.status)
  return { costs: r.objectives.map((o) => o.value), a: r.placements.find((q) => q.item === 0)!.at.x }
}

describe('a lazy rule', () => {
  it('is kept, and costs what the same rule costs from within', () => {
    const free = values(deck())
    const lazy = values(deck(), [leftHalf])
    const own = values(deck([{ kind: 'inside', shape: { rect: [0, 0, 20, 24] } }]))
    // it must matter, or this shows nothing
    expect(free.a + mm(12)).toBeGreaterThan(mm(20))
    expect(lazy.a + mm(12)).toBeLessThanOrEqual(mm(20))
    expect(lazy.costs).toEqual(own.costs)
    expect(lazy.costs).not.toEqual(free.costs)
  })

  it('may speak of positions and turns where nothing else does', () => {
    const plain = (rule: LazyRule) => {
      const p = deck()
      const [a, ...rest] = p.items
      const decks = [
        { ...p.decks[0]!, outline: { kind: 'rect', x: mm(0), y: mm(0), w: mm(40), h: mm(24), radius: mm(0) } },
      ]
      const items = [{ ...a!, turns: [0, 2] as const }, ...rest]
      return solve({ ...p, decks, items, exits: [], wires: [], objective: ['optional-value'] } as Problem, {
        lazy: [rule],
      })
    }
    const wants = (name: string, good: (p: Placement) => boolean): LazyRule => ({
      name,
      find: (_, placements) =>
        placements.flatMap((p) => (p.item !== 0 || good(p) ? [] : [{ placements: [0], text: `a is not ${name}` }])),
    })
    for (const rule of [wants('at the right', (p) => p.at.x >= mm(27)), wants('turned about', (p) => p.turn === 2)]) {
      const r = plain(rule)
      expect(r.status, rule.name).toBe('optimal')
      expect('objectives' in r && r.objectives[0]!.value, rule.name).toBe(6)
    }
  })

  it('that nothing satisfies is named in the conflict', () => {
    const never: LazyRule = {
      name: 'never',
      find: (_, placements) =>
        placements.filter((p) => p.item === 1).map(() => ({ placements: [1], text: 'b stands' })),
    }
    const r = solve(deck(), { lazy: [never] })
    expect(r.status).toBe('infeasible')
    if (r.status !== 'infeasible') return
    expect(r.conflict.map((m) => m.rule)).toContain('never')
    expect(r.conflictIrreducible).toBe(true)
  })
})
