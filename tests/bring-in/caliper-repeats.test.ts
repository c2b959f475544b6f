import { describe, expect, it } from 'vitest'
import { rangeFactor, repeatsOf, slipsIn } from '../../src/bring-in/caliper-repeats.ts'
import { at, fitted, normal } from './caliper-kit.ts'

describe('how far readings of one distance may be apart', () => {
  it('is what the tables of the range of n normal readings say', () => {
    // Factors f(n) of the critical range, 95 %: ISO 5725-6, table 1, n = 2 … 10. From memory.
    const f = [2.8, 3.3, 3.6, 3.9, 4.0, 4.2, 4.3, 4.4, 4.5]
    expect(f.map((_, k) => Number(rangeFactor(k + 2, 0.95).toFixed(1)))).toEqual(f)
    // Percentage points of the studentised range at infinite freedom, 99 %: n = 2, 3, 4, 5, 10. From memory.
    for (const [n, q] of [
      [2, 3.643],
      [3, 4.12],
      [4, 4.403],
      [5, 4.603],
      [10, 5.157],
    ] as const)
      expect(rangeFactor(n, 0.99)).toBeCloseTo(q, 2)
    // Two readings by hand: their difference is normal with √2 σ.
    expect(rangeFactor(2)).toBeCloseTo(3 * Math.SQRT2, 4)
  })
})

describe('readings that contradict one another', () => {
  const contrary = (...all: Parameters<typeof repeatsOf>) => [...repeatsOf(...all).contrary.keys()]
  /** Six pairs as a steady hand reads them. */
  const steady = [10, 20, 30, 40, 50, 60].map((v) => [v, v + 0.04])

  it('are found beside others, alone, and several at once, and do not count for the others', () => {
    expect(contrary([[20.1, 31]])).toEqual([0])
    expect(contrary([[1], [20, 20.05, 31]])).toEqual([1])
    expect(contrary([...steady, [20.1, 31]])).toEqual([6])
    // Each as large a slip as the other: neither hides behind the other.
    expect(contrary([[20.1, 31], ...steady, [40, 51]]).sort()).toEqual([0, 7])
    const { reading, seen } = repeatsOf([[20.1, 31], ...steady])
    // Pairs 0.04 apart: s² = 0.04²/2 each.
    expect([reading, seen]).toEqual([expect.closeTo(0.04 / Math.SQRT2, 9), 6])
  })

  it('are told apart where most of them agree, and only there', () => {
    const slips = (...readings: number[]) => slipsIn(readings, (n) => rangeFactor(n) * 0.05).toSorted((a, b) => a - b)
    expect(slips(20, 20.05, 31)).toEqual([31])
    expect(slips(9, 20, 20.05, 31, 20.1)).toEqual([9, 31])
    // 165.1 to 165.6 is more than a steady hand scatters, but nothing beside 19
    expect(slips(165.4, 165.6, 165.1, 146)).toEqual([146])
    // two, two against two, three that are as far from one another, and a middle that goes with either side
    for (const unknown of [
      [20, 31],
      [20, 20.05, 31, 31.05],
      [20, 25, 31],
      [20, 20.15, 20.3],
    ])
      expect(slips(...unknown), `${unknown}`).toEqual([])
  })

  it('are left out of the fit where they must be slips, and it is as sure as the rest', () => {
    const lines = (left: string) => ['left>right 100', 'back>front 60', `left>a ${left}`, 'back>a 30']
    const f = fitted(lines('20 20.05 31'), [{ id: 'a', diameter: 3 }], { instrument: 0 })
    const same = fitted(lines('20 20.05'), [{ id: 'a', diameter: 3 }], { instrument: 0 })
    expect(f.measures[2]!.slips).toEqual([31])
    expect(at(f, 'a').x.value).toBeCloseTo(at(same, 'a').x.value, 9)
    expect(at(f, 'a').x.u).toBeCloseTo(at(same, 'a').x.u, 9)
  })

  it('are judged by the scatter that is given', () => {
    expect(contrary([[20, 20.3]], 0.1)).toEqual([])
    expect(contrary([[20, 20.3]], 0.05)).toEqual([0])
    expect(contrary([...steady, [20, 20.3]], 0.01)).toEqual([6])
  })

  it('are seldom found where there are none, by a hand less steady than is taken too', () => {
    for (const [sigma, most] of [
      [0.05, 0.006],
      [0.1, 0.04],
    ] as const) {
      let [found, all] = [0, 0]
      for (let seed = 1; seed <= 60; seed++) {
        const noise = normal(seed)
        const pairs = Array.from({ length: 20 }, (_, i) => [10 * i, 10 * i].map((v) => v + 50 + sigma * noise()))
        found += contrary(pairs).length
        all += pairs.length
      }
      // 0.27 % of 1200 where the scatter is as taken, three standard errors √(0.0027/1200) more at the most.
      expect(found / all).toBeLessThanOrEqual(most + 0.002)
    }
  })

  it('a scatter that few repeats show counts where it is larger than the one taken', () => {
    // s of 0.2 apart: 0.2/√2; two measures of it, pooled the same.
    const lines = ['left>right 100 100.2', 'back>front 60', 'left>a 20 20.2', 'back>a 30']
    const f = fitted(lines, [{ id: 'a', diameter: 3 }], { instrument: 0 })
    expect(f.measures.map((m) => m.contrary)).toEqual([undefined, undefined, undefined, undefined])
    expect(at(f, 'a').x.u).toBeCloseTo(0.1, 9)
  })

  it('count little where others say the same distance', () => {
    // The right edge says 20 as well: 80 of 100 mm.
    const f = fitted(
      ['left>right 100', 'back>front 60', 'left>a 20 31', 'a>right 80', 'back>a 30'],
      [{ id: 'a', diameter: 3 }],
      { reading: 0.05, instrument: 0 },
    )
    expect(f.measures[2]!.contrary).toBeCloseTo(3 * Math.SQRT2 * 0.05, 4)
    expect(Math.abs(at(f, 'a').x.value - 20)).toBeLessThan(0.01)
  })
})
