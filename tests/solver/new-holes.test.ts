/** The objective `new-holes`: as few as brute force finds, in any place of the order. */
import { describe, expect, it } from 'vitest'
import { check, figures, solve } from '../../solver/index.ts'
import type { ObjectiveName, Problem } from '../../solver/problem.ts'
import { brute } from './oracle/brute.ts'
import { randomDeck } from './oracle/decks.ts'
import { objectivesOf } from './oracle/measure.ts'
import { LONG, ruleMixes } from './oracle/mixes.ts'
import { rng } from './oracle/random.ts'

const n = LONG ? 1500 : 40

describe('new holes', () => {
  it(`are as few as brute force finds, on ${n} random decks`, { timeout: LONG ? 3_600_000 : 120_000 }, () => {
    let decided = 0
    let fewer = 0
    for (let s = 60_000; s < 60_000 + n; s++) {
      const base = randomDeck(s, ruleMixes.R5)
      const others = base.objective.filter((o) => o !== 'balance').slice(0, 2)
      const p: Problem = { ...base, objective: rng(s).shuffle<ObjectiveName>(['new-holes', ...others]) }
      const b = brute(p, { limit: 60_000 })
      if (b.status === 'too large') continue
      const a = solve(p, { time: 20_000 })
      expect(a.status, `seed ${s}`).toBe(b.status)
      if (a.status !== 'optimal' || b.status !== 'optimal') continue
      expect(check(p, a.placements)).toEqual([])
      objectivesOf(p).forEach((name, k) => {
        const { value, bound } = a.objectives.find((o) => o.name === name)!
        const most = name === 'free-tie-points' || name === 'optional-value'
        expect(most ? -value : value, `seed ${s}, ${name}`).toBeCloseTo(b.costs[k]!, 6)
        expect(bound).toBe(value)
      })
      decided++
      // without being asked, more may be made
      const free = solve({ ...p, objective: others }, { time: 20_000 })
      if (free.status === 'optimal' && free.figures.newHoles > figures(p, a.placements).newHoles) fewer++
    }
    expect(decided).toBeGreaterThan(n / 4)
    expect(fewer).toBeGreaterThan(n / 30)
  })
})
