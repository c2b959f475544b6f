/** Turning the whole robot by quarter turns, deck, openings, exits, chassis and all, changes nothing but directions and places. */
import { describe, expect, it } from 'vitest'
import { check } from '../../solver/index.ts'
import type { Report } from '../../src/inspect/index.ts'
import { type Any, places, reportOf, robotFile, robotOf, turned } from './kit.ts'

/** What is left when places and directions are taken out, figures to 1e-6. `quarters`: how far it was turned. */
function plain(report: Report, quarters: number): unknown {
  const sides = ['forward', 'left', 'back', 'right']
  const was = (side: string) => sides[(sides.indexOf(side) + quarters) % 4]!
  const ends = ['front', 'left', 'back', 'right']
  const wasEnd = (end: string) => ends[(ends.indexOf(end) + quarters) % 4]!
  const balance = (b: NonNullable<Report['balance']>['level']): unknown => ({
    worstTip: b.worstTip,
    loadings: b.loadings.map((l) => ({
      ...l,
      gravity: { mass: l.gravity.mass, height: l.gravity.centre.z, spread: l.gravity.spread },
      tip: Object.fromEntries(sides.map((s) => [s, l.tip[was(s) as keyof typeof l.tip]])),
      worst: l.worst.angle,
      tracks: Object.fromEntries(ends.map((e) => [e, l.tracks[wasEnd(e) as 'left']])),
    })),
  })
  const { leads, pins, access } = report
  const rest: Any = {
    ...report,
    leads: {
      // Of ways that are as long, another one may be found first; its corners, and what it passes, are then others.
      routes: leads!.routes.map(({ spots: _, round: __, ...r }) => r),
      blocked: leads!.blocked,
      keep: leads!.keep,
    },
    pins: {
      ...pins,
      links: pins!.links.map(({ from, to, ...l }) => ({
        ...l,
        from: `${from.of} ${from.name}`,
        to: `${to.of} ${to.name}`,
      })),
    },
    access: { ...access, reach: access.reach.map(({ from: _, ...r }) => r) },
    balance: balance(report.balance!.level),
  }
  return JSON.parse(JSON.stringify(rest), (_, v) => (typeof v === 'number' ? Math.round(v * 1e6) / 1e6 + 0 : v))
}

describe('the whole report', () => {
  const file = robotFile()
  const base = robotOf(file, places())
  const expected = plain(reportOf(base), 0)

  it.each([1, 2, 3])('is the same after %i quarter turns of everything', (quarters) => {
    let now = { file, places: places() }
    for (let k = 0; k < quarters; k++) now = turned(now.file, now.places)
    const r = robotOf(now.file, now.places)
    expect(check(r.problem, r.placements)).toEqual([])
    expect(plain(reportOf(r), quarters)).toEqual(expected)
  })

  it('does change when one part is turned', () => {
    const other = robotOf(file, { ...places(), pack: ['main', 10, 20, 2] } as ReturnType<typeof places>)
    expect(plain(reportOf(other), 0)).not.toEqual(expected)
  })
})
