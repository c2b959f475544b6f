/** A solve whose proof is written down and replayed at once. */
import type { Problem } from '../../solver/problem.ts'
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

/** What a proof does not bear out of a result; none = all of it. */
export function unproven(result: SolveResult, r: Replay): string[] {
  const out = [...r.failures]
  if (result.status === 'infeasible' && !r.bounds.some((b) => b.goal === 'none'))
    out.push('nothing says that there is no layout')
  if (result.status !== 'optimal' && result.status !== 'feasible') return out
  for (const o of result.objectives) {
    const most = o.name === 'free-tie-points' || o.name === 'optional-value'
    const beyond = r.bounds.filter((b) => b.goal === o.name).map((b) => b.value)
    if (beyond.length === 0) {
      if (o.value !== 0 || o.bound !== 0) out.push(`nothing bounds ${o.name}`)
      continue
    }
    // what is refuted, in the result's unit: optional values are counted in whole parts of one
    const best = most ? Math.min(...beyond) : Math.max(...beyond)
    if (o.name === 'optional-value') continue
    const said = o.name === 'balance' ? best : most ? best - 1 : best + 1
    if (Math.abs(said - o.bound) > (o.name === 'balance' ? 0.02 : 0))
      out.push(`${o.name} is bounded by ${said}, not by ${o.bound}`)
  }
  return out
}

export const replayed = (proof: Proof): Replay => replay(proof.lines)
