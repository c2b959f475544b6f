/** Figures that must not say more than is so: examples by hand. */
import { describe, expect, it } from 'vitest'
import { figureText } from '../../src/cli/answers.ts'
import { reportText } from '../../src/cli/inspect-text.ts'
import { leads, need, power } from '../../src/electric/words.ts'
import { inspect } from '../../src/inspect/index.ts'
import {
  beside,
  exactly,
  fixed,
  inward,
  outward,
  placesApart,
  roundDown,
  roundUp,
  tenthsUp,
  trimmed,
} from '../../src/model/rounding.ts'
import { figures } from '../../src/statics/figures.ts'
import { pinsPart, wiresPart } from '../../src/store/report-wiring.ts'
import { robot } from '../inspect/kit.ts'
import fc from '../seeded.ts'

describe('rounding', () => {
  it('goes up, but not for an error of arithmetic', () => {
    expect([25.95, 25.9, 25.900_1, 0.1 + 0.2, 0].map(tenthsUp)).toEqual(['26.0', '25.9', '26.0', '0.3', '0.0'])
    expect([roundUp(0.34, 1), roundUp(14.246, 2), roundUp(3, 0)]).toEqual([0.4, 14.25, 3])
  })

  it('shows what tells two figures apart, and no more', () => {
    expect(placesApart(25.97, 25.96, 1)).toBe(2)
    expect(placesApart(25.9, 26, 1)).toBe(1)
    expect(placesApart(26, 26, 1)).toBe(1)
    expect(placesApart(-0.0003, 0, 1)).toBe(4)
  })

  it('goes down as it goes up, and knows no minus before nothing', () => {
    expect([25.99, 25.9, 0.1 + 0.2, 0, -0.01].map((v) => roundDown(v, 1))).toEqual([25.9, 25.9, 0.3, 0, -0.1])
    expect([-0.04, -0.05, 0, 12.96].map((v) => fixed(v, 1))).toEqual(['0.0', '-0.1', '0.0', '13.0'])
    expect([-0.04, -0, 12.96, 10].map((v) => trimmed(v))).toEqual(['0', '0', '13', '10'])
    expect([0.57 * 100, 29.97, 1e-3].map(exactly)).toEqual(['57', '29.97', '0.001'])
  })

  it('of a figure beside its limit tells the two apart, and is never better than it is', () => {
    // angles that must not be less, and shares that must not be more
    expect([29.97, 29.96983, 29.999_999, 29.4, 30, 30.02, 30.06].map((v) => beside('down', v, 30))).toEqual([
      ...['29.97', '29.96', '29.9999', '29.4', '30', '30.02', '30.06'],
    ])
    expect([60.04, 60.000_001, 60.5, 60, 59.98, 59.94].map((v) => beside('up', v, 60))).toEqual([
      ...['60.04', '60.0001', '60.5', '60', '59.98', '59.94'],
    ])
    expect([-0.0003, 0.0003, -0.04, 1e-9, -1e-9].map((v) => beside('down', v, 0))).toEqual([
      ...['-0.0003', '0.0003', '-0.04', '0', '0'],
    ])
    expect(beside('down', 29.97, 29.97)).toBe('29.97')
    fc.assert(
      fc.property(
        fc.double({ min: -90, max: 90, noNaN: true }),
        fc.double({ min: -1, max: 1, noNaN: true }),
        (a, d) => {
          const limit = Math.round(a * 100) / 100 + 0
          for (const [worse, sign] of [
            ['up', 1],
            ['down', -1],
          ] as const) {
            const value = limit + d ** 5
            const said = Number(beside(worse, value, limit)) + 0
            if (Math.abs(value - limit) <= 1e-7) expect(said).toBe(limit)
            else if (Math.sign(value - limit) === sign) expect(Math.sign(said - limit)).toBe(sign)
            else expect(sign * (said - limit)).toBeLessThanOrEqual(0)
            if (said !== limit) expect(sign * (said - value)).toBeGreaterThanOrEqual(-1e-6)
          }
        },
      ),
    )
  })

  it('of what is free says no more, and of what is not no less', () => {
    expect(
      [
        [-60, 28.74],
        [-28.74, 60],
        [28.71, 28.74],
        [0.05, 0.05],
        [-0.01, 0.01],
      ].map(([a, b]) => inward([a!, b!])),
    ).toEqual([
      [-60, 28.7],
      [-28.7, 60],
      [28.71, 28.74],
      [0.05, 0.05],
      [-0.01, 0.01],
    ])
    expect(outward([-28.74, 28.71])).toEqual([-28.8, 28.8])
  })

  it('of a lead that is a hair too short does not contradict itself', () => {
    expect(leads.tooShort('job', 25_970, [], 25_960)).toBe(
      'The lead job needs 26.0 mm or more; there are 25.9 mm of it.',
    )
    expect(leads.tooShort('job', 190_000, ['cells', 'lid', 'fan'], 120_000)).toBe(
      'The lead job needs 190.0 mm or more round cells, lid and fan; there are 120.0 mm of it.',
    )
    expect(leads.cutTooShort('job', 25_950, 'one', [], [], 30_010)).toBe(
      'Cut to 26 mm for the variant one, the lead job no longer reaches for nothing. Keep 30.1 mm of it.',
    )
  })

  it('of a lead that just reaches does not read as if it were too short, in rows and sentences alike', () => {
    expect([need(25.96, 25.97), need(26.03, 26.03), need(25.961, 25.962), need(25.91, 26)]).toEqual([
      ['25.96', '25.97'],
      ['26.03', '26.03'],
      ['25.961', '25.962'],
      ['26.0', '26.0'],
    ])
    expect([need(25.97, 25.96), need(190, 120)]).toEqual([
      ['26.0', '25.9'],
      ['190.0', '120.0'],
    ])
    const { project, problem, placements } = robot()
    const report = inspect(project, new Map(), problem, placements)
    const [first] = report.leads!.routes
    const near = { ...report, leads: { ...report.leads!, routes: [{ ...first!, cut: 25.96, there: 25.97 }] } }
    expect(reportText(near, problem)).toMatch(/ 25\.96 .* 25\.97 /)
    expect(JSON.stringify(wiresPart(near, problem))).toMatch(/"25\.96".*"25\.97"/)
  })

  it('of a gap says what is asked for as it was given', () => {
    // keep 5.04: of 5.02 that are there, “keep 5 mm” would read as kept
    expect(power.noAir('cap', 5020, 'driver', 5040)).toBe(
      'cap is 5.02 mm from driver, which gets warm; leave 5.04 mm for air.',
    )
  })

  it('of a limit with more decimals than are shown never tells it as broken where it is kept', () => {
    // two thirds, as a share in a file: 66.666667 %
    expect([66.66666, 66.66, 66.66667].map((v) => beside('up', v, 66.666667))).toEqual([
      '66.666667',
      '66.66',
      '66.6667',
    ])
    expect([29.99997, 29.99995].map((v) => beside('down', v, 29.99996))).toEqual(['29.99996', '29.9999'])
    expect(figures.shares({ left: 0.6666666, right: 0.3333334 }, 0.66666667)).toEqual({
      left: '66.666667',
      right: '33.333333',
    })
    fc.assert(
      fc.property(
        fc.double({ min: -90, max: 90, noNaN: true }),
        fc.double({ min: -1, max: 1, noNaN: true }),
        (a, d) => {
          const limit = Number(a.toFixed(6)) + 0
          const value = limit + d ** 7
          for (const [worse, sign] of [
            ['up', 1],
            ['down', -1],
          ] as const) {
            const broken = sign * (value - limit) > 1e-7
            expect(sign * (Number(beside(worse, value, limit)) - limit) > 0).toBe(broken)
          }
        },
      ),
    )
  })

  it('of what is still open never says less than it is', () => {
    const of = (value: number, bound: number) => figureText({ name: 'wire-length', value, bound, proven: false })
    expect(of(1000, 660)).toBe('1.0 mm, at most 0.4 mm less')
    expect(of(412_500, 398_250)).toBe('412.5 mm, at most 14.3 mm less')
    expect(figureText({ name: 'optional-value', value: 2, bound: 3.0004, proven: false })).toBe('2, at most 1.001 more')
  })

  it('of a contact plan is up as well, in text and on the page: its wires are cut by it', () => {
    const { project, problem, placements } = robot()
    const report = inspect(project, new Map(), problem, placements)
    const links = report.pins!.links
    const lengths = links.map((l) => tenthsUp(l.length))
    // 2.54 mm pitches: many a length is a hair over its nearest tenth
    expect(links.some((l) => l.length.toFixed(1) !== tenthsUp(l.length))).toBe(true)
    const text = reportText(report, problem).split('\n')
    const from = text.indexOf('Contact plan:') + 2
    expect(text.slice(from, from + links.length).map((l) => l.split(/ {2,}/).at(-1))).toEqual(lengths)
    const page = JSON.stringify(pinsPart(report))
    for (const length of lengths) expect(page).toContain(`"${length}"`)
  })
})
