/** Layout files (contract §6): written from results, read from anyone, laid over a problem again. */
import { describe, expect, it } from 'vitest'
import { bounds, check, figures, mm, prepare, type SolveResult, um } from '../../solver/index.ts'
import {
  formatProblem,
  type LayoutFile,
  layoutOf,
  layoutVariant,
  type Project,
  placementsOf,
  readLayout,
  readProject,
  toProblem,
  writeLayout,
} from '../../src/model/index.ts'

/** Two boards with 50 contacts each, a part of two pins, a controller 30 × 20; all lengths easy by hand. */
const project: Project = {
  format: 'deckwright-project',
  version: 1,
  units: 'mm',
  name: 'pond skimmer',
  decks: [{ id: 'main', z: 40, thickness: 3, outline: { rect: [0, 0, 120, 100] } }],
  exits: [{ id: 'motor', deck: 'main', at: [0, 0] }],
  footprints: [
    {
      id: 'controller',
      body: { width: 30, depth: 20, height: 10 },
      mount: { kind: 'adhesive' },
      terminals: [{ id: 'out', at: [5, 5.5] }],
      mass: 10,
    },
    {
      id: 'contacts',
      body: { width: 30, depth: 20, height: 8 },
      mount: { kind: 'adhesive' },
      breadboard: { blocks: [{ at: [2, 2], columns: 10, rows: 5, strip: 'column' }] },
    },
    {
      id: 'driver',
      body: { width: 4, depth: 2, height: 5 },
      mount: { kind: 'plug-in' },
      plug: {
        pins: [
          { id: '1', at: [0.73, 1] },
          { id: '2', at: [3.27, 1] },
        ],
      },
    },
  ],
  items: [
    { id: 'brain', footprint: 'controller' },
    { id: 'board', footprint: 'contacts', count: 2, required: false, value: 1.5 },
    { id: 'chip', footprint: 'driver' },
  ],
  wires: [{ id: 'drive', from: { exit: 'motor' }, to: { item: 'brain', terminal: 'out' }, loop: 20, conductors: 2 }],
  variants: [{ id: 'first' }, { id: 'second' }],
}
const opened = readProject(JSON.stringify(project), 'p.json', new Map())
const problem = toProblem(project, 'first', new Map())

/** The chip's pins on columns 0 and 1 of row 0, so the body [2 − 0.73, 2 − 1] covers those two points: 48 stay free. */
const placements = [
  { item: 3, deck: 0, at: { x: mm(41.27), y: mm(1) }, turn: 0, host: 1 },
  { item: 0, deck: 0, at: { x: mm(0), y: mm(30.1) }, turn: 1 },
  { item: 1, deck: 0, at: { x: mm(40), y: mm(0) }, turn: 0 },
] as const

const solved: SolveResult = {
  status: 'feasible',
  objectives: [
    { name: 'free-tie-points', value: 48, bound: 48, proven: true },
    { name: 'optional-value', value: 1.5, bound: 1.5, proven: true },
    { name: 'wire-length', value: 99200, bound: 80000.75, proven: false },
  ],
  placements,
  figures: figures(problem, placements),
}

