/** How good a layout could be at most: what searches of one problem have told, kept from one search to the next. */
import { isMost, type Placement, type Problem } from '../../solver/index.ts'
import { boundsIn, boundsShared, type Heard } from '../worker/best.ts'
import type { Answer } from './document.ts'
import { figuresOf } from './judged.ts'

/** What was told by the end of a search, or so far. */
export const toldBy = (answer: Answer | undefined, sofar: Heard['bounds'] | undefined): Heard['bounds'] => {
  if (answer?.kind !== 'result') return answer?.bounds ?? sofar ?? new Map()
  return 'objectives' in answer.result ? boundsIn(answer.result.objectives) : new Map()
}

/** The closest bounds that hold for a layout, of what was told of it and of others: no search takes back what another has proven. */
export function closest(problem: Problem, placements: readonly Placement[], all: readonly Heard[]): Heard['bounds'] {
  const bounds: Heard['bounds'] = new Map()
  for (const { best, bounds: told } of all)
    for (const [name, bound] of shared(problem, told, best, placements)) {
      const other = bounds.get(name)
      bounds.set(name, other === undefined ? bound : (isMost(name) ? Math.min : Math.max)(other, bound))
    }
  return bounds
}

function shared(
  problem: Problem,
  told: Heard['bounds'],
  of: readonly Placement[] | undefined,
  placements: readonly Placement[],
): Heard['bounds'] {
  if (of === placements) return told
  if (of) return boundsShared(problem, told, figuresOf(problem, of), figuresOf(problem, placements))
  // Told without a layout, only the first goal's depends on none.
  const [first] = problem.objective
  return new Map([...told].filter(([name]) => name === first))
}
