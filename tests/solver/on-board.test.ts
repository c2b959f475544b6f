/** Many plug-in parts on a breadboard: answers do not go through every place that the board may have. */
import { describe, expect, it } from 'vitest'
import { compile } from '../../solver/compile.ts'
import { check, type Problem, solve } from '../../solver/index.ts'
import { type Seat, seatsOn } from '../../solver/search/seats.ts'
import { turnedSize } from '../../solver/units.ts'
import { problemWith } from '../published/project.ts'
import { LONG } from './oracle/mixes.ts'

const parts = (board: string, part: string, count: number): Problem =>
  problemWith({
    settings: { grid: 1, edgeClearance: 1, itemClearance: 1 },
    decks: [{ id: 'deck', z: 45, thickness: 3, outline: { rect: [0, 0, 120, 100], radius: 6 } }],
    items: [
      { id: 'board', footprint: board },
      ...Array.from({ length: count }, (_, k) => ({
        id: `part-${k}`,
        footprint: part,
        place: [{ kind: 'host', item: 'board' }],
      })),
    ],
  })

function conflictOf(problem: Problem, steps: number): string[] {
  const result = solve(problem, { steps })
  if (result.status !== 'infeasible') throw new Error(`${result.status} instead of infeasible`)
  expect(result.conflictIrreducible).toBe(true)
  return result.conflict.map((c) => `${c.rule} ${c.items.join(' ')}`).sort()
}

/** Pairs of parts that a conflict's R2 keeps apart. */
const pairsOf = (conflict: readonly string[]): Set<string> =>
  new Set(conflict.filter((c) => c.startsWith('R2')).map((c) => c.slice(3)))
const named = (conflict: readonly string[], rule: string): string[] =>
  conflict.filter((c) => c.startsWith(rule)).map((c) => c.slice(rule.length + 1))

/** All orders of these. */
function* orders<T>(list: readonly T[]): Generator<T[]> {
  if (list.length === 0) yield []
  for (const [k, one] of list.entries())
    for (const rest of orders([...list.slice(0, k), ...list.slice(k + 1)])) yield [one, ...rest]
}

// A body of 6.3 × 2.4 mm with a lead out of either end, four pitches apart: its pins stand beyond it.
const axial = {
  id: 'axial',
  body: { width: 6.3, depth: 2.4, height: 3 },
  mount: { kind: 'plug-in' },
  plug: { pins: [-1.93, 8.23].map((x, i) => ({ id: String(i + 1), at: [x, 1.2] })) },
}

describe('a board full of parts', () => {
  const crowd = (board: string, count: number, names: boolean) =>
    problemWith({
      settings: { grid: 1, edgeClearance: 1, itemClearance: 1 },
      decks: [{ id: 'deck', z: 45, thickness: 3, outline: { rect: [0, 0, 190, 120], radius: 6 } }],
      footprints: [axial],
      items: [
        { id: 'board', footprint: board },
        ...(names
          ? Array.from({ length: count }, (_, k) => ({ id: `part-${k}`, footprint: 'axial' }))
          : [{ id: 'part', footprint: 'axial', count }]),
      ],
    })

  // A lead's contact, the other's, and between them three contacts of a row, or one across the gap of three pitches: no seat covers fewer than three.
  it.each([
    ['breadboard-400', 10, false, 400 - 10 * 3],
    ['breadboard-400', 15, false, 400 - 15 * 3],
    ['breadboard-400', 14, true, 400 - 14 * 3],
    ['breadboard-830', 30, false, 830 - 30 * 3],
  ])('%s, %i parts with leads (names of their own: %s): %i contacts, proven', (board, count, names, free) => {
    const problem = crowd(board, count, names)
    const [host, , part] = problem.items.map((i) => i.footprint)
    expect(Math.min(...seatsOn(part!, host!).map((s) => s.covered.length))).toBe(3)
    const result = solve(problem, { steps: 60_000 })
    expect(result.status).toBe('optimal')
    if ('objectives' in result) expect(result.objectives[0]).toMatchObject({ value: free, bound: free, proven: true })
  })

  it.each([
    ['breadboard-170', 6],
    ['breadboard-400', 8],
  ])('%s, %i drivers in line, which cover more than their pins: proven', (board, count) => {
    const problem = parts(board, 'driver-7-in-line', count)
    const result = solve(problem, { steps: 20_000 })
    expect(result.status).toBe('optimal')
    if ('placements' in result) expect(check(problem, result.placements)).toEqual([])
  })
})

// A lead at either end, 0.27 mm beyond the body.
const lead = {
  id: 'lead',
  body: { width: 2, depth: 2, height: 4 },
  mount: { kind: 'plug-in' },
  plug: { pins: [-0.27, 2.27].map((x, i) => ({ id: String(i + 1), at: [x, 1] })) },
}