describe('a result written down', () => {
  it('is opened without a word', () => expect(opened.ok && opened.warnings).toEqual([]))

  it('has every figure of the contract, in mm', () => {
    // Turn 1: (5, 5.5) of a 30 × 20 body goes to (20 − 5.5, 5); |14.5| + |30.1 + 5| = 49.6.
    expect(layoutOf(problem, solved, 0.0849)).toEqual({
      format: 'deckwright-layout',
      version: 1,
      project: 'pond skimmer',
      variant: 'first',
      status: 'feasible',
      objectives: [
        { name: 'free-tie-points', value: 48, bound: 48, proven: true },
        { name: 'optional-value', value: 1.5, bound: 1.5, proven: true },
        { name: 'wire-length', value: 99.2, bound: 80, proven: false },
      ],
      placements: [
        { item: 'brain', deck: 'main', at: [0, 30.1], turn: 1 },
        { item: 'board#1', deck: 'main', at: [40, 0], turn: 0 },
        { item: 'chip', deck: 'main', at: [41.27, 1], turn: 0, host: 'board#1' },
      ],
      leftOut: ['board#2'],
      wires: [{ id: 'drive', length: 49.6, cut: 69.6 }],
      freeTiePoints: 48,
      freeArea: 309.68,
      grid: 1,
      seconds: 0.085,
    })
  })

  it('gives the free area of the contract’s own example', () => {
    const many = { ...solved, figures: { ...solved.figures, freeTiePoints: 870 } }
    expect(layoutOf(problem, many, 0).freeArea).toBe(5612.89)
  })

  it('says why not, where there is none', () => {
    const conflict = [{ rule: 'R2', items: ['brain', 'board#1'], text: 'they overlap' }] as const
    const none = { objectives: [], placements: [], leftOut: [], wires: [], grid: 1, seconds: 1 }
    const irreducible = layoutOf(problem, { status: 'infeasible', conflict, conflictIrreducible: true }, 1)
    expect(irreducible).toMatchObject({ status: 'infeasible', conflict, ...none })
    expect('conflictIrreducible' in irreducible).toBe(false)
    const cut = layoutOf(problem, { status: 'infeasible', conflict, conflictIrreducible: false }, 1)
    expect(cut.conflictIrreducible).toBe(false)
    const unknown = layoutOf(problem, { status: 'unknown' }, 1)
    expect(unknown).toMatchObject({ status: 'unknown', ...none })
    expect('conflict' in unknown).toBe(false)
    for (const l of [irreducible, cut, unknown]) {
      expect(readLayout(writeLayout(l), 'l.json')).toEqual({ ok: true, value: l, warnings: [] })
      // nothing was left out by choice, and no figure is missing
      expect(placementsOf(problem, l)).toEqual({ placements: [], findings: [], strange: [], warnings: [] })
    }
    expect(placementsOf(problem, { ...irreducible, leftOut: ['brain'], freeTiePoints: 1 }).warnings).toEqual([
      'leftOut is brain in the layout file, and nothing when worked out again',
      'freeTiePoints is 1 in the layout file, and 0 when worked out again',
    ])
    expect(placementsOf(problem, { ...irreducible, status: 'feasible' }).warnings).toHaveLength(2)
  })

  it('reads the same again, without warnings', () => {
    const l = layoutOf(problem, solved, 0.08)
    const r = readLayout(writeLayout(l), 'l.json')
    expect(r).toEqual({ ok: true, value: l, warnings: [] })
    const laid = placementsOf(problem, l)
    const sorted = [...placements].sort((a, b) => a.item - b.item)
    expect(laid).toEqual({ placements: sorted, findings: [], strange: [], warnings: [] })
  })
})

describe('a place far out', () => {
  /** The roundest arc over the longest edge that a file may have, and the widest overhangs: no body stands farther out. */
  const far = (bulge: number) => ({
    ...project,
    decks: [
      {
        id: 'main',
        z: 40,
        thickness: 3,
        outline: {
          polygon: [
            [-1e4, -1e4, bulge],
            [1e4, 1e4],
          ],
        },
      },
    ],
  })
  for (const bulge of [1000, -1000])
    it(`is read again as it was written, with a bulge of ${bulge}`, () => {
      const read = readProject(JSON.stringify(far(bulge)), 'p.json', new Map())
      if (!read.ok) throw new Error(read.problems.map(formatProblem).join('\n'))
      const on = toProblem(read.value, 'first', new Map())
      const box = bounds(prepare(on.decks[0]!.outline))
      const [low, high] = [-mm(1e4), mm(1e4)]
      const corners = [
        { x: um(box.x + low), y: um(box.y + low) },
        { x: um(box.x + box.w + high), y: um(box.y + box.h + high) },
      ]
      const stand = corners.map((at, item) => ({ item, deck: 0, at, turn: 0 as const }))
      const result = { status: 'feasible', objectives: [], placements: stand, figures: figures(on, stand) } as const
      const back = readLayout(writeLayout(layoutOf(on, result, 0)), 'l.json')
      expect(back.ok && placementsOf(on, back.value).placements).toEqual(stand)
    })

  it('is refused where no deck can be', () => {
    const text = JSON.stringify({
      format: 'deckwright-layout',
      version: 1,
      placements: [{ item: 'brain', deck: 'main', at: [15_000_000.001, -1e300] }],
    })
    const read = readLayout(text, 'l.json')
    expect(read.ok ? [] : read.problems.map(formatProblem)).toEqual([
      'l.json:1:93: placements[0].at[0]: found 15000000.001, expected a number of mm from -15000000 to 15000000',
      'l.json:1:106: placements[0].at[1]: found -1e+300, expected a number of mm from -15000000 to 15000000',
    ])
  })
})

