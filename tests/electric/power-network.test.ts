/** Nets of resistors against a textbook chain, Kirchhoff's current law, and sums along the way on trees. */
import { describe, expect, it } from 'vitest'
import { type Edge, flowOf, reach } from '../../src/electric/power-network.ts'
import values from '../fixtures/electric-values.json'
import fc from '../seeded.ts'

describe('a net of leads', () => {
  it('shares out the volts of a series circuit as a textbook does', () => {
    const book = values.find((v) => v.id === 'series-resistors-example')!.value as { I: number; V: number[] }
    const edges = [2, 4, 6].map((ohms, i): Edge => ({ a: i, b: i + 1, ohms }))
    const { drop, amps } = flowOf(4, edges, 0, [0, 0, 0, book.I])
    book.V.forEach((v, i) => {
      expect(drop[i + 1]! - drop[i]!).toBeCloseTo(v, 9)
    })
    expect(amps.every((a) => Math.abs(a - book.I) < 1e-9)).toBe(true)
    // the drops add up to the source's 12 V
    expect(drop[3]).toBeCloseTo(12, 9)
  })

  it('shares current between leads in parallel', () => {
    const edges = [
      { a: 0, b: 1, ohms: 1 },
      { a: 1, b: 0, ohms: 3 },
    ]
    const { drop, amps } = flowOf(2, edges, 0, [0, 4])
    expect(drop[1]).toBeCloseTo(3, 9)
    expect(amps[0]).toBeCloseTo(3, 9)
    expect(amps[1]).toBeCloseTo(-1, 9)
  })

  it('serves nothing that no lead reaches', () => {
    const { drop, amps } = flowOf(
      4,
      [
        { a: 0, b: 1, ohms: 1 },
        { a: 2, b: 3, ohms: 1 },
      ],
      0,
      [0, 1, 5, 5],
    )
    expect(drop).toEqual([0, 1, undefined, undefined])
    expect(amps).toEqual([1, 0])
    expect(
      reach(
        4,
        [
          { a: 2, b: 1 },
          { a: 1, b: 0 },
        ],
        0,
      ),
    ).toEqual([true, true, true, false])
  })

  const ohms = fc.double({ min: 0.001, max: 10, noNaN: true })

  it('on a tree loses what the currents beyond each lead lose in it', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.nat(), ohms, ohms), { minLength: 1, maxLength: 12 }), (list) => {
        const parent = list.map(([p], i) => p % (i + 1))
        const edges = list.map(([, r], i): Edge => ({ a: parent[i]!, b: i + 1, ohms: r }))
        const draws = [0, ...list.map(([, , a]) => a)]
        const { drop } = flowOf(list.length + 1, edges, 0, draws)
        const beyond = [...draws]
        for (let i = list.length; i > 0; i--) beyond[parent[i - 1]!]! += beyond[i]!
        const want = [0]
        for (let i = 1; i <= list.length; i++) want[i] = want[parent[i - 1]!]! + edges[i - 1]!.ohms * beyond[i]!
        want.forEach((w, i) => {
          expect(drop[i]).toBeCloseTo(w, 6)
        })
      }),
    )
  })

  it('with rings loses no current on the way', () => {
    const edge = fc.tuple(fc.nat(7), fc.nat(7), ohms)
    fc.assert(
      fc.property(
        fc.array(edge, { minLength: 3, maxLength: 16 }),
        fc.array(ohms, { minLength: 8, maxLength: 8 }),
        (list, draws) => {
          const edges = list.map(([a, b, r]): Edge => ({ a, b, ohms: r }))
          const { drop, amps } = flowOf(8, edges, 0, draws)
          for (let n = 1; n < 8; n++) {
            if (drop[n] === undefined) continue
            let into = 0
            edges.forEach((e, i) => {
              if (e.a === e.b) return
              if (e.b === n) into += amps[i]!
              if (e.a === n) into -= amps[i]!
            })
            expect(into).toBeCloseTo(draws[n]!, 5)
          }
        },
      ),
    )
  })
})
