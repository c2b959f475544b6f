/** Limits of time and work: whatever the moment, no status is wrong, every bound holds, and the same steps give the same answer. */
import { describe, expect, it } from 'vitest'
import type { Problem } from '../../solver/problem.ts'
import type { SolveResult } from '../../solver/result.ts'
import { type BruteAnswer, better, brute } from './oracle/brute.ts'
import { boundsOf, costsOf, layoutComplaints, trySolve } from './oracle/compare.ts'
import { randomDeck } from './oracle/decks.ts'
import { objectivesOf } from './oracle/measure.ts'
import { LONG, small, tiny } from './oracle/mixes.ts'
import { rng } from './oracle/random.ts'

const LIMIT = 60_000

/** What a limited solve may not say, given the truth. */
function untruths(p: Problem, r: SolveResult | string, truth: BruteAnswer): string[] {
  if (typeof r === 'string') return [r]
  const out = layoutComplaints(p, r)
  if (r.status === 'unknown' || truth.status === 'too large') return out
  if (r.status === 'infeasible') return truth.status === 'optimal' ? [...out, 'infeasible, but there is a layout'] : out
  if (truth.status === 'infeasible') return [...out, `${r.status}, but there is no layout`]
  const costs = costsOf(r)
  if (better(costs, truth.costs)) out.push(`better than the best: ${costs} against ${truth.costs}`)
  const bounds = boundsOf(r)
  for (const [k, name] of objectivesOf(p).entries()) {
    // A bound holds with the earlier objectives at their values in this layout.
    const best = brute(p, { atMost: costs.slice(0, k), limit: LIMIT })
    if (best.status !== 'optimal') break
    const slack = name === 'balance' ? 0.01 : 0
    if (bounds[k]! > best.costs[k]! + slack && !(name === 'balance' && bounds[k]! - best.costs[k]! <= 10))
      out.push(`${name}: bound ${bounds[k]} is past the best ${best.costs[k]}`)
  }
  return out
}

describe('a solve that is cut short', () => {
  const n = LONG ? 600 : 7
  it('never says anything untrue, whatever the limit', { timeout: LONG ? 3_600_000 : 180_000 }, () => {
    const complaints: string[] = []
    const status = new Map<string, number>()
    for (let s = 60_000; s < 60_000 + n; s++) {
      const p = randomDeck(s, tiny)
      const truth = brute(p, { limit: LIMIT })
      if (truth.status === 'too large') continue
      const r = rng(s)
      const stop = { aborted: false }
      let reports = r.int(0, 4)
      for (const [how, options] of [
        ['steps', { steps: r.int(1, 12) }],
        ['more steps', { steps: r.int(10, 400) }],
        ['time', { time: r.int(0, 6) }],
        [
          'signal',
          {
            signal: stop,
            time: 20_000,
            onProgress: () => {
              if (reports-- <= 0) stop.aborted = true
            },
          },
        ],
      ] as const) {
        const result = trySolve(p, options)
        if (typeof result !== 'string') status.set(result.status, (status.get(result.status) ?? 0) + 1)
        for (const c of untruths(p, result, truth))
          complaints.push(`seed ${s}, ${how} ${JSON.stringify(options)}: ${c}`)
      }
    }
    expect(complaints).toEqual([])
    for (const st of ['optimal', 'feasible', 'infeasible', 'unknown'])
      expect(status.get(st) ?? 0, st).toBeGreaterThan(0)
  })

  it('gives the same answer to the same steps, and to no limit at all', { timeout: LONG ? 3_600_000 : 180_000 }, () => {
    const different: string[] = []
    let unfinished = 0
    for (let s = 0; s < (LONG ? 200 : 5); s++) {
      const p = randomDeck(70_000 + s, s % 2 === 0 ? tiny : small)
      for (const options of [{ steps: 5 }, { steps: 60 }, { steps: 700 }, {}]) {
        if (options.steps === undefined && s % 2 === 1) continue
        const a = trySolve(p, options)
        const b = trySolve(structuredClone(p), options)
        if (JSON.stringify(a) !== JSON.stringify(b)) different.push(`seed ${70_000 + s}, ${JSON.stringify(options)}`)
        if (typeof a === 'string') different.push(`seed ${70_000 + s}: ${a}`)
        else if (a.status === 'unknown' || a.status === 'feasible') unfinished++
      }
    }
    expect(different).toEqual([])
    expect(unfinished).toBeGreaterThan(3)
  })
})
