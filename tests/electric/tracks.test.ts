/** Leads keep clear of moving tracks that come up to the plate; exits beside any track are told. */
import { describe, expect, it } from 'vitest'
import { mm } from '../../solver/index.ts'
import { inspectRoutes, wiringOf } from '../../src/electric/index.ts'
import { part, placed, problemOf, project } from './kit.ts'

const robot = (top: number, more: object = {}, exit: readonly [number, number] = [50, 70]) =>
  project({
    chassis: {
      contact: [
        [-10, 0],
        [110, 0],
        [110, 80],
        [-10, 80],
      ],
      mass: 500,
      centre: [50, 40, 10],
      // lies across the way between the two parts; the plate runs over it where it is low
      tracks: [{ id: 'left-track', box: [45, -10, 10, 50], top }],
    },
    settings: { wiring: { clearance: 0, ...more } },
    exits: [{ id: 'out', deck: 'main', at: exit }],
    footprints: [part('small', 10, 10)],
    items: [
      { id: 'a', footprint: 'small' },
      { id: 'b', footprint: 'small' },
    ],
    wires: [
      { id: 'ab', from: { item: 'a', terminal: 't' }, to: { item: 'b', terminal: 't' } },
      { id: 'motor', from: { exit: 'out' }, to: { item: 'b', terminal: 't' } },
    ],
  })

function seen(p: ReturnType<typeof robot>) {
  const problem = problemOf(p)
  return inspectRoutes(problem, placed(problem, { a: [10, 20], b: [80, 20] }), wiringOf(p, 'base'))
}

describe('a lead and a moving track', () => {
  it('goes over a track that is lower than the plate', () => {
    expect(seen(robot(8)).routes[0]!.length).toBe(mm(70))
  })

  it('goes round one that comes up to the plate, 10 mm from it or as the settings say', () => {
    // by hand: up from 20 to the track's end at 40 and its clearance, and down again
    expect(seen(robot(20)).routes[0]!.length).toBe(mm(70 + 2 * (40 + 10 - 20)))
    expect(seen(robot(20, { tracks: 4 })).routes[0]!.length).toBe(mm(70 + 2 * (40 + 4 - 20)))
  })

  it('is told where it comes through the plate beside a track, however low', () => {
    const near = seen(robot(8, {}, [60, 30])).findings
    expect(near.map((f) => [f.kind, f.items])).toEqual([['exit-by-track', ['motor', 'out']]])
    expect(near[0]!.text).toContain('5 mm from the moving track left-track')
    expect(seen(robot(8, {}, [65, 30])).findings).toEqual([])
    expect(seen(robot(8, { tracks: 5 }, [60, 30])).findings).toEqual([])
  })
})