const least = (entries: LayoutFile['placements'], more: object = {}): LayoutFile => {
  const text = JSON.stringify({ format: 'deckwright-layout', version: 1, placements: entries, ...more })
  const r = readLayout(text, 'l.json')
  if (!r.ok) throw new Error(r.problems.map(formatProblem).join('\n'))
  return r.value
}

describe('a layout from anyone', () => {
  it('needs placements and nothing else', () => {
    const l = least([{ item: 'brain', deck: 'main', at: [1.0004, 2] }])
    expect(placementsOf(problem, l)).toEqual({
      placements: [{ item: 0, deck: 0, at: { x: 1000, y: 2000 }, turn: 0 }],
      findings: [],
      strange: [],
      warnings: [
        'missing in the layout file, and worked out again: objective free-tie-points, objective optional-value, ' +
          'objective wire-length, leftOut, wires, freeTiePoints, freeArea, grid',
      ],
    })
  })

  it('may name what is not there: R10, each its own', () => {
    const l = least([
      { item: 'brian', deck: 'main', at: [0, 0] },
      { item: 'board', deck: 'main', at: [0, 0] },
      { item: 'brain', deck: 'roof', at: [0, 0] },
      { item: 'chip', deck: 'main', at: [0, 0], host: 'board#3' },
    ])
    const laid = placementsOf(problem, l)
    // a body without its host is a body, with all that is wrong with it
    expect(laid.placements).toEqual([{ item: 3, deck: 0, at: { x: 0, y: 0 }, turn: 0 }])
    expect(check(problem, laid.placements).map((f) => f.rule)).toContain('R6')
    expect(laid.warnings).toEqual([])
    expect(laid.findings.map((f) => [f.rule, f.items, f.by])).toEqual([
      ['R10', ['brian'], 0],
      ['R10', ['board'], 0],
      ['R10', ['brain', 'roof'], 0],
      ['R10', ['chip', 'board#3'], 0],
    ])
    expect(laid.findings[0]!.text).toContain('did you mean "brain"?')
  })

  it('may name a hundred thousand things that are not there: each is said, and only some are guessed at', () => {
    const from = process.cpuUsage()
    const laid = placementsOf(
      problem,
      least(Array.from({ length: 100_000 }, (_, i) => ({ item: `brian${i}`, deck: 'main', at: [0, 0] }))),
    )
    const { user, system } = process.cpuUsage(from)
    expect(laid.findings.length).toBe(100_000)
    expect(laid.findings[99_999]!.text).toContain('"brian99999"')
    expect(laid.findings.filter((f) => f.text.includes('expected')).length).toBe(100)
    expect((user + system) / 1000).toBeLessThan(4500)
  })

  it('may have wrong figures: each a warning, and nothing else changes', () => {
    const right = layoutOf(problem, solved, 0.08)
    const wrong: LayoutFile = {
      ...right,
      project: 'another',
      objectives: [{ name: 'wire-length', value: 99.202, bound: 1, proven: true }],
      leftOut: [],
      wires: [
        { id: 'drive', length: 49.5, cut: 69.6 },
        { id: 'ghost', length: 1, cut: 1 },
      ],
      freeTiePoints: 49,
      freeArea: 309.7,
      grid: 2,
    }
    const laid = placementsOf(problem, wrong)
    expect(laid.placements).toEqual(placementsOf(problem, right).placements)
    expect(laid.findings).toEqual([])
    expect(laid.warnings).toEqual([
      'the layout file is of project "another", this is "pond skimmer"',
      'objective wire-length is 99.202 in the layout file, and 99.2 when worked out again',
      'leftOut is nothing in the layout file, and board#2 when worked out again',
      'length of wire drive is 49.5 in the layout file, and 49.6 when worked out again',
      'the layout file gives a length for ghost, which is no wire of it',
      'freeTiePoints is 49 in the layout file, and 48 when worked out again',
      'freeArea is 309.7 in the layout file, and 309.68 when worked out again',
      'grid is 2 in the layout file, and 1 when worked out again',
      'missing in the layout file, and worked out again: objective free-tie-points, objective optional-value',
    ])
  })

  it('may leave out a turn, which is told where it is: contract §6 asks for placements, and shows each with its turn', () => {
    const text = JSON.stringify({
      format: 'deckwright-layout',
      version: 1,
      placements: [
        { item: 'brain', deck: 'main', at: [0, 0], turn: 0 },
        { item: 'chip', deck: 'main', at: [0, 0] },
      ],
    })
    const read = readLayout(text, 'l.json')
    expect(read.ok && read.warnings.map((w) => [w.path, w.found, w.expected])).toEqual([
      ['placements[1].turn', 'nothing', 'one of 0, 1, 2, 3 (quarter turns); 0 is taken'],
    ])
  })

  it('may name a host for what does not plug in: none is taken, and that is told', () => {
    const l = least([
      { item: 'board#1', deck: 'main', at: [40, 0], turn: 0 },
      { item: 'brain', deck: 'main', at: [0, 0], turn: 0, host: 'board#1' },
      { item: 'chip', deck: 'main', at: [41.27, 1], turn: 0, host: 'board#1' },
    ])
    const laid = placementsOf(problem, l)
    expect(laid.placements.map((p) => p.host)).toEqual([undefined, undefined, 1])
    expect(laid.warnings[0]).toBe(
      'placements[1].host is "board#1" in the layout file, and "brain" is no part that plugs in: expected no host, and none is taken',
    )
    expect(laid.findings).toEqual([])
  })

  it('keeps its placements where a figure makes no sense', () => {
    const l = least([{ item: 'brain', deck: 'main', at: [1, 2] }], { seconds: 'fast', wires: [{ id: 'a' }], grid: -1 })
    expect(Object.keys(l)).toEqual(['format', 'version', 'placements'])
  })

  it('hands on an item that stands twice, for the checker to say so, but not a thousand times', () => {
    const twice = Array.from({ length: 1000 }, () => ({ item: 'brain', deck: 'main', at: [0, 0] as [number, number] }))
    expect(placementsOf(problem, least(twice)).placements.map((p) => p.item)).toEqual([0, 0])
  })

  it('is of the first variant where it names none; one that is not there is bad input', () => {
    expect(layoutVariant(project, least([]))).toBe('first')
    expect(layoutVariant(project, least([], { variant: 'second' }))).toBe('second')
    const text = JSON.stringify({
      format: 'deckwright-layout',
      version: 1,
      variant: 'secnd',
      placements: [{ item: 'brain', deck: 'main', at: [0, 0], turn: 7 }],
    })
    const r = readLayout(text, 'l.json', project)
    expect(r.ok ? [] : r.problems.map(formatProblem)).toEqual([
      'l.json:1:53: variant: found "secnd", expected one of "first", "second" (did you mean "second"?), a variant of the project',
      'l.json:1:123: placements[0].turn: found 7, expected one of 0, 1, 2, 3 (quarter turns)',
    ])
  })
})

describe('bounds of what is least', () => {
  it('are rounded down, never up to more than was proven', () => {
    const bound = (b: number) =>
      layoutOf(problem, { ...solved, objectives: [{ name: 'wire-length', value: 9e4, bound: b, proven: false }] }, 0)
        .objectives![0]!.bound
    expect(bound(80000.999)).toBe(80)
    expect(bound(80000)).toBe(80)
    expect(bound(12345)).toBe(12.345)
    expect(bound(um(0))).toBe(0)
  })
})
