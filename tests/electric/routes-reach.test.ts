/** How far those that make a lead too short may move: wherever in that they stand, the rule itself finds the lead too short. */
import { describe, expect, it } from 'vitest'
import { endsOf, layoutOf, mm, type Placement, type Problem, type Turn, um, type Within } from '../../solver/index.ts'
import { routeOf } from '../../src/electric/routes.ts'
import { leastBetween } from '../../src/electric/routes-between.ts'
import { type Box, shortestWay } from '../../src/electric/routes-graph.ts'
import { obstaclesOf } from '../../src/electric/routes-obstacles.ts'
import { isTooLong, STILL } from '../../src/electric/routes-reach.ts'
import { routedRule, tooShort } from '../../src/electric/routes-rule.ts'
import { WIRING } from '../../src/electric/routes-settings.ts'
import fc from '../seeded.ts'
import { part, placed, problemOf, project } from './kit.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'

/** All that a lead can meet: two decks, a body that reaches through, stand-offs to pass between, an opening, zones, tracks, hosts, copies. */
const crowd = problemOf(
  project({
    settings: { grid: 1 },
    decks: [
      {
        id: 'main',
        z: 10,
        thickness: 3,
        outline: {
          polygon: [
            [0, 0],
            [100, 0],
            [100, 80],
            [60, 80],
            [50, 60],
            [40, 80],
            [0, 80],
          ],
        },
        openings: [{ id: 'gap', shape: { circle: [70, 30, 9] } }],
      },
      { id: 'upper', z: 40, thickness: 3, outline: { rect: [10, 10, 80, 60] } },
    ],
    chassis: {
      contact: [
        [0, 0],
        [100, 0],
        [100, 80],
      ],
      mass: 500,
      centre: [50, 40, 10],
      tracks: [{ id: 'track', box: [-10, 0, 12, 80], top: 30 }],
    },
    exits: [{ id: 'a', deck: 'main', at: [12, 30] }],
    passes: [
      { id: 'rear', decks: ['main', 'upper'], at: [20, 20] },
      { id: 'fore', decks: ['main', 'upper'], at: [80, 62] },
    ],
    zones: [
      { id: 'low', kind: 'keep-out', deck: 'main', shape: { rect: [30, 30, 4, 4] } },
      { id: 'post', kind: 'keep-out', deck: 'upper', shape: { rect: [40, 30, 10, 10] } },
    ],
    footprints: [
      part('brick', 22, 9),
      part('tower', 14, 12, { body: { width: 14, depth: 12, height: 50 } }),
      part('raised', 30, 24, {
        mount: {
          kind: 'screw',
          standoff: 5,
          holes: [3, 27].flatMap((x) => [3, 21].map((y) => ({ id: `${x}-${y}`, at: [x, y], diameter: 3, land: 6 }))),
        },
      }),
      part('board', 30, 20, {
        kind: 'breadboard',
        breadboard: { blocks: [{ at: [0, 0], columns: 11, rows: 7, strip: 'column' }] },
      }),
      part('chip', 4, 4, { mount: { kind: 'plug-in' }, plug: { pins: [{ id: '1', at: [0, 0] }] } }),
    ],
    items: [
      ...['brick', 'tower', 'raised'].map((id) => ({ id, footprint: id, count: 2, required: false })),
      { id: 'board', footprint: 'board', required: false },
      { id: 'chip', footprint: 'chip', required: false },
    ],
    wires: [
      { id: 'w0', from: { exit: 'a' }, to: { item: 'brick', terminal: 't' } },
      { id: 'w1', from: { item: 'brick#1', terminal: 't' }, to: { item: 'tower#2', terminal: 't' } },
      { id: 'w2', from: { item: 'chip', terminal: 't' }, to: { item: 'raised', terminal: 't' } },
      { id: 'w3', from: { item: 'board', terminal: 't' }, to: { item: 'tower#1', terminal: 't' } },
    ],
  }),
)
const wiring = {
  ...WIRING,
  moving: [{ id: 'track', box: { x: mm(-10), y: mm(0), w: mm(12), h: mm(80) }, top: mm(30) }],
}

const [BOARD, CHIP] = [6, 7]

