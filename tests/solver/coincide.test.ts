/** When a cut-out is an opening that is there (contract R5: "to 0.1 mm"; README, reading 6): checker, search and drawing say the same. */
import { describe, expect, it } from 'vitest'
import { check } from '../../solver/check/check.ts'
import type { Shape } from '../../solver/problem.ts'
import { solve } from '../../solver/solve.ts'
import { mm } from '../../solver/units.ts'
import { madeBy } from '../../src/export/made.ts'
import { box, circle, deck, item, part, poly, problem, put, rect } from './check-kit.ts'

/** A drop-in part held at (20,20), all of it cut-out, on a plate with one opening. */
const there = (
  opening: Shape,
  decks = [deck(rect(0, 0, 60, 60), { openings: [{ id: 'o', shape: opening, mayCover: false }] })],
) => {
  const f = part(12, 13, 8, { mount: { kind: 'drop-in', cutout: box(0, 0, 12, 13), holes: [], below: mm(2) } })
  const p = problem([item('y', f, { decks: [0] })], { decks, minWeb: mm(2), grid: mm(1) })
  const at = put(0, 20, 20)
  const made = madeBy(p, [at], 0).cuts.length
  const held = {
    ...p,
    items: p.items.map((i) => ({ ...i, place: [{ kind: 'at' as const, deck: 0, at: at.at, turn: 0 as const }] })),
  }
  return { legal: check(p, [at]).length === 0, found: solve(held).status === 'optimal', drawn: made === 0 }
}
const all = (yes: boolean) => ({ legal: yes, found: yes, drawn: yes })

describe('a cut-out coincides with an opening', () => {
  it('each of whose sides is within 0.1 mm of its own', () => {
    expect(there(rect(20, 20, 12, 13))).toEqual(all(true))
    expect(there(rect(20.1, 19.9, 12, 13))).toEqual(all(true))
    expect(there(rect(19.9, 19.9, 12.2, 13.2))).toEqual(all(true))
    expect(there(rect(19.9, 19.9, 12.201, 13.2))).toEqual(all(false))
  })
  it('whose corners are rounded off by 0.1 mm at most: r·(√2 − 1), so a radius of 0.241 mm', () => {
    expect(there(rect(20, 20, 12, 13, 0.241))).toEqual(all(true))
    expect(there(rect(20, 20, 12, 13, 0.242))).toEqual(all(false))
    expect(there(rect(20, 20, 12, 13, 6))).toEqual(all(false))
    expect(there(circle(26, 26, 6))).toEqual(all(false))
  })
  it('also where its four sides are not quite square', () => {
    expect(there(poly([20.08, 20.08], [32, 20], [32, 33], [20, 33]))).toEqual(all(true))
    expect(there(poly([20, 33], [32, 33.1], [31.9, 20], [20.1, 20]))).toEqual(all(true))
    expect(there(poly([20.08, 20.101], [32, 20], [32, 33], [20, 33]))).toEqual(all(false))
    expect(there(poly([20, 20], [32, 20, 0.1], [32, 33], [20, 33]))).toEqual(all(false))
    expect(there(poly([20, 20], [31, 20], [32, 21], [32, 33], [20, 33]))).toEqual(all(false))
    expect(there(poly([20, 20], [32, 20], [20, 33]))).toEqual(all(false))
  })
})
