import type { Placement, Problem } from '../problem.ts'
import type { Figures } from '../result.ts'

/** What a layout measures (contract §5), worked out from the placements alone. */
export function figures(_problem: Problem, _placements: readonly Placement[]): Figures {
  throw new Error('being written')
}
