/** Plug-in parts whose pins may meet on one board: answers that do not go through every place the board may have. */
import { describe, expect, it } from 'vitest'
import { solve } from '../../solver/index.ts'
import { seatsOn } from '../../solver/search/seats.ts'
import { turnedSize } from '../../solver/units.ts'
import { problemWith } from '../published/project.ts'

/** A body of 6.3 × 2.4 mm with a lead out of either end, four pitches apart: its pins stand beyond it. */
const axial = {
  id: 'axial',
  body: { width: 6.3, depth: 2.4, height: 3 },
  mount: { kind: 'plug-in' },
  plug: { pins: [-1.93, 8.23].map((x, i) => ({ id: String(i + 1), at: [x, 1.2] })) },
}
const deck = (w: number, h: number) => [{ id: 'main', z: 50, thickness: 3, outline: { rect: [0, 0, w, h] } }]
const settings = { grid: 1, edgeClearance: 1, itemClearance: 1 }

describe('parts whose pins may meet', () => {
  // Across the gap of the board, three pitches wide, a part has a contact under either pin and one between; along rows or
  // columns three between. So each covers three, and parts with a gap between them share none: 170 − 2 × 3, and so on.
  it.each([
    [1, 2, 164],
    [2, 2, 334],
    [1, 4, 158],
  ])('%i boards, %i parts with leads: %i contacts, proven in a few steps', (boards, parts, free) => {
    const problem = problemWith({
      decks: deck(60, 80),
      settings,
      footprints: [axial],
      items: [
        { id: 'board', footprint: 'breadboard-170', count: boards },
        { id: 'part', footprint: 'axial', count: parts },
      ],
    })
    const result = solve(problem, { steps: 1000 })
    expect(result).toMatchObject({ status: 'optimal' })
    if ('objectives' in result) expect(result.objectives[0]).toMatchObject({ value: free, bound: free, proven: true })
  })

  it('two controllers that no two seats of one board go with: the conflict is cut down, and names what is in the way', () => {
    const problem = problemWith({
      decks: deck(100, 70),
      items: [
        { id: 'board', footprint: 'breadboard-400' },
        { id: 'p', footprint: 'controller-plug-in-45x18', count: 2 },
      ],
    })
    // by hand: every seat of the one with every seat of the other
    const [board, brain] = problem.items.map((i) => i.footprint)
    const seats = seatsOn(brain!, board!)
    const meet = (a: readonly number[], b: readonly number[]) => a.some((t) => b.includes(t))
    expect(seats.length).toBeGreaterThan(10)
    expect(seats.flatMap((s) => seats.filter((t) => !meet(s.pins, t.covered) && !meet(t.pins, s.covered)))).toEqual([])
    const result = solve(problem, { steps: 2000 })
    expect(result.status).toBe('infeasible')
    if (result.status !== 'infeasible') return
    expect(result.conflictIrreducible).not.toBe(false)
    expect(result.conflict.map((c) => `${c.rule} ${c.items}`).sort()).toEqual([
      'R10 p#1',
      'R10 p#2',
      'R6 p#1',
      'R6 p#2',
    ])
  })

  it('without a gap, contacts on two edges that touch count once: proven against all pairs of seats', () => {
    // a row of contacts along either long side, so that two bodies side by side have one in common
    const plate = {
      id: 'plate',
      body: { width: 7.62, depth: 2.54, height: 3 },
      mount: { kind: 'plug-in' },
      plug: { pins: [0, 7.62].map((x, i) => ({ id: String(i + 1), at: [x, 0] })) },
    }
    const problem = problemWith({
      decks: deck(60, 80),
      settings: { ...settings, itemClearance: 0 },
      footprints: [plate],
      items: [
        { id: 'board', footprint: 'breadboard-170' },
        { id: 'part', footprint: 'plate', count: 2 },
      ],
    })
    const [board, part] = problem.items.map((i) => i.footprint)
    const seats = seatsOn(part!, board!).map((s) => ({ ...s, size: turnedSize(part!.width, part!.depth, s.turn) }))
    let least = Number.POSITIVE_INFINITY
    for (const s of seats)
      for (const t of seats) {
        const apart = s.u + s.size.w <= t.u || t.u + t.size.w <= s.u || s.v + s.size.h <= t.v || t.v + t.size.h <= s.v
        const meet = s.pins.some((k) => t.covered.includes(k)) || t.pins.some((k) => s.covered.includes(k))
        if (apart && !meet) least = Math.min(least, new Set([...s.covered, ...t.covered]).size)
      }
    const result = solve(problem, { steps: 20_000 })
    expect(result.status).toBe('optimal')
    if ('objectives' in result) expect(result.objectives[0]).toMatchObject({ value: 170 - least, bound: 170 - least })
  })

  it('two parts that are to be on one board of two contacts: the seats of both are in the reason', () => {
    const two = {
      id: 'two',
      kind: 'breadboard',
      body: { width: 5.08, depth: 2.54, height: 5 },
      mount: { kind: 'adhesive' },
      breadboard: { pitch: 2.54, blocks: [{ at: [1.27, 1.27], columns: 2, rows: 1, strip: 'column' }] },
    }
    const leads = {
      id: 'leads',
      body: { width: 1, depth: 1, height: 5 },
      mount: { kind: 'plug-in' },
      plug: { pins: [-0.77, 1.77].map((x, i) => ({ id: String(i + 1), at: [x, 0.5] })) },
    }
    const place = [{ kind: 'host', item: 'X' }]
    const problem = problemWith({
      decks: deck(40, 20),
      settings: { grid: 1, itemClearance: 0 },
      footprints: [two, leads],
      items: [
        { id: 'X', footprint: 'two' },
        { id: 'Y', footprint: 'two' },
        { id: 'a', footprint: 'leads', place },
        { id: 'q', footprint: 'leads', place },
      ],
    })
    const result = solve(problem, { steps: 2000 })
    expect(result.status).toBe('infeasible')
    // without the rule of one of them it stands on the board wherever there is room, off its contacts
    if (result.status === 'infeasible')
      expect(result.conflict.filter((c) => c.rule === 'R6').map((c) => c.items[0])).toEqual(['a', 'q'])
  })
})
