/** The public solve against CP-SAT on small decks with all rules, finer and fuller than brute force can bear. */
import { describe, expect, it } from 'vitest'
import { answerComplaints, trySolve } from './oracle/compare.ts'
import { CpOracle } from './oracle/cpsat.ts'
import { randomDeck } from './oracle/decks.ts'
import { LONG, small, tiny } from './oracle/mixes.ts'

describe('solve against CP-SAT', () => {
  for (const [name, mix, n, seeds] of [
    ...(LONG ? ([['small', small, 300, 0]] as const) : []),
    ['tiny', tiny, LONG ? 300 : 5, 50_000],
  ] as const) {
    it(
      `agrees on ${n} ${name} random decks with all rules`,
      async () => {
        const complaints: string[] = []
        const count = { optimal: 0, infeasible: 0, unknown: 0 }
        const budget = LONG ? 60 : 10
        for (let s = seeds; s < seeds + n; s++) {
          const p = randomDeck(s, mix)
          const oracle = new CpOracle(p)
          const first = await oracle.least(0, [], budget)
          count[first.status]++
          if (first.status === 'unknown') continue
          const r = trySolve(p, { time: 60_000 })
          const stage = async (k: number, before: readonly number[]): Promise<number | undefined> => {
            const a = k === 0 ? first : await oracle.least(k, before, budget)
            return a.status === 'optimal' ? a.value : undefined
          }
          for (const c of await answerComplaints(p, r, first.status === 'optimal', stage))
            complaints.push(`seed ${s}: ${c}`)
        }
        expect(complaints).toEqual([])
        expect(count.optimal).toBeGreaterThan(n / 4)
        expect(count.infeasible).toBeGreaterThan(n / 8)
        expect(count.unknown).toBeLessThan(n / 8)
      },
      LONG ? 3_600_000 : 120_000,
    )
  }
})
