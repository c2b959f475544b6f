/** Lengths for whoever cuts: in the wire list, they go round what is in the way. Hand-made cases; the sums stand beside them. */
import { describe, expect, it } from 'vitest'
import { mm, type Placement } from '../../solver/index.ts'
import { laidLeads } from '../../src/electric/cuts.ts'
import { inspectRoutes } from '../../src/electric/routes-findings.ts'
import { extraOf, WIRING } from '../../src/electric/routes-settings.ts'
import { orderOfWork } from '../../src/export/assembly-order.ts'
import { partsOf } from '../../src/export/gltf-parts.ts'
import { planPicture } from '../../src/export/picture.ts'
import { wireCutList } from '../../src/export/tables.ts'
import type { LaidLead } from '../../src/model/index.ts'
import fc from '../seeded.ts'
import { part, placed, problemOf, project, straightLengths } from './kit.ts'

/** Two exits 80 mm apart, and a wall of a depth that may stand between them. */
const walled = (depth: number, more: object = {}) =>
  problemOf(
    project({
      items: [{ id: 'wall', footprint: 'wall' }],
      footprints: [part('wall', 10, depth)],
      exits: [
        { id: 'a', deck: 'main', at: [10, 40] },
        { id: 'b', deck: 'main', at: [90, 40] },
      ],
      wires: [{ id: 'ab', from: { exit: 'a' }, to: { exit: 'b' }, loop: 3, ...more }],
    }),
  )

/** What is said of a lead beside that it comes through the deck at both ends. */
const beside = (note: string): string =>
  note
    .split('; ')
    .filter((said) => said !== 'the lead is there already')
    .join('; ')

const open = walled(60)
const between = placed(open, { wall: [46, 0] })

