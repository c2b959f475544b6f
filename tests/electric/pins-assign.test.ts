import { describe, expect, it } from 'vitest'
import { assign } from '../../src/electric/pins-assign.ts'
import fc from '../seeded.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'

/** All ways to give rows columns or none: most rows served, then least cost. */
function brute(cost: readonly (readonly number[])[]): [served: number, cost: number] {
  let best: [number, number] = [0, 0]
  const visit = (row: number, used: number, served: number, sum: number): void => {
    if (row === cost.length) {
      if (served > best[0] || (served === best[0] && sum < best[1])) best = [served, sum]
      return
    }
    visit(row + 1, used, served, sum)
    cost[row]!.forEach((c, i) => {
      if (Number.isFinite(c) && !(used & (1 << i))) visit(row + 1, used | (1 << i), served + 1, sum + c)
    })
  }
  best = [-1, 0]
  visit(0, 0, 0, 0)
  return best
}

describe('the assignment of pins', () => {
  it('takes the dearer pin for one signal where that makes both shorter in all', () => {
    expect(
      assign([
        [1, 2],
        [1, 9],
      ]),
    ).toEqual([1, 0])
  })

  it('serves as many as can be, and leaves the rest without', () => {
    expect(
      assign([
        [5, Infinity],
        [3, Infinity],
        [Infinity, 1],
      ]),
    ).toEqual([-1, 0, 1])
    expect(assign([])).toEqual([])
    expect(assign([[], []])).toEqual([-1, -1])
  })

  it('is as good as every other way, tried one by one', () => {
    const costs = fc.tuple(fc.integer({ min: 1, max: 5 }), fc.integer({ min: 0, max: 6 })).chain(([r, c]) =>
      fc.array(
        fc.array(fc.oneof({ weight: 4, arbitrary: fc.integer({ min: 0, max: 12 }) }, fc.constant(Infinity)), {
          minLength: c,
          maxLength: c,
        }),
        { minLength: r, maxLength: r },
      ),
    )
    fc.assert(
      fc.property(costs, (cost) => {
        const got = assign(cost)
        const taken = got.filter((c) => c >= 0)
        expect(new Set(taken).size).toBe(taken.length)
        const sum = got.reduce((s, c, r) => s + (c < 0 ? 0 : cost[r]![c]!), 0)
        expect([taken.length, sum]).toEqual(brute(cost))
      }),
      { numRuns: LONG ? 20_000 : 500 },
    )
  })
})
