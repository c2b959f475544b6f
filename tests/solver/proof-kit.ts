/** A solve whose proof is written down and replayed at once. */
import type { ObjectiveName, Problem } from '../../solver/problem.ts'
import { type Replay, replay } from '../../solver/proof/replay.ts'
import { TextLog } from '../../solver/proof/text-log.ts'
import type { SolveOptions, SolveResult } from '../../solver/result.ts'
import { solving } from '../../solver/solve.ts'

export interface Proof {
  readonly lines: readonly string[]
  readonly bytes: number
  readonly result: SolveResult
}

export function proofOf(p: Problem, options: SolveOptions = {}): Proof {
  const lines: string[] = []
  const log = new TextLog((line) => void lines.push(line))
  const run = solving(p, options, log)
  for (;;) {
    const next = run.next()
    if (next.done) return { lines, bytes: log.bytes, result: next.value }
  }
}

const isMost = (goal: ObjectiveName): boolean => goal === 'free-tie-points' || goal === 'optional-value'

/** What a proof does not bear out of a result; none = all of it. */
export function unproven(result: SolveResult, r: Replay): string[] {
  const out = [...r.failures]
  if (result.status === 'infeasible' && !r.bounds.some((b) => b.goal === 'none'))
    out.push('nothing says that there is no layout')
  if (result.status !== 'optimal' && result.status !== 'feasible') return out
  for (const [k, o] of result.objectives.entries()) {
    // a bound holds for layouts that meet what it is under: the result must, and only in the goals before
    const met = (under: { goal: string; value: number }) => {
      const before = result.objectives.slice(0, k).find((q) => q.name === under.goal)
      if (!before) return false
      // optional values are counted in whole parts of one
      if (before.name === 'optional-value') return true
      return (before.value - under.value) * (isMost(before.name) ? 1 : -1) >= -1e-6
    }
    const beyond = r.bounds.filter((b) => b.goal === o.name && b.under.every(met)).map((b) => b.value)
    if (beyond.length === 0) {
      if (o.value !== 0 || o.bound !== 0) out.push(`nothing bounds ${o.name}`)
      continue
    }
    // what is refuted, in the result's unit
    const best = isMost(o.name) ? Math.min(...beyond) : Math.max(...beyond)
    if (o.name === 'optional-value') continue
    const said = o.name === 'balance' ? best : isMost(o.name) ? best - 1 : best + 1
    if (Math.abs(said - o.bound) > (o.name === 'balance' ? 0.02 : 0))
      out.push(`${o.name} is bounded by ${said}, not by ${o.bound}`)
  }
  return out
}

export const replayed = (proof: Proof): Replay => replay(proof.lines)
