/** Wire against published tables and worked examples; sources and status stand in tests/fixtures/electric-values.json. */
import { describe, expect, it } from 'vitest'
import { ohmsPerMetre } from '../../src/electric/gauge.ts'
import { flowOf } from '../../src/electric/power-network.ts'
import { fitOf } from '../../src/electric/prepare-wires.ts'
import { sized } from '../../src/electric/words.ts'
import { areaOf, diameterOf, gaugeOf, isNoSize } from '../../src/model/awg.ts'
import values from '../fixtures/electric-values.json'
import fc from '../seeded.ts'
import { FOOT, lostOn } from './row-kit.ts'

const entry = (id: string) => {
  const e = values.find((v) => v.id === id)
  if (!e) throw new Error(`no reference ${id}`)
  return { value: e.value as number, tolerance: e.tolerance as number }
}
const near = (got: number, id: string) => {
  const { value, tolerance } = entry(id)
  expect(Math.abs(got - value), `${id}: ${got} for ${value}`).toBeLessThanOrEqual(tolerance)
}

describe('gauges', () => {
  const gauges = [16, 18, 20, 22, 24, 26, 28, 30]

  it.each(gauges)('%d AWG has the diameter, area and resistance of ASTM B258 and IEC 60028', (n) => {
    near(diameterOf(n), `awg${n}-diameter`)
    near(areaOf(n), `awg${n}-area`)
    near(ohmsPerMetre(n), `awg${n}-resistance`)
  })

  it.each(gauges)('%d AWG has the resistance that a textbook prints', (n) => {
    near(ohmsPerMetre(n) * 1000 * FOOT, `awg${n}-resistance-handbook`)
  })

  it('at 75 °C has the resistance of the code book, solid and stranded', () => {
    for (const n of [16, 18]) {
      near(ohmsPerMetre(n, { temperature: 75 }) * 1000 * FOOT, `nec-t8-${n}-solid`)
      near(ohmsPerMetre(n, { temperature: 75, stranded: true }) * 1000 * FOOT, `nec-t8-${n}-stranded`)
    }
  })

  it('reads a gauge however it is written, and none where none is said', () => {
    expect([22, '22', 'AWG 22', '22 AWG', 'ribbon', '', undefined, -3].map(gaugeOf)).toEqual([
      22,
      22,
      22,
      22,
      undefined,
      undefined,
      undefined,
      undefined,
    ])
  })
})

it('a size over 0 and a fraction are taken for what is not read, and not for 0 or for nothing said', () => {
  // ASTM B258: 00 is a size of its own, one over 0
  for (const text of ['00', '00 AWG', '000', '½ mm²', '①.5']) {
    expect(gaugeOf(text), text).toBeUndefined()
    expect(isNoSize(text), text).toBe(true)
  }
  expect(['0', 'AWG 0', '9'].map(gaugeOf)).toEqual([0, 0, 9])
  expect(isNoSize('ribbon')).toBe(false)
})

