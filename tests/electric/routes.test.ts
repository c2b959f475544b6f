/** Routed lengths against R7's, and what counts as being in a lead's way. Hand-made cases: the lengths are added up beside them. */
import { describe, expect, it } from 'vitest'
import { check, mm, type Placement, type Turn } from '../../solver/index.ts'
import { routesOf } from '../../src/electric/routes.ts'
import { WIRING, wiringOf } from '../../src/electric/routes-settings.ts'
import fc from '../seeded.ts'
import { part, placed, problemOf, project, straightLengths } from './kit.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'

const wall = (more: object = {}, footprint: object = {}) =>
  problemOf(
    project({
      exits: [
        { id: 'left', deck: 'main', at: [10, 40] },
        { id: 'right', deck: 'main', at: [90, 40] },
      ],
      footprints: [part('wall', 20, 40, footprint)],
      items: [{ id: 'wall', footprint: 'wall' }],
      wires: [{ id: 'w', from: { exit: 'left' }, to: { exit: 'right' } }],
      ...more,
    }),
  )
const lengthOf = (problem: ReturnType<typeof wall>, where: Parameters<typeof placed>[1], wiring = WIRING) => {
  const { routes, blocked } = routesOf(problem, placed(problem, where), wiring)
  return blocked.length > 0 ? 'blocked' : routes[0]!.length / 1000
}