// Of every pair of seats it is looked at whether pins can be between another's: twenty kinds of parts took ten seconds.
it.each([
  ['header-1x6', 0, 1],
  ['lead', 0, 3],
  ['lead', 0.27, 3],
  ['lead', 0.271, 1],
])(
  'two of %s, a gap of %f: %i that keep them apart, pins are not asked where bodies say it all',
  (part, gap, count) => {
    const problem = problemWith({
      settings: { grid: 1, itemClearance: gap },
      decks: [{ id: 'deck', z: 45, thickness: 3, outline: { rect: [0, 0, 120, 100] } }],
      footprints: [lead],
      items: [
        { id: 'board', footprint: 'breadboard-170' },
        { id: 'part', footprint: part, count: 2 },
      ],
    })
    expect(compile(problem).onBoards).toHaveLength(count)
    expect(compile(problem, { explaining: true }).onBoards).toHaveLength(3)
  },
)

describe('too many parts on one board', () => {
  it('three headers of eight columns on seventeen: their contacts are in each other’s way, bodies need not be asked', () => {
    expect(conflictOf(parts('breadboard-170', 'header-2x8', 3), 2000)).toEqual([
      ...['R10 part-0', 'R10 part-1', 'R10 part-2'],
      ...['R6 part-0', 'R6 part-1', 'R6 part-2'],
    ])
  })

  // Across the gap of a board of thirty columns each takes six, 15.24 mm; its body of 15.2 mm and a gap of 1 mm need seven beside another.
  it.each([5, 8])(
    '%i drivers of six columns on thirty: as many pairs as no order does without, and no more',
    (count) => {
      const conflict = conflictOf(parts('breadboard-400', 'driver-2x6', count), 8000)
      const five = named(conflict, 'R6')
      expect(five).toHaveLength(5)
      expect(named(conflict, 'R10')).toEqual(five)
      const pairs = pairsOf(conflict)
      expect(conflict).toHaveLength(10 + pairs.size)
      const fits = (kept: ReadonlySet<string>) =>
        [...orders(five)].some((o) => {
          const gaps = o.slice(1).filter((b, k) => kept.has([o[k]!, b].sort().join(' ')))
          return 6 * o.length + gaps.length <= 30
        })
      expect(fits(pairs)).toBe(false)
      for (const one of pairs) expect(fits(new Set([...pairs].filter((p) => p !== one)))).toBe(true)
    },
  )

  it.runIf(LONG)('seven drivers in line on a board of 170: six fit, and seven are told', () => {
    const six = solve({ ...parts('breadboard-170', 'driver-7-in-line', 6), objective: [] }, { steps: 20_000 })
    if (!('placements' in six)) throw new Error(six.status)
    expect(check(parts('breadboard-170', 'driver-7-in-line', 6), six.placements)).toEqual([])
    const conflict = conflictOf(parts('breadboard-170', 'driver-7-in-line', 7), 60_000)
    expect(named(conflict, 'R10')).toHaveLength(7)
    expect(named(conflict, 'R6')).toHaveLength(7)
    expect(conflict).toHaveLength(14 + pairsOf(conflict).size)
  })
})

// "a" and "b c" are another pair than "a b" and "c", whatever their names are like when said in a row.
it('names with blanks: each pair is held apart by its own rule', () => {
  const columns = 9
  const problem = problemWith({
    settings: { grid: 1, itemClearance: 2.54 },
    decks: [{ id: 'deck', z: 45, thickness: 3, outline: { rect: [0, 0, 60, 30] } }],
    footprints: [
      {
        id: 'crumb',
        body: { width: 3, depth: 2, height: 3 },
        mount: { kind: 'plug-in' },
        plug: { pins: [0.23, 2.77].map((x, i) => ({ id: String(i + 1), at: [x, 1] })) },
      },
      {
        id: 'row',
        kind: 'breadboard',
        body: { width: 2.54 * columns, depth: 5, height: 5 },
        mount: { kind: 'adhesive' },
        breadboard: { pitch: 2.54, blocks: [{ at: [1.27, 2.5], columns, rows: 1, strip: 'column' }] },
      },
    ],
    items: [
      { id: 'board', footprint: 'row' },
      ...['a', 'b c', 'a b', 'c'].map((id) => ({ id, footprint: 'crumb', turns: [0] })),
    ],
  })
  const result = solve(problem, { steps: 20_000 })
  if (result.status !== 'infeasible') throw new Error(result.status)
  const told = result.conflict.map((c) => JSON.stringify([c.rule, ...c.items]))
  const parts = problem.items.slice(1).map((i) => i.id)
  // two contacts each, and one more between two that must keep a gap
  const fits = [...orders(parts)].some((o) => {
    const gaps = o.slice(1).filter((b, k) => {
      const pair = [o[k]!, b].sort((p, q) => parts.indexOf(p) - parts.indexOf(q))
      return told.includes(JSON.stringify(['R2', ...pair]))
    })
    return 2 * o.length + gaps.length <= columns
  })
  expect(fits).toBe(false)
})

