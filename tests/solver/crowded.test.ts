/** More things than a deck has room for, all of which may be left out: the best choice is out of reach, a good one is not. */
import { describe, expect, it } from 'vitest'
import { solve } from '../../solver/index.ts'
import { problemWith } from '../published/project.ts'
import { LONG } from './oracle/mixes.ts'

/** Small parts of ten sizes, 262 mm² each on the mean; a deck with room for most. */
function crowd(items: number, width: number) {
  const footprints = Array.from({ length: 10 }, (_, k) => ({
    id: `part-${k}`,
    body: { width: 8 + k, depth: 12 + 2 * k, height: 5 },
    mount: { kind: 'adhesive' },
  }))
  return problemWith({
    settings: { grid: 1, edgeClearance: 1, itemClearance: 1 },
    decks: [{ id: 'deck', z: 20, thickness: 3, outline: { rect: [0, 0, width, 200], radius: 6 } }],
    footprints,
    items: Array.from({ length: items }, (_, i) => ({
      id: `item-${i}`,
      footprint: `part-${i % 10}`,
      required: false,
      value: 1 + (i % 7),
    })),
    objective: ['optional-value'],
  })
}

describe('a deck too small for all that may stand there', () => {
  // all together: 234 and 477; where every try began with all that there is 0 came out of both, in these steps and in far more
  it.each([[60, 80, LONG ? 8_000 : 5_000, 150] as const, ...(LONG ? [[120, 150, 15_000, 300] as const] : [])])(
    'gets a good choice of %d things on a deck %d mm wide in %d steps',
    (items, width, steps, least) => {
      const result = solve(crowd(items, width), { steps })
      expect(result.status).toBe('feasible')
      if (result.status !== 'feasible') return
      const { value, bound } = result.objectives[0]!
      expect(value).toBeGreaterThan(least)
      expect(bound).toBeGreaterThanOrEqual(value)
    },
  )
})
