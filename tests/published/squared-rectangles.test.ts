/**
 * Perfect squared rectangles as packing facts: they fill their sheet, so the checker must find nothing, and must find
 * any square that is moved by a micrometre. Sources (tests/fixtures/reference-values.json): Moroń 1925 for the 33 × 32
 * rectangle (sizes read, placement decoded from a code from memory and checked here to tile); Duijvestijn,
 * J. Combin. Theory B 25 (1978) 240–243, as listed in OEIS A014530, for the 112 × 112 square.
 */
import { describe, expect, it } from 'vitest'
import { check } from '../../solver/check/check.ts'
import type { Placement } from '../../solver/problem.ts'
import { um } from '../../solver/units.ts'
import reference from '../fixtures/reference-values.json'
import { deck, item, part, problem, put, rect } from '../solver/check-kit.ts'

const entry = (id: string) => reference.find((e) => e.id === id)!.value

/** One unit of the published figure is one millimetre. */
function sheet(id: string, width: number, height: number) {
  const squares = entry(id) as [number, number, number][]
  const p = problem(
    squares.map(([, , side]) => item(`square-${side}`, part(side, side))),
    { decks: [deck(rect(0, 0, width, height))] },
  )
  return { squares, p, placements: squares.map(([x, y], i) => put(i, x, y)) }
}

describe.each([
  ['moron-33x32', 33, 32, 9],
  ['duijvestijn-112', 112, 112, 21],
] as const)('%s', (name, width, height, order) => {
  const { squares, p, placements } = sheet(`${name}-placement`, width, height)
  it('is perfect: as many squares as published, all of different size', () => {
    expect(squares.map((s) => s[2]).sort((a, b) => a - b)).toEqual(entry(`${name}-sizes`))
    expect(new Set(squares.map((s) => s[2])).size).toBe(order)
  })
  it('tiles the sheet: nothing overlaps, nothing sticks out, and the areas add up', () => {
    expect(check(p, placements)).toEqual([])
    expect(squares.reduce((sum, s) => sum + s[2] ** 2, 0)).toBe(width * height)
  })
  it('every square moved by 1 µm, any way, is found, and by 1 µm', () => {
    placements.forEach((own, i) => {
      for (const [dx, dy] of [
        [1, 0],
        [-1, 0],
        [0, 1],
        [0, -1],
      ] as const) {
        const moved: Placement[] = placements.map((q) =>
          q === own ? { ...q, at: { x: um(q.at.x + dx), y: um(q.at.y + dy) } } : q,
        )
        const found = check(p, moved)
        expect(found.length).toBeGreaterThan(0)
        for (const f of found) {
          expect(['R1', 'R2']).toContain(f.rule)
          expect(f.items).toContain(p.items[i]!.id)
          expect(f.by).toBe(1)
        }
      }
    })
  })
  it('every square touches others or the sheet on all four sides', () => {
    // With a clearance of 1 µm each square comes too near to something: they do touch.
    const apart = check({ ...p, itemClearance: um(1), edgeClearance: um(1) }, placements)
    for (const it of p.items) expect(apart.filter((f) => f.items.includes(it.id)).length).toBeGreaterThan(1)
  })
})