describe('lengths to cut', () => {
  // 40 to 61 mm from the back, past the wall with 1 mm of clearance: 80 + 2 · 21, and the loop
  const round = { length: mm(122), cut: mm(125) }

  it('go round what is in the way, with all that is asked for beyond', () => {
    expect(laidLeads(open, between, WIRING)).toMatchObject([{ wire: 0, way: round, by: [] }])
    expect(laidLeads(open, between, { ...WIRING, service: mm(10) })[0]!.way).toMatchObject({ cut: mm(135) })
    expect(laidLeads(open, placed(open, { wall: [0, 0] }), WIRING)[0]!.way).toMatchObject({ cut: mm(83) })
  })

  it('say where there is less of the lead, and what shuts it in', () => {
    const short = walled(60, { maxLength: 124 })
    expect(laidLeads(short, between, WIRING)).toMatchObject([{ way: round, there: mm(124) }])
    const shut = walled(79.5)
    expect(laidLeads(shut, placed(shut, { wall: [46, 0] }), WIRING)).toEqual([{ wire: 0, by: ['wall', 'deck main'] }])
  })

  it('are those of the wire list, and why stands beside them', () => {
    const row = (p: typeof open, places: readonly Placement[] = between) =>
      wireCutList(p, places, [], laidLeads(p, places, WIRING))[0]!
    expect(row(open)).toMatchObject({ length: 122, cut: 125, longest: 125, longestIn: 'base' })
    expect(beside(row(open).note)).toBe('42 mm of it go round what is in its way')
    expect(beside(row(walled(60, { maxLength: 124 })).note)).toBe(
      'does not reach: needs 125 mm, and there are 124 mm of it; 42 mm of it go round what is in its way',
    )
    expect(row(walled(79.5))).toMatchObject({ here: true, length: null, cut: null, longest: null, longestIn: '' })
    expect(beside(row(walled(79.5)).note)).toBe(
      'do not cut it yet, make room or measure with a thread: no way on the deck is open, wall, deck main in its way',
    )
    expect(row(open, placed(open, { wall: [0, 0] }))).toMatchObject({ cut: 83 })
    // without being told how leads lie, it knows of no way but the straight one
    expect(wireCutList(open, between)[0]).toMatchObject({ length: 80, cut: 83 })
    expect(beside(wireCutList(open, between)[0]!.note)).toBe('')
  })

  it('are no answer where no way is open: a finding says what the figure is of', () => {
    const text = (maxLength: number, between: readonly [number, number]) => {
      const shut = walled(79.5, { maxLength })
      return inspectRoutes(shut, placed(shut, { wall: between }), WIRING).findings.find(
        (f) => f.kind === 'lead-too-short',
      )?.text
    }
    // round the wall's end, with the edge of the deck left out of it: 80 + 2 · 40.5, and the loop
    expect(text(100, [46, 0])).toBe(
      'No way on the deck is open for the lead ab; round wall alone it would need 164.0 mm, and there are 100.0 mm of it.',
    )
    expect(text(70, [46, 0])).toBe(
      'No way on the deck is open for the lead ab; even straight it would need 83.0 mm, and there are 70.0 mm of it.',
    )
  })

  it('are those of the order of work: the shortest first by what is laid, and what has no way is not to be cut yet', () => {
    // straight `ab` is the shorter of the two, 83 for 93 mm; laid it is 125
    const p = problemOf(
      project({
        items: [{ id: 'wall', footprint: 'wall' }],
        footprints: [part('wall', 10, 60)],
        exits: [
          { id: 'a', deck: 'main', at: [10, 40] },
          { id: 'b', deck: 'main', at: [90, 40] },
          { id: 'c', deck: 'main', at: [5, 70] },
          { id: 'd', deck: 'main', at: [95, 70] },
        ],
        wires: [
          { id: 'ab', from: { exit: 'a' }, to: { exit: 'b' }, loop: 3 },
          { id: 'cd', from: { exit: 'c' }, to: { exit: 'd' }, loop: 3 },
        ],
      }),
    )
    const places = placed(p, { wall: [46, 0] })
    const wires = (of: typeof p, laid?: LaidLead[]) =>
      orderOfWork(of, placed(of, { wall: [46, 0] }), false, laid).find((s) => s.includes('wires, the shortest first'))
    expect(wires(p, laidLeads(p, places, WIRING))).toContain('cd (93 mm), ab (125 mm).')
    // without being told how leads lie, it knows of no way but the straight one, as the table does
    expect(wires(p)).toContain('ab (83 mm), cd (93 mm).')
    const shut = walled(79.5)
    const not = 'ab (do not cut it yet, see the table of wires).'
    expect(wires(shut, laidLeads(shut, between, WIRING))).toContain(not)
    const short = walled(60, { maxLength: 124 })
    expect(wires(short, laidLeads(short, between, WIRING))).toContain(not)
  })

  it('serve every variant, and name the one that has no way', () => {
    const list = (depth: number) => {
      const p = walled(depth)
      const other = { id: 'walled', problem: p, placements: between, laid: laidLeads(p, between, WIRING) }
      const free = placed(open, { wall: [0, 0] })
      return wireCutList(open, free, [other], laidLeads(open, free, WIRING))[0]!
    }
    expect(list(60)).toMatchObject({ cut: 83, longest: 125, longestIn: 'walled' })
    expect(list(79.5)).toMatchObject({ cut: 83, longest: 83, longestIn: 'base' })
    expect(beside(list(79.5).note)).toMatch(
      /^variant walled: do not cut it yet, .*: no way on the deck is open, wall, deck main in its way$/,
    )
  })

  it('name the copy that the lead is laid to, which need not be the nearest straight away', () => {
    const p = problemOf(
      project({
        items: [
          { id: 'wall', footprint: 'wall' },
          { id: 'pin', footprint: 'pin', count: 2 },
        ],
        footprints: [part('wall', 10, 60), part('pin', 2, 2, { terminals: [{ id: 't', at: [1, 1] }] })],
        exits: [{ id: 'a', deck: 'main', at: [40, 1] }],
        wires: [{ id: 'w', from: { exit: 'a' }, to: { item: 'pin', terminal: 't' } }],
      }),
    )
    // behind the wall 20 mm straight, but 138 round it; on this side 30
    const places = placed(p, { wall: [46, 0], 'pin#1': [9, 0], 'pin#2': [59, 0] })
    expect(wireCutList(p, places)[0]).toMatchObject({ to: 'pin#2, t', length: 20 })
    expect(wireCutList(p, places, [], laidLeads(p, places, WIRING))[0]).toMatchObject({ to: 'pin#1, t', length: 30 })
  })

  it('are never below the rules’ lengths, and those that an inspection says', () => {
    const x = fc.integer({ min: 1, max: 99 })
    const y = fc.integer({ min: 1, max: 79 })
    const wall = fc.tuple(fc.integer({ min: 0, max: 12 }), fc.integer({ min: 0, max: 50 }))
    const four = <T>(of: fc.Arbitrary<T>) => fc.array(of, { minLength: 4, maxLength: 4 })
    fc.assert(
      fc.property(four(fc.tuple(x, y)), four(wall), (exits, walls) => {
        const p = problemOf(
          project({
            items: [{ id: 'wall', footprint: 'wall', count: 4 }],
            footprints: [part('wall', 12, 30)],
            exits: exits.map((at, i) => ({ id: `e${i}`, deck: 'main', at })),
            wires: [
              { id: 'one', from: { exit: 'e0' }, to: { exit: 'e1' }, loop: 2 },
              { id: 'two', from: { exit: 'e2' }, to: { exit: 'e3' }, maxLength: 90 },
            ],
          }),
        )
        const places = placed(
          p,
          Object.fromEntries(walls.map(([dx, dy], i) => [`wall#${i + 1}`, [25 * i + dx, dy] as const])),
        )
        const straight = straightLengths(p, places)
        const seen = inspectRoutes(p, places, WIRING)
        const laid = laidLeads(p, places, WIRING)
        expect(laid).toHaveLength(2)
        for (const { wire: index, way, there } of laid) {
          const wire = p.wires[index]!
          const route = seen.routes.find((r) => r.wire === index)
          expect(way?.cut).toBe(route && route.length + extraOf(WIRING, wire))
          if (way) expect(way.cut).toBeGreaterThanOrEqual(straight.get(wire.id)! + wire.loop)
          expect(there).toBe(
            way && wire.maxLength !== undefined && way.cut > wire.maxLength ? wire.maxLength : undefined,
          )
        }
      }),
      { numRuns: 60 },
    )
  })
})

