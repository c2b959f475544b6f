/**
 * Time that runs out at random moments, against brute force (CP-SAT in the long run): whatever is said then is true, at every moment from compiling to the search for
 * reasons. The clock is the test's, one millisecond a look, so that every moment can be hit, and hit again.
 */
import { afterEach, describe, expect, it, vi } from 'vitest'
import type { Problem, SolveResult } from '../../solver/index.ts'
import { brute } from './oracle/brute.ts'
import { boundsOf, costsOf, layoutComplaints, trySolve } from './oracle/compare.ts'
import { cpSat } from './oracle/cpsat.ts'
import { randomDeck } from './oracle/decks.ts'
import { objectivesOf } from './oracle/measure.ts'
import { LONG, small, tiny } from './oracle/mixes.ts'
import { rng } from './oracle/random.ts'

afterEach(() => {
  vi.restoreAllMocks()
})

/** A solve by a clock that goes on by one millisecond at each look; and how many looks there were. */
function timed(p: Problem, time: number): { result: SolveResult | string; looks: number } {
  let now = 0
  const spy = vi.spyOn(performance, 'now').mockImplementation(() => now++)
  try {
    return { result: trySolve(p, { time }), looks: now }
  } finally {
    spy.mockRestore()
  }
}

interface Truth {
  readonly status: string
  readonly costs: readonly number[]
}

async function truthOf(p: Problem, large: boolean): Promise<Truth> {
  if (large) return cpSat(p)
  const a = brute(p, { limit: 60_000 })
  return { status: a.status, costs: a.status === 'optimal' ? a.costs : [] }
}

/** Balance in µm: what is proven is proven to 10. */
const slack = (name: string): number => (name === 'balance' ? 10.01 : 0.01)

function untruths(p: Problem, r: SolveResult | string, truth: Truth): string[] {
  if (typeof r === 'string') return [r]
  const out = layoutComplaints(p, r)
  if (r.status === 'unknown') return out
  if (r.status === 'infeasible') return truth.status === 'optimal' ? ['infeasible, but there is a layout'] : out
  if (truth.status === 'infeasible') return [`${r.status}, but there is no layout`]
  const [costs, bounds] = [costsOf(r), boundsOf(r)]
  for (const [k, name] of objectivesOf(p).entries()) {
    const best = truth.costs[k]!
    const from = slack(name)
    // all objectives before are at their best here
    if (costs[k]! < best - from) out.push(`${name} is ${costs[k]}, better than the best, ${best}`)
    if (bounds[k]! > best + from) out.push(`${name} is bounded by ${bounds[k]}, past the best, ${best}`)
    if (r.objectives[k]!.proven && Math.abs(costs[k]! - best) > from)
      out.push(`${name} is called proven at ${costs[k]}, but ${best} can be had`)
    if (Math.abs(costs[k]! - best) > from) break
  }
  return out
}

describe('time that runs out', () => {
  const n = LONG ? 400 : 16
  it(`at random moments of ${n} random decks leaves nothing untrue behind`, {
    timeout: LONG ? 3_600_000 : 180_000,
  }, async () => {
    const complaints: string[] = []
    const status = new Map<string, number>()
    let reduced = 0
    for (let s = 110_000; s < 110_000 + n; s++) {
      const large = LONG && s % 2 === 0
      const p = randomDeck(s, large ? small : tiny)
      const truth = await truthOf(p, large)
      if (truth.status !== 'optimal' && truth.status !== 'infeasible') continue
      const { result, looks } = timed(p, 1e9)
      const all = typeof result === 'string' ? result : result.status
      if (all !== truth.status) complaints.push(`seed ${s}, to its end: ${all}, but it is ${truth.status}`)
      const r = rng(s)
      // early moments too, where most is decided
      const moments = Array.from({ length: LONG ? 16 : 8 }, (_, k) =>
        r.int(0, k % 2 === 0 ? looks : Math.min(looks, 60)),
      )
      for (const time of moments) {
        const cut = timed(p, time)
        if ((LONG || time % 4 === 0) && JSON.stringify(cut) !== JSON.stringify(timed(structuredClone(p), time)))
          complaints.push(`seed ${s}, ${time} looks: another answer the second time`)
        for (const c of untruths(p, cut.result, truth)) complaints.push(`seed ${s}, ${time} looks: ${c}`)
        if (typeof cut.result === 'string') continue
        status.set(cut.result.status, (status.get(cut.result.status) ?? 0) + 1)
        if (cut.result.status === 'infeasible' && !cut.result.conflictIrreducible) reduced++
      }
    }
    expect(complaints).toEqual([])
    for (const st of ['optimal', 'feasible', 'infeasible', 'unknown'])
      expect(status.get(st) ?? 0, st).toBeGreaterThan(n / 3)
    expect(reduced, 'cut short while it looked for reasons').toBeGreaterThan(0)
  })
})