interface Draw {
  readonly x: number
  readonly y: number
  readonly turn: number
  readonly deck: number
  readonly there: boolean
}

const draw: fc.Arbitrary<Draw> = fc.record({
  x: fc.integer({ min: 0, max: 80 }),
  y: fc.integer({ min: 0, max: 65 }),
  turn: fc.integer({ min: 0, max: 3 }),
  deck: fc.constantFrom(0, 0, 0, 1),
  there: fc.constantFrom(true, true, true, false),
})

function placementsOf(draws: readonly Draw[]): Placement[] {
  const out = draws.flatMap((d, item): Placement[] =>
    d.there ? [{ item, deck: d.deck, at: { x: mm(d.x), y: mm(d.y) }, turn: d.turn as Turn }] : [],
  )
  const board = out.find((p) => p.item === BOARD)
  if (board)
    out.push({ item: CHIP, deck: board.deck, at: { x: um(board.at.x + 2540), y: board.at.y }, turn: 0, host: BOARD })
  return out
}

/** Between what R7 would have and what it takes: too short, by more or less. */
function shortened(
  problem: Problem,
  placements: readonly Placement[],
  wire: number,
  part: number,
): Problem | undefined {
  const layout = layoutOf(problem, placements)
  const w = problem.wires[wire]!
  const found = routeOf(layout, obstaclesOf(layout, wiring), w, wire)
  if (!found) return undefined
  const limit = 'spots' in found ? found.straight + Math.floor((found.length - found.straight) * part) : 300_000
  if ('spots' in found && limit >= found.length) return undefined
  return { ...problem, wires: [{ ...w, maxLength: um(limit) }] }
}

/** A place inside: an end of the range, or between; what has no end is cut off beyond the deck. */
const placeIn = ([lo, hi]: readonly [number, number], at: number, t: number): number => {
  const [a, b] = [Math.max(lo, at - 150_000), Math.min(hi, at + 150_000)]
  return t < 0.3 ? a : t > 0.7 ? b : Math.round(a + ((b - a) * (t - 0.3)) / 0.4)
}

const wide = (w: Within) => w.x[1] - w.x[0] + w.y[1] - w.y[0]