describe('drawn', () => {
  const laid = laidLeads(open, between, WIRING)
  // up beside the wall and its clearance of 1 mm, across, and down again: 21 + 80 + 21 mm
  const corners = [
    [10, 40],
    [10, 61],
    [90, 61],
    [90, 40],
  ]

  it('runs on the plan as it is laid, to the length that is told', () => {
    const lines = (options: { laid?: typeof laid }) =>
      planPicture(open, between, options)
        .groups.filter((g) => g.title === 'wire 1: ab')
        .flatMap((g) => g.marks)
    const [mark] = lines({ laid })
    if (mark?.kind !== 'lines') throw new Error('no line')
    const [line] = mark.lines
    const from = line![0]!
    expect(line!.map(([x, y]) => [x - from[0], y - from[1]])).toEqual(corners.map(([x, y]) => [x! - 10, y! - 40]))
    const [straight] = lines({})
    expect(straight?.kind === 'lines' && straight.lines[0]!.at(-1)![1]).toBe(from[1])
  })

  it('is dashed where no way is open, and the key says so: nobody lays it like this', () => {
    const shut = walled(79.5)
    const at = placed(shut, { wall: [46, 0] })
    const { groups } = planPicture(shut, at, { laid: laidLeads(shut, at, WIRING) })
    const [mark] = groups.find((g) => g.title === 'wire 1: ab, no way is open on the deck')!.marks
    expect(mark?.kind === 'lines' && mark.lines.length).toBeGreaterThan(20)
    const key = 'key: wire without a way on the deck'
    expect(groups.some((g) => g.title === key)).toBe(true)
    expect(planPicture(open, between, { laid }).groups.some((g) => g.title === key)).toBe(false)
  })

  it('runs so in the round, over its deck', () => {
    const wire = (more: readonly LaidLead[]) => partsOf(open, between, [], more).find((p) => p.role === 'wire')!
    const highest = (part: ReturnType<typeof wire>) => Math.max(...part.mesh.points.map((p) => p[1] + part.at[1]))
    // half its own width further than its middle
    expect(highest(wire(laid)) - highest(wire([]))).toBeCloseTo(21, 6)
  })

  it('leaves out of a deck that it only passes at one place', () => {
    // passes one over the other through three decks, and an end just there
    const three = problemOf(
      project({
        decks: ['low', 'middle', 'high'].map((id, k) => ({
          id,
          z: 20 + 40 * k,
          thickness: 2,
          outline: { rect: [0, 0, 100, 80] },
        })),
        exits: [
          { id: 'a', deck: 'low', at: [10, 40] },
          { id: 'b', deck: 'high', at: [50, 40] },
        ],
        passes: [
          { id: 'p', decks: ['low', 'middle'], at: [50, 40] },
          { id: 'q', decks: ['middle', 'high'], at: [50, 40] },
        ],
        items: [],
        footprints: [],
        wires: [{ id: 'ab', from: { exit: 'a' }, to: { exit: 'b' }, loop: 3 }],
      }),
    )
    const up = laidLeads(three, [], WIRING)
    expect(up[0]!.way!.strokes).toEqual([{ deck: 0, points: [10_000, 50_000].map((x) => ({ x, y: 40_000 })) }])
    const drawn = planPicture(three, [], { laid: up }).groups.filter((g) => g.title === 'wire 1: ab')
    expect(drawn).toHaveLength(1)
  })
})
