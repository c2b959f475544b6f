/** The least and the most of the shortest ways to all places on a board, against asking for each place. Hand sums stand beside. */
import { describe, expect, it } from 'vitest'
import { layoutOf, mm, type Placement, type Problem, tiePointsOn, um } from '../../solver/index.ts'
import { laidLeads } from '../../src/electric/cuts.ts'
import { leadLengths } from '../../src/electric/lengths.ts'
import { wayAround } from '../../src/electric/routes.ts'
import { obstaclesOf } from '../../src/electric/routes-obstacles.ts'
import { waysOver } from '../../src/electric/routes-over.ts'
import { WIRING } from '../../src/electric/routes-settings.ts'
import fc from '../seeded.ts'
import { part, placed, problemOf, project } from './kit.ts'

const board = (width: number, depth: number, columns: number, rows: number) =>
  part('board', width, depth, {
    kind: 'breadboard',
    breadboard: { blocks: [{ at: [1, 1], columns, rows, strip: 'column' }] },
  })

/** From the exit `e` to all places on the item `board`: what is told, and what comes out when each is asked for, `step` apart. */
function both(problem: Problem, placements: readonly Placement[], step = mm(1), wiring = WIRING) {
  const layout = layoutOf(problem, placements)
  const obstacles = obstaclesOf(layout, wiring)
  const exit = problem.exits[0]!
  const from = { deck: exit.deck, at: exit.at, exit: 0 }
  const body = layout.bodies.find((b) => b.item.id === 'board')!
  const { x, y, w, h } = body.rect
  const box = { x0: x, y0: y, x1: x + w, y1: y + h }
  const told = waysOver(layout, obstacles, from, { deck: body.deck, item: body.index, box })
  const asked: number[] = []
  let shut = false
  for (let px = x; px <= x + w; px = um(px + step))
    for (let py = y; py <= y + h; py = um(py + step)) {
      const to = { deck: body.deck, at: { x: px, y: py }, item: body.index }
      const { way } = wayAround(layout, obstacles, from, to)
      shut ||= way === undefined
      asked.push((way ?? wayAround(layout, [], from, to).way)?.length ?? Number.POSITIVE_INFINITY)
    }
  // with what lies nearer to a place than its clearance, the most may be too much by that along x and y
  const near = obstacles.some(
    (o) =>
      o.item !== body.index &&
      o.deck === body.deck &&
      o.wide.some((b) => b.x0 < box.x1 && b.x1 > box.x0 && b.y0 < box.y1 && b.y1 > box.y0),
  )
  return { told, least: Math.min(...asked), most: Math.max(...asked), near, shut }
}