describe('the reach of what makes a lead too short', () => {
  it('is never too far: wherever all stand in it, the lead is too short still', { timeout: 600_000 }, () => {
    const told = { found: 0, moved: 0, apart: 0, endless: 0, blocked: 0, decks: 0, hosted: 0 }
    const dice = fc.infiniteStream(fc.integer({ min: 0, max: 1000 }).map((k) => k / 1000))
    fc.assert(
      fc.property(
        fc.array(draw, { minLength: 7, maxLength: 7 }),
        fc.double({ min: 0, max: 0.99, noNaN: true }),
        dice,
        (draws, part, stream) => {
          const placements = placementsOf(draws)
          const problem = crowd.wires.map((_, wire) => shortened(crowd, placements, wire, part)).find((q) => q)
          if (!problem) return
          const rule = routedRule(wiring)
          const [f] = rule.find(problem, placements)
          if (!f) throw new Error('a lead shorter than its way is not told')
          expect(rule.find(problem, placements)).toEqual([f])
          told.found++
          if (f.text.startsWith('No way')) told.blocked++
          const { within } = f
          expect([...within!.keys()].sort((a, b) => a - b)).toEqual(
            f.placements.filter((i) => placements.some((p) => p.item === i)),
          )
          const ends = placements.filter((p) => within!.has(p.item))
          if (new Set(ends.map((p) => p.deck)).size > 1) told.decks++
          if (ends.some((p) => p.item === CHIP)) told.hosted++
          for (const p of ends) {
            const w = within!.get(p.item)!
            expect(w.x[0] <= p.at.x && p.at.x <= w.x[1] && w.y[0] <= p.at.y && p.at.y <= w.y[1]).toBe(true)
            if (wide(w) > 1e8) told.endless++
          }
          if (ends.some((p) => wide(within!.get(p.item)!) > 0)) told.moved++
          for (let k = 0; k < (LONG ? 12 : 4); k++) {
            // what is not named stands anywhere, or is away
            const away = k % 2 === 0
            const elsewhere = placements.flatMap((p): Placement[] => {
              const w = within!.get(p.item)
              const [tx, ty] = [stream.next().value as number, stream.next().value as number]
              if (!w) return away ? [] : [{ ...p, at: { x: mm(Math.round(tx * 80)), y: mm(Math.round(ty * 60)) } }]
              return [{ ...p, at: { x: um(placeIn(w.x, p.at.x, tx)), y: um(placeIn(w.y, p.at.y, ty)) } }]
            })
            const layout = layoutOf(problem, elsewhere)
            const again = tooShort(layout, obstaclesOf(layout, wiring), problem.wires[0]!, wiring)
            if (!again) throw new Error(`long enough: ${JSON.stringify({ elsewhere, within: [...within!] })}`)
            told.apart++
          }
        },
      ),
      { numRuns: LONG ? 4000 : 40 },
    )
    // or this shows nothing
    expect(told.found).toBeGreaterThan(LONG ? 1000 : 10)
    expect(told.moved).toBeGreaterThan(told.found / 2)
    expect(told.endless).toBeGreaterThan(5)
    expect(told.blocked).toBeGreaterThan(0)
    expect(told.decks).toBeGreaterThan(0)
    expect(told.hosted).toBeGreaterThan(0)
  })

  it('is as far as can be told by hand', () => {
    const p = problemOf(
      project({
        decks: [{ id: 'main', z: 10, thickness: 3, outline: { rect: [0, 0, 100, 60] } }],
        exits: [
          { id: 'left', deck: 'main', at: [10, 30] },
          { id: 'right', deck: 'main', at: [90, 30] },
        ],
        footprints: [part('wall', 10, 40)],
        items: [{ id: 'wall', footprint: 'wall', turns: [0] }],
        wires: [{ id: 'lead', from: { exit: 'left' }, to: { exit: 'right' }, maxLength: 90 }],
      }),
    )
    // straight 80, so 5 to each side are to spare: the wall bars the way until its end and 1 mm of room are within 5 of it
    const [f] = routedRule(WIRING).find(p, placed(p, { wall: [45, 10] }))
    const { x, y } = f!.within!.get(0)!
    // back to an upper end at 30 + 5 (34 and the room), front to a lower one at 30 − 5; a whole millimetre must be left over
    expect([y[0], y[1]]).toEqual([mm(-5), mm(25)])
    // 10 and the room on both sides: what moves by less than 12 mm in all leaves something in common
    expect(x[1] - x[0]).toBe(mm(11))
    // a wall over an exit bars nothing: from 12 it may come to 10, where it touches the exit, and no farther
    const [g] = routedRule(WIRING).find(p, placed(p, { wall: [12, 10] }))
    expect(g!.within!.get(0)!.x[0]).toBe(mm(10))
  })

  it('ends where a part would come to lie over what bars its lead', () => {
    const p = problemOf(
      project({
        decks: [{ id: 'main', z: 10, thickness: 3, outline: { rect: [0, 0, 100, 20] } }],
        exits: [{ id: 'out', deck: 'main', at: [5, 2] }],
        zones: [{ id: 'block', kind: 'keep-out', deck: 'main', shape: { rect: [40, 0, 6, 16] } }],
        footprints: [part('brick', 30, 17)],
        items: [{ id: 'brick', footprint: 'brick', turns: [0] }],
        wires: [{ id: 'lead', from: { exit: 'out' }, to: { item: 'brick', terminal: 't' }, maxLength: 90 }],
      }),
    )
    const layout = layoutOf(p, placed(p, { brick: [60, 0] }))
    const [from, to] = [p.wires[0]!.from, p.wires[0]!.to].map((end) => endsOf(layout, end)[0]!)
    const needs = obstaclesOf(layout, WIRING)
    const barred = (left: number) =>
      isTooLong(layout, { from: from!, to: to!, most: mm(79), needs }, new Map([[0, { ...STILL, left: mm(left) }]]))
    // round the block 15 up to 17, 17 down, and 51 along from 41, 19 to the left: 83. From 40 on the brick lies over all of it.
    expect(barred(19)).toBe(true)
    expect(barred(20)).toBe(false)
  })

  it('ends where what moves and what an end moves with might meet', () => {
    const p = problemOf(
      project({
        exits: [{ id: 'out', deck: 'main', at: [10, 30] }],
        footprints: [part('wall', 10, 40), part('small', 4, 4)],
        items: ['wall', 'small'].map((id) => ({ id, footprint: id, turns: [0] })),
        wires: [{ id: 'lead', from: { exit: 'out' }, to: { item: 'small', terminal: 't' } }],
      }),
    )
    // the terminal is at (62, 30), 7 mm off the wall; the way round is 40 mm longer than the straight one
    const layout = layoutOf(p, placed(p, { wall: [45, 10], small: [60, 30] }))
    const [from, to] = [p.wires[0]!.from, p.wires[0]!.to].map((end) => endsOf(layout, end)[0]!)
    const barred = (left: number, right: number) => {
      const rooms = [
        { ...STILL, right: mm(right) },
        { ...STILL, left: mm(left) },
      ]
      const pair = { from: from!, to: to!, most: mm(60), needs: obstaclesOf(layout, WIRING) }
      return isTooLong(layout, pair, new Map(rooms.entries()))
    }
    expect([barred(3, 4), barred(4, 3)]).toEqual([true, true])
    expect([barred(4, 4), barred(8, 0), barred(0, 8)]).toEqual([false, false, false])
  })
})