// A part whose pins are far from each other leaves room between them: there the box of its pins says too much.
it('a small part fits between the pins of a wide one', () => {
  const plug = (xs: readonly number[], y: number) => ({
    pins: xs.map((x, i) => ({ id: String(i + 1), at: [x, y] })),
  })
  const footprints = [
    {
      id: 'bridge',
      body: { width: 2, depth: 2, height: 5 },
      mount: { kind: 'plug-in' },
      plug: plug([-6.62, 8.62], 1),
    },
    { id: 'crumb', body: { width: 3, depth: 2, height: 3 }, mount: { kind: 'plug-in' }, plug: plug([0.23, 2.77], 1) },
    {
      id: 'row',
      kind: 'breadboard',
      body: { width: 20, depth: 5, height: 5 },
      mount: { kind: 'adhesive' },
      breadboard: { pitch: 2.54, blocks: [{ at: [1.27, 2.5], columns: 7, rows: 1, strip: 'column' }] },
    },
  ]
  const place = [{ kind: 'host', item: 'board' }]
  const problem = (extra: readonly object[]) =>
    problemWith({
      settings: { grid: 1, itemClearance: 0 },
      decks: [{ id: 'deck', z: 45, thickness: 3, outline: { rect: [0, 0, 40, 30] } }],
      footprints,
      items: [
        { id: 'board', footprint: 'row' },
        { id: 'wide', footprint: 'bridge', place },
        { id: 'small', footprint: 'crumb', place },
        ...extra,
      ],
    })
  const [board, wide, small] = problem([]).items.map((i) => i.footprint)
  const size = (s: Seat) => turnedSize(small!.width, small!.depth, s.turn)
  const between = seatsOn(wide!, board!).flatMap((s) =>
    seatsOn(small!, board!).filter(
      (t) =>
        t.u > s.u - 6_620 &&
        t.u + size(t).w < s.u + 8_620 &&
        !s.pins.some((p) => t.covered.includes(p)) &&
        !t.pins.some((p) => s.covered.includes(p)),
    ),
  )
  expect(between.length).toBeGreaterThan(0)
  expect(solve(problem([]), { steps: 5000 }).status).toBe('optimal')
  // two more have no room: the refutation must not rest on what lies between the pins
  const told = conflictOf(
    problem([
      { id: 'more', footprint: 'crumb', place },
      { id: 'most', footprint: 'crumb', place },
    ]),
    20_000,
  )
  expect(named(told, 'R10').length).toBeGreaterThan(1)
})

it('wires between parts on one board: the least is proven, since bounds know who stands left of whom there', () => {
  const row = (id: string, pins: number, width: number) => ({
    id,
    body: { width, depth: 9, height: 5 },
    mount: { kind: 'plug-in' },
    terminals: [{ id: 't', at: [1, 8] }],
    plug: { pins: Array.from({ length: pins }, (_, i) => ({ id: String(i + 1), at: [1.27 + 2.54 * i, 1] })) },
  })
  const ids = ['m0', 'm1', 'm2', 'm3']
  const wire = (from: object, to: string) => ({ id: `to-${to}`, from, to: { item: to, terminal: 't' } })
  const problem = problemWith({
    settings: { grid: 1, edgeClearance: 1, itemClearance: 1 },
    decks: [{ id: 'deck', z: 40, thickness: 3, outline: { rect: [0, 0, 120, 90], radius: 6 } }],
    footprints: [row('a', 4, 10.2), row('b', 6, 15.3), row('c', 3, 7.7)],
    exits: [{ id: 'motor', deck: 'deck', at: [10, 45] }],
    items: [
      { id: 'board', footprint: 'breadboard-170' },
      ...ids.map((id, k) => ({ id, footprint: ['a', 'b', 'c'][k % 3] })),
    ],
    wires: [
      wire({ exit: 'motor' }, 'm0'),
      ...ids.slice(1).map((id, k) => wire({ item: ids[k], terminal: 't' }, id)),
      { id: 'back', from: { item: 'm3', terminal: 't' }, to: { item: 'm0', terminal: 't' } },
    ],
    objective: ['wire-length'],
  })
  // without, 55,000 steps leave 38.8 mm of at least 13.2
  expect(solve(problem, { steps: 30_000 }).status).toBe('optimal')
})
