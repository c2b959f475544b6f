/** How good a layout could be at most: what searches of one problem have told, kept from one search to the next. */
import {
  asShown,
  type Figures,
  figureOf,
  isMost,
  isProven,
  type ObjectiveName,
  type ObjectiveValue,
  type Placement,
  type Problem,
  type Solved,
} from '../../solver/index.ts'
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

/** Undefined where there is nothing to balance. */
const valueIn = (name: ObjectiveName, measured: Figures): number | undefined =>
  name === 'balance' ? measured.balance : figureOf(name, measured)

const same = (name: ObjectiveName, one: number, other: number): boolean => asShown(name, one) === asShown(name, other)

/** They have the same figures as these are read. */
export const readsSame = (problem: Problem, one: readonly Placement[], other: readonly Placement[]): boolean =>
  problem.objective.every((name) =>
    same(name, figureOf(name, figuresOf(problem, one)), figureOf(name, figuresOf(problem, other))),
  )

/**
 * What is known of a layout beside the best answer: the same bounds hold for it, as far as it is as good in all goals before. A figure that reads
 * as the best one does is as good: nobody is told to take a layout for what cannot be seen.
 */
export function besideBest(best: Solved, measured: Figures): Solved {
  const objectives: ObjectiveValue[] = []
  for (const o of best.objectives) {
    const value = valueIn(o.name, measured)
    if (value === undefined) continue
    const alike = same(o.name, value, o.value)
    const proven = isProven({ ...o, value }) || (alike && o.proven)
    objectives.push({ ...o, value, proven })
    if (!proven && !alike) break
  }
  const status =
    objectives.length === best.objectives.length && objectives.every((o) => o.proven) ? 'optimal' : 'feasible'
  return { ...best, status, objectives, figures: measured }
}