describe('routes', () => {
  it('go straight where nothing is in the way', () => {
    expect(lengthOf(wall(), { wall: [70, 40] }, { ...WIRING, clearance: mm(0) })).toBe(80)
    expect(lengthOf(wall(), { wall: [40, 0] }, { ...WIRING, clearance: mm(0) })).toBe(80)
    expect(lengthOf(wall(), { wall: [40, 0] })).toBe(82)
  })

  it('go round a body with clearance', () => {
    // body 40..60 × 10..50; over its back side at 9 would be 31 down, over its front at 51 is 11 up: 80 + 2 · 11
    expect(lengthOf(wall(), { wall: [40, 10] })).toBe(102)
    expect(lengthOf(wall(), { wall: [40, 10] }, { ...WIRING, clearance: mm(3) })).toBe(106)
  })

  it('have no way where a body leaves less than the clearance at the edge', () => {
    const tall = { body: { width: 20, depth: 79.5, height: 10 } }
    expect(lengthOf(wall({}, tall), { wall: [40, 0] })).toBe('blocked')
    expect(lengthOf(wall({}, tall), { wall: [40, 0] }, { ...WIRING, clearance: mm(0.5) })).toBe(80 + 2 * 40)
  })

  it('pass under a body on high stand-offs, between them, and not under a low one', () => {
    const on = (standoff: number, holes: number[][]) => ({
      mount: {
        kind: 'screw',
        standoff,
        holes: holes.map((h, i) => ({ id: `h${i}`, at: h, diameter: 3.2, land: 6 })),
      },
    })
    const corners = [
      [4, 4],
      [16, 36],
    ]
    expect(lengthOf(wall({}, on(5, corners)), { wall: [40, 10] })).toBe(80)
    expect(lengthOf(wall({}, on(3, corners)), { wall: [40, 10] })).toBe(102)
    // a stand-off on the line: its washer's 3 mm and 1 mm clear, twice
    expect(lengthOf(wall({}, on(5, [[10, 30]])), { wall: [40, 10] })).toBe(80 + 2 * 4)
  })

  it('keep out of keep-out zones at deck height, and of openings; not of what is only high up', () => {
    const zone = (z?: number[]) => ({
      zones: [{ id: 'track', kind: 'keep-out', deck: 'main', shape: { rect: [40, 30, 10, 40] }, ...(z ? { z } : {}) }],
    })
    expect(lengthOf(wall(zone()), { wall: [0, 0] })).toBe(80 + 2 * 11)
    expect(lengthOf(wall(zone([20, 40])), { wall: [0, 0] })).toBe(80)
    const open = {
      decks: [
        {
          id: 'main',
          z: 10,
          thickness: 3,
          outline: { rect: [0, 0, 100, 80] },
          openings: [{ id: 'hole', shape: { circle: [50, 40, 10] } }],
        },
      ],
    }
    // round a disc of radius 10, at most half a per cent short of the square that touches it
    const around = lengthOf(wall(open), { wall: [0, 0] }) as number
    expect(around).toBeGreaterThan(80 + 2 * 9.9)
    expect(around).toBeLessThanOrEqual(80 + 2 * 10.001)
  })

  it('stay on a deck that is not a rectangle', () => {
    const u = {
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
              [60, 20],
              [40, 20],
              [40, 80],
              [0, 80],
            ],
          },
        },
      ],
    }
    expect(lengthOf(wall(u), { wall: [0, 0] })).toBe(80 + 2 * 20)
  })

  it('cross the part they end on, and the breadboard under it', () => {
    const p = problemOf(
      project({
        exits: [{ id: 'out', deck: 'main', at: [50, 70] }],
        footprints: [part('board', 40, 30)],
        items: [{ id: 'board', footprint: 'board' }],
        wires: [{ id: 'w', from: { exit: 'out' }, to: { item: 'board', terminal: 't' } }],
      }),
    )
    // the terminal is in the middle of the back side, the exit before the front one
    expect(routesOf(p, placed(p, { board: [30, 10] }), WIRING).routes[0]!.length).toBe(mm(60))
  })

  it('go up through passes, round what stands on either deck', () => {
    const decks = [0, 40].map((z, i) => ({ id: `d${i}`, z: 10 + z, thickness: 3, outline: { rect: [0, 0, 100, 80] } }))
    const p = problemOf(
      project({
        decks,
        exits: [
          { id: 'low', deck: 'd0', at: [10, 40] },
          { id: 'high', deck: 'd1', at: [90, 40] },
        ],
        passes: [{ id: 'up', decks: ['d0', 'd1'], at: [50, 40] }],
        footprints: [part('wall', 10, 40)],
        items: [{ id: 'wall', footprint: 'wall', count: 2 }],
        wires: [{ id: 'w', from: { exit: 'low' }, to: { exit: 'high' } }],
      }),
    )
    const at = (a: readonly [number, number, number?, number?], b: readonly [number, number, number?, number?]) =>
      routesOf(p, placed(p, { 'wall#1': a, 'wall#2': b }), WIRING)
    expect(at([0, 0], [0, 0, 0, 1]).routes[0]!.length).toBe(mm(80 + 40))
    expect(at([20, 30], [70, 10, 0, 1]).routes[0]!.length).toBe(mm(80 + 40 + 2 * 11 + 2 * 11))
    // a body over the pass shuts it
    const shut = at([45, 20], [70, 10, 0, 1])
    expect(shut.routes).toEqual([])
    expect(shut.blocked[0]!.walls.map((o) => o.name)).toContain('wall#1')
  })

  it('are never shorter than R7, whatever stands where, and equal with nothing in the way', () => {
    const sizes = [
      [12, 8],
      [20, 30],
      [9, 9],
      [33, 6],
    ] as const
    const p = problemOf(
      project({
        exits: [
          { id: 'a', deck: 'main', at: [3, 3] },
          { id: 'b', deck: 'main', at: [97, 60] },
        ],
        footprints: sizes.map(([w, d], i) => part(`p${i}`, w, d)),
        items: sizes.map((_, i) => ({ id: `p${i}`, footprint: `p${i}`, count: 2, required: false })),
        wires: [
          { id: 'ab', from: { exit: 'a' }, to: { exit: 'b' } },
          ...sizes.map((_, i) => ({ id: `w${i}`, from: { exit: 'a' }, to: { item: `p${i}`, terminal: 't' } })),
          { id: 'x', from: { item: 'p1#1', terminal: 't' }, to: { item: 'p3#2', terminal: 't' } },
        ],
      }),
    )
    const spot = fc.tuple(
      fc.integer({ min: 0, max: 70 }),
      fc.integer({ min: 0, max: 50 }),
      fc.integer({ min: 0, max: 3 }),
    )
    let longer = 0
    fc.assert(
      fc.property(fc.array(spot, { minLength: 8, maxLength: 8 }), (spots) => {
        const placements: Placement[] = []
        spots.forEach(([x, y, turn], item) => {
          const next = { item, deck: 0, at: { x: mm(x), y: mm(y) }, turn: turn as Turn }
          // only what stands apart; the rest of the rules say nothing here
          if (check(p, [...placements, next]).every((f) => f.rule !== 'R1' && f.rule !== 'R2')) placements.push(next)
        })
        const straight = straightLengths(p, placements)
        const { routes, blocked } = routesOf(p, placements, WIRING)
        expect(routes.length + blocked.length).toBe(straight.size)
        for (const r of routes) {
          const least = straight.get(p.wires[r.wire]!.id)!
          expect(r.straight).toBe(least)
          expect(r.length).toBeGreaterThanOrEqual(least)
          // of two copies the nearer may be the one that is shut off
          const own = Math.abs(r.from.at.x - r.to.at.x) + Math.abs(r.from.at.y - r.to.at.y)
          if (r.round.length === 0) expect(r.length).toBe(own)
          expect(r.length).toBeGreaterThanOrEqual(own)
          if (r.length > least) longer++
        }
      }),
      { numRuns: LONG ? 2000 : 60 },
    )
    expect(longer).toBeGreaterThan(10)
  })

  it('are as long when the whole deck is turned by half', () => {
    const make = (a: number[], b: number[]) =>
      problemOf(
        project({
          exits: [
            { id: 'a', deck: 'main', at: a },
            { id: 'b', deck: 'main', at: b },
          ],
          footprints: [part('p', 14, 30), part('q', 25, 9)],
          items: ['p', 'q'].map((id) => ({ id, footprint: id, count: 2 })),
          zones: [{ id: 'z', kind: 'keep-out', deck: 'main', shape: { circle: [50, 40, 9] } }],
          wires: [
            { id: 'ab', from: { exit: 'a' }, to: { exit: 'b' } },
            { id: 'p', from: { exit: 'a' }, to: { item: 'p#1', terminal: 't' } },
            { id: 'q', from: { item: 'p#2', terminal: 't' }, to: { item: 'q#2', terminal: 't' } },
          ],
        }),
      )
    const problem = make([4, 8], [88, 70])
    const turned = make([96, 72], [12, 10])
    const spot = fc.tuple(
      fc.integer({ min: 0, max: 70 }),
      fc.integer({ min: 0, max: 50 }),
      fc.integer({ min: 0, max: 3 }),
    )
    fc.assert(
      fc.property(fc.array(spot, { minLength: 4, maxLength: 4 }), (spots) => {
        const sizes = [
          [14, 30],
          [14, 30],
          [25, 9],
          [25, 9],
        ] as const
        const at = (half: boolean) =>
          spots.map(([x, y, turn], item): Placement => {
            const [w, d] = turn % 2 === 0 ? sizes[item]! : ([sizes[item]![1], sizes[item]![0]] as const)
            const [px, py] = half ? [100 - x - w, 80 - y - d] : [x, y]
            return { item, deck: 0, at: { x: mm(px), y: mm(py) }, turn: ((turn + (half ? 2 : 0)) % 4) as Turn }
          })
        const lengths = (q: typeof problem, half: boolean) => {
          const { routes, blocked } = routesOf(q, at(half), WIRING)
          return [...routes.map((r) => [r.wire, r.length]), ...blocked.map((r) => [r.wire, -1])]
        }
        expect(lengths(turned, true)).toEqual(lengths(problem, false))
      }),
      { numRuns: LONG ? 2000 : 60 },
    )
  })

  it('read their settings from the project', () => {
    const p = project({ items: [], settings: { wiring: { clearance: 2.5, solder: 4 } } })
    expect(wiringOf(p, 'base')).toEqual({
      ...WIRING,
      clearance: mm(2.5),
      allowance: { ...WIRING.allowance, solder: mm(4) },
    })
  })
})