describe('the least way between two rectangles', () => {
  it('is that of the two nearest places in them', () => {
    const at = fc.integer({ min: 0, max: 12 })
    const size = fc.integer({ min: 1, max: 3 })
    const box = fc
      .tuple(fc.integer({ min: 3, max: 9 }), at, size, fc.integer({ min: 3, max: 9 }))
      .map(([x, y, w, h]): Box => ({ x0: x, y0: y, x1: x + w, y1: y + h }))
    const region = fc
      .tuple(fc.constantFrom(0, 1, 10, 12), at, fc.integer({ min: 0, max: 3 }), fc.integer({ min: 0, max: 3 }))
      .map(([x, y, w, h]): Box => ({ x0: x, y0: y, x1: x + w, y1: y + h }))
    const joints = [{ at: { x: 6, y: 6 }, decks: [0, 1] as const }]
    const clear = (r: Box, b: Box) => r.x1 <= b.x0 || b.x1 <= r.x0 || r.y1 <= b.y0 || b.y1 <= r.y0
    const spots = (r: Box, deck: number) =>
      Array.from({ length: r.x1 - r.x0 + 1 }, (_, i) =>
        Array.from({ length: r.y1 - r.y0 + 1 }, (_, j) => ({ deck, x: r.x0 + i, y: r.y0 + j })),
      ).flat()
    let [barred, round] = [0, 0]
    fc.assert(
      fc.property(fc.array(box, { maxLength: 6 }), region, region, fc.constantFrom(0, 1), (all, a, b, deck) => {
        const near = all.filter((o) => clear(a, o) && (deck === 1 || clear(b, o)))
        const boxes = [near, deck === 1 ? all.filter((o) => clear(b, o)) : []]
        const links = deck === 0 ? [] : joints.map((j) => ({ ...j.at, decks: j.decks }))
        let least = Number.POSITIVE_INFINITY
        for (const s of spots(a, 0))
          for (const t of spots(b, deck)) least = Math.min(least, shortestWay(boxes, s, t, links)?.length ?? least)
        const found = leastBetween(boxes, { deck: 0, box: a }, { deck, box: b }, deck === 0 ? [] : joints, 1000)
        expect(found).toBe(least)
        if (least === Number.POSITIVE_INFINITY) barred++
        else if (deck === 0 && least > Math.max(0, a.x0 - b.x1, b.x0 - a.x1) + Math.max(0, a.y0 - b.y1, b.y0 - a.y1))
          round++
        const cut = leastBetween(boxes, { deck: 0, box: a }, { deck, box: b }, deck === 0 ? [] : joints, least - 1)
        if (least > 0) expect(cut).toBe(Number.POSITIVE_INFINITY)
      }),
      { numRuns: LONG ? 3000 : 100 },
    )
    expect(barred).toBeGreaterThan(0)
    expect(round).toBeGreaterThan(0)
  })
})