describe('the ways to all places on a board', () => {
  it('are longest in the middle of an edge where two ways round a wall are as long', () => {
    const p = problemOf(
      project({
        decks: [{ id: 'main', z: 10, thickness: 3, outline: { rect: [0, 0, 160, 100] } }],
        items: [
          { id: 'wall', footprint: 'wall' },
          { id: 'board', footprint: 'board' },
        ],
        footprints: [part('wall', 100, 8), board(60, 30, 20, 5)],
        exits: [{ id: 'e', deck: 'main', at: [80, 4] }],
      }),
    )
    // Past the wall with 1 mm of clearance at x = 29 or 131, 51 mm aside each. To the corners in front: 51 + 18 along y + 21 back;
    // to the middle of the edge behind: 51 + 48 + 51, which no corner needs (51 + 48 + 21 = 120).
    const { told, least, most } = both(p, placed(p, { wall: [30, 10], board: [50, 22] }))
    expect(told).toEqual({ least: mm(90), most: mm(150) })
    expect([least, most]).toEqual([mm(90), mm(150)])
  })

  it('are longest between two passes that are as far', () => {
    const p = problemOf(
      project({
        decks: [
          { id: 'main', z: 10, thickness: 3, outline: { rect: [0, 0, 100, 80] } },
          { id: 'top', z: 60, thickness: 3, outline: { rect: [0, 0, 100, 80] } },
        ],
        passes: [
          { id: 'a', decks: ['main', 'top'], at: [10, 40] },
          { id: 'b', decks: ['main', 'top'], at: [90, 40] },
        ],
        items: [{ id: 'board', footprint: 'board', decks: ['top'] }],
        footprints: [board(40, 20, 10, 5)],
        exits: [{ id: 'e', deck: 'main', at: [50, 40] }],
      }),
    )
    // 40 to a pass, 20 on to a side of the board at y = 40, its farthest corner 10 more; its middle in front 40 + 40 + 10
    const { told, most } = both(p, placed(p, { board: [30, 30, 0, 1] }))
    expect(told).toEqual({ least: mm(60), most: mm(90) })
    expect(most).toBe(mm(90))
  })

  it('are straight where nothing stands in them, and where no way is open', () => {
    const p = (depth: number) =>
      problemOf(
        project({
          items: [
            { id: 'wall', footprint: 'wall' },
            { id: 'board', footprint: 'board' },
          ],
          footprints: [part('wall', 8, depth), board(20, 20, 5, 5)],
          exits: [{ id: 'e', deck: 'main', at: [10, 40] }],
        }),
      )
    const at = (wall: readonly [number, number], depth: number) =>
      both(p(depth), placed(p(depth), { wall, board: [60, 30] }))
    expect(at([0, 60], 10).told).toEqual({ least: mm(50), most: mm(80) })
    const shut = at([30, 0], 80)
    expect(shut).toMatchObject({ shut: true, told: { least: mm(50), most: mm(80) } })
  })

  it('are those that come out when each place is asked for', () => {
    const x = fc.integer({ min: 0, max: 90 })
    const y = fc.integer({ min: 0, max: 70 })
    const spot = fc.tuple(x, y)
    const list = <T>(of: fc.Arbitrary<T>, n: number) => fc.array(of, { minLength: n, maxLength: n })
    let [plain, close] = [0, 0]
    fc.assert(
      fc.property(list(spot, 4), list(spot, 2), spot, spot, fc.boolean(), (walls, bars, exit, at, hole) => {
        // walls may lie over one another, but none over the board, which is on the plate
        const clear = (w: number, d: number) => (c: readonly [number, number]) =>
          c[0] >= at[0] + 11 || c[0] + w <= at[0] || c[1] >= at[1] + 8 || c[1] + d <= at[1]
        fc.pre(at[1] <= 62 && walls.every(clear(6, 30)) && bars.every(clear(30, 6)))
        const p = problemOf(
          project({
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
                    [0, 70],
                  ],
                },
                openings: hole ? [{ id: 'o', shape: { circle: [50, 40, 8] }, mayCover: true }] : [],
              },
            ],
            items: [
              { id: 'wall', footprint: 'wall', count: 4 },
              { id: 'bar', footprint: 'bar', count: 2 },
              { id: 'board', footprint: 'board' },
            ],
            footprints: [part('wall', 6, 30), part('bar', 30, 6), board(11, 8, 4, 3)],
            exits: [{ id: 'e', deck: 'main', at: exit }],
          }),
        )
        const places = placed(p, {
          ...Object.fromEntries(walls.map((w, i) => [`wall#${i + 1}`, w] as const)),
          ...Object.fromEntries(bars.map((b, i) => [`bar#${i + 1}`, b] as const)),
          board: at,
        })
        const { told, least, most, near, shut } = both(p, places)
        if (near) close++
        else plain++
        // no place is more than half a step along x and y from one that was asked for
        const over = mm(1) + (near ? 2 * WIRING.clearance : 0)
        expect(told!.most).toBeGreaterThanOrEqual(most)
        expect(told!.most).toBeLessThanOrEqual(most + over)
        if (shut) return
        expect(told!.least).toBeLessThanOrEqual(least)
        if (!near) expect(told!.least).toBeGreaterThanOrEqual(least - over)
      }),
      { numRuns: 120 },
    )
    // about a tenth of them is close, by chance less
    expect(Math.min(plain, close)).toBeGreaterThan(2)
  })
})

describe('what a lead is kept long enough for', () => {
  it('is any seat on another board', () => {
    const chip = {
      mount: { kind: 'plug-in' },
      terminals: [{ id: 't', at: [1, 1] }],
      plug: { pins: [{ id: '1', at: [1, 1] }] },
    }
    const p = project({
      decks: [{ id: 'main', z: 10, thickness: 3, outline: { rect: [0, 0, 160, 120] } }],
      items: [
        { id: 'board', footprint: 'board', count: 2 },
        { id: 'wall', footprint: 'wall' },
        { id: 'chip', footprint: 'chip' },
      ],
      footprints: [board(60, 30, 22, 11), part('wall', 100, 8), part('chip', 2, 2, chip)],
      exits: [{ id: 'e', deck: 'main', at: [80, 4] }],
      wires: [{ id: 'lead', from: { exit: 'e' }, to: { item: 'chip', terminal: 't' }, loop: 5 }],
    })
    const problem = problemOf(p)
    const bodies = { 'board#1': [50, 22], 'board#2': [2, 80], wall: [30, 10] } as const
    const on = (host: 'board#1' | 'board#2', at: readonly [number, number]) => {
      const index = problem.items.findIndex((i) => i.id === host)
      return placed(problem, { ...bodies, chip: at }).map((q) =>
        problem.items[q.item]!.id === 'chip' ? { ...q, host: index } : q,
      )
    }
    const [lead] = leadLengths(p, new Map(), [{ variant: 'base', placements: on('board#2', [2, 80]) }]).leads
    const [move] = lead!.later
    expect(move).toMatchObject({ to: 'board#1', least: mm(95), most: mm(155) })
    const there = on('board#1', [50, 22]).find((q) => problem.items[q.item]!.id === 'board#1')!
    const seats = tiePointsOn(problem.items[there.item]!.footprint, there)
    expect(seats).toHaveLength(242)
    const cuts = seats.map(({ at: { x, y } }) => {
      const places = on('board#1', [x / 1000 - 1, y / 1000 - 1])
      return laidLeads(problem, places, WIRING)[0]!.way!.cut
    })
    expect(Math.max(...cuts)).toBeLessThanOrEqual(move!.most)
    expect(lead!.keep).toBeGreaterThanOrEqual(Math.max(...cuts))
    // the farthest seat lies 3.6 mm in front of the edge behind, and 1.65 mm beside its middle
    expect(Math.max(...cuts)).toBeGreaterThan(mm(149))
    expect(Math.min(...cuts)).toBeGreaterThanOrEqual(move!.least)
  })
})