describe('square millimetres', () => {
  // R = ρ/A: 1/58 Ω·mm²/m over 0.5 mm² is 34.48 mΩ a metre. Beside it the most that IEC 60228 lets a solid conductor of class 1 and a
  // flexible one of class 5 have at 20 °C, from memory
  it.each([
    [0.5, 36, 39],
    [0.75, 24.5, 26],
    [1, 18.1, 19.5],
    [1.5, 12.1, 13.3],
    [2.5, 7.41, 7.98],
  ])('%d mm² have their own area, and hardly less resistance than the standard allows', (area, solid, flexible) => {
    const n = gaugeOf(`${area} mm²`)!
    expect(areaOf(n)).toBeCloseTo(area, 9)
    expect(ohmsPerMetre(n) * 1000).toBeCloseTo(1000 / (58 * area), 9)
    expect(ohmsPerMetre(n) * 1000).toBeLessThan(solid)
    expect((ohmsPerMetre(n) * 1000 * 7) / 6).toBeGreaterThan(flexible)
  })

  it('are read however they are written', () => {
    const half = ['0.5 mm²', '0,5mm2', ' .5 MM^2', '0.50 sq mm', '0.5 ㎟'].map(gaugeOf)
    // 0.5 mm² is between 20 AWG, 0.518 mm², and 21 AWG, 0.410 mm² (ASTM B258)
    expect(half[0]).toBeGreaterThan(20)
    expect(half[0]).toBeLessThan(21)
    expect(new Set(half).size).toBe(1)
  })

  it('are called what they are', () => {
    expect([gaugeOf('0.5 mm²')!, gaugeOf('0.125 mm²')!, gaugeOf('22 AWG')!].map(sized)).toEqual([
      '0.5 mm²',
      '0.125 mm²',
      '22 AWG',
    ])
  })

  it('fit a contact as the sizes beside them do', () => {
    expect(['0.75 mm²', '0.5 mm²', '0.14 mm²', '0.08 mm²', '0.05 mm²'].map((g) => fitOf(gaugeOf(g)))).toEqual([
      'too thick',
      'fits',
      'fits',
      'doubtful',
      'too thin',
    ])
  })
})

describe('what is no size of wire', () => {
  it('gives none: a bare number is a size of AWG, and those are whole', () => {
    const none = [0.5, 22.5, 51, '0.5', '51 AWG', '0 mm²', '95 mm²', '0.5 mm', '2x0.5 mm²', Number.NaN]
    expect(none.map(gaugeOf)).toEqual(none.map(() => undefined))
  })
})

describe('voltage drop', () => {
  /** 20 A through so many feet of wire of so many ohms a foot. */
  const overRun = (perFoot: number, feet: number) =>
    flowOf(2, [{ a: 0, b: 1, ohms: perFoot * feet }], 0, [0, 20]).drop[1]!

  it('counts the return', () => {
    const got = lostOn({ awg: 22, metres: 0.5, amps: 1 }) * 1000
    near(got, 'drop-22awg-0.5m-1A')
    // half of it: the return was forgotten
    expect(got).not.toBeCloseTo(26.48, 1)
  })

  it('agrees with worked examples at their own temperature and make', () => {
    const run = { awg: 16, metres: 100 * FOOT, amps: 4 }
    near(lostOn(run), 'drop-16awg-100ft-4A-20C')
    near(lostOn({ ...run, temperature: 75 }), 'drop-16awg-100ft-4A-75C')
    // the published 4 V is 3.992 V rounded
    const published = lostOn({ ...run, temperature: 75, stranded: true })
    expect(Math.abs(published - 3.992)).toBeLessThan(0.01)
  })

  it.each([
    ['ac4313-t11-7-row1', 0.000_44, 107],
    ['ac4313-t11-7-row2', 0.000_28, 90],
    ['ac4313-t11-7-row3', 0.002_02, 88],
    ['ac4313-t11-7-row4', 0.003_06, 100],
    ['ac4313-t11-8-row1', 0.001_26, 39],
    ['ac4313-t11-8-row3', 0.001_26, 156],
    ['ac4313-t11-8-row4', 0.001_26, 273],
  ])('%s: a whole run, ground wire included, is not doubled again', (id, perFoot, feet) => {
    near(overRun(perFoot, feet), id)
  })

  it('does not repeat the misprint of one row, whose own product is 0.491 V', () => {
    const got = overRun(0.001_26, 19.5)
    expect(got).toBeCloseTo(0.4914, 6)
    expect(Math.abs(got - entry('ac4313-t11-8-row2-misprint').value)).toBeGreaterThan(0.1)
  })

  it('is more in a thinner wire, and in a warmer one', () => {
    fc.assert(
      fc.property(fc.integer({ min: 8, max: 40 }), fc.integer({ min: 21, max: 90 }), (awg, temperature) => {
        expect(ohmsPerMetre(awg - 1)).toBeLessThan(ohmsPerMetre(awg))
        expect(ohmsPerMetre(awg, { temperature })).toBeGreaterThan(ohmsPerMetre(awg))
      }),
    )
  })
})
