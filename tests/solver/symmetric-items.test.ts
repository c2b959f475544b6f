/** Items that nothing tells apart: the same answer however they are written down, and a proof that does not try all their orders. */
import { describe, expect, it } from 'vitest'
import { type Problem, type SolveResult, solve } from '../../solver/index.ts'
import { mm } from '../../solver/units.ts'
import { deck, item, part, problem, rect } from './check-kit.ts'
import { brute } from './oracle/brute.ts'

/** `count` tiles of w × h on a deck of W × H: written as copies of one item, or as items of their own. */
function tiles(count: number, [w, h]: [number, number], [W, H]: [number, number], how: 'copies' | 'apart'): Problem {
  const f = part(w, h, 5, { mount: { kind: 'adhesive' } })
  const items = Array.from({ length: count }, (_, i) =>
    item(how === 'copies' ? `a#${i + 1}` : `a${i + 1}`, f, { required: false, decks: [0], turns: [0, 1] }),
  )
  return problem(items, { grid: mm(1), decks: [deck(rect(0, 0, W, H))], objective: ['optional-value'] })
}

function proven(p: Problem): { result: SolveResult; steps: number } {
  let steps = 0
  const onProgress = (q: { readonly steps: number }) => {
    steps = q.steps
  }
  const result = solve(p, { steps: 200_000, onProgress })
  return { result, steps }
}

const value = (r: SolveResult): number | string =>
  'objectives' in r && r.status === 'optimal' ? r.objectives[0]!.value : r.status

describe('items that nothing tells apart', () => {
  it.each([
    // Small enough to try everything.
    [3, [3, 2], [5, 4]],
    [4, [3, 2], [5, 5]],
    [4, [4, 1], [5, 3]],
    [3, [4, 3], [6, 5]],
  ] as [number, [number, number], [number, number]][])(
    '%d tiles of %o on %o: as many as brute force places',
    (...c) => {
      for (const how of ['copies', 'apart'] as const) {
        const p = tiles(...c, how)
        const truth = brute(p)
        if (truth.status !== 'optimal') throw new Error(truth.status)
        expect(value(proven(p).result)).toBe(-truth.costs[0]!)
      }
    },
  )

  it.each([
    [7, [10, 7], [23, 23]],
    [9, [8, 5], [21, 18]],
    [8, [10, 7], [26, 22]],
    [6, [11, 6], [20, 19]],
  ] as [number, [number, number], [number, number]][])('%d tiles of %o on %o: copies are proven no slower', (...c) => {
    const [copies, apart] = [proven(tiles(...c, 'copies')), proven(tiles(...c, 'apart'))]
    expect(copies.result.status).toBe('optimal')
    expect(value(copies.result)).toBe(value(apart.result))
    // a few steps more where both are quick; all orders of seven tiles would be thousands of times as many
    expect(copies.steps).toBeLessThanOrEqual(Math.max(200, 1.5 * apart.steps))
  })

  it('a required copy too many is an infeasible deck, written either way', () => {
    for (const how of ['copies', 'apart'] as const) {
      const p = tiles(3, [4, 3], [6, 5], how)
      const result = solve({ ...p, items: p.items.map((i) => ({ ...i, required: true })) }, { steps: 200_000 })
      expect(result.status, how).toBe('infeasible')
    }
  })
})
