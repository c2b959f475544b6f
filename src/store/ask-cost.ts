/** What a hold costs: the best layout without it against the best with it, as far as both are known. */
import { isMost, type ObjectiveName, type SolveResult } from '../../solver/index.ts'

export type HoldCost =
  /** Proven: the best with it is as good. */
  | { readonly kind: 'nothing' }
  /** Between `least` and `most` (contacts, value, holes; Um of lengths), of the first goal in which the two differ or may. */
  | { readonly kind: 'cost'; readonly goal: ObjectiveName; readonly least: number; readonly most: number }
  /** With it nothing fits, without it something does. */
  | { readonly kind: 'everything' }
  /** Nothing fits, with it or without it. */
  | { readonly kind: 'neither' }
  /** One of the two was not found in time. */
  | { readonly kind: 'unknown' }

/** How near two values of balance are the same, Um (contract §5). */
const CLOSE = 10

/** `without` and `held` are answers in the project's order of goals, to the same problem. */
export function costOf(without: SolveResult, held: SolveResult): HoldCost {
  if (without.status === 'infeasible') return { kind: 'neither' }
  if (held.status === 'infeasible' && 'objectives' in without) return { kind: 'everything' }
  if (!('objectives' in without) || !('objectives' in held)) return { kind: 'unknown' }
  for (const [i, free] of without.objectives.entries()) {
    const fixed = held.objectives[i]
    if (!fixed || fixed.name !== free.name) return { kind: 'unknown' }
    const sign = isMost(free.name) ? 1 : -1
    // the best without the hold lies between its value and its bound, and the best with it likewise; it is never better
    const least = Math.max(0, (free.value - fixed.bound) * sign)
    const worst = Math.max(0, (free.bound - fixed.value) * sign)
    const same = free.name === 'balance' ? CLOSE : 0
    if (worst > same) return { kind: 'cost', goal: free.name, least, most: worst }
  }
  return { kind: 'nothing' }
}
