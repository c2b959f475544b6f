/** What was heard of a solve before it was cut off, as a result: the best layout, and what its bounds are known to be. */
import {
  type Figures,
  figureOf,
  figures,
  isMost,
  isProven,
  type ObjectiveName,
  type ObjectiveValue,
  objectivesOf,
  type Placement,
  type Problem,
  type Progress,
  type SolveResult,
} from '../../solver/index.ts'

export interface Heard {
  best?: readonly Placement[]
  /** The last bound told of each objective. */
  readonly bounds: Map<ObjectiveName, number>
}

export function hearProgress(heard: Heard, progress: Progress): void {
  const { phase, bound, placements } = progress
  if (placements) heard.best = placements
  // another search begins: what was bound with the values of the one before is no bound of this one
  if (phase === 'legal') heard.bounds.clear()
  if (bound === undefined || phase === 'legal' || phase === 'moves') return
  heard.bounds.set(phase, bound)
}

/**
 * `unknown` where no layout was heard of. An objective that was not reached has the bound that holds for any layout. `known`: the best
 * layout's figures, where they were worked out before.
 */
export function bestSoFar(problem: Problem, heard: Heard, known?: Figures): SolveResult {
  const { best, bounds } = heard
  if (!best) return { status: 'unknown' }
  const measured = known ?? figures(problem, best)
  const objectives = objectivesOf(problem).map((name): ObjectiveValue => {
    const value = figureOf(name, measured)
    const told = bounds.get(name) ?? anyLayout(problem, name)
    // what came after an objective was settled may have gained a little on it
    const bound = isMost(name) ? Math.max(told, value) : Math.min(told, value)
    return { name, value, bound, proven: isProven({ name, value, bound }) }
  })
  const status = objectives.every((o) => o.proven) ? 'optimal' : 'feasible'
  return { status, objectives, placements: best, figures: measured }
}

/**
 * What of the bounds of one layout holds for another: a bound is told with the goals before it at their values (contract §5), so those up to the first goal
 * in which the two differ.
 */
export function boundsShared(problem: Problem, bounds: Heard['bounds'], one: Figures, other: Figures): Heard['bounds'] {
  const shared: Heard['bounds'] = new Map()
  for (const name of problem.objective) {
    const bound = bounds.get(name)
    if (bound !== undefined) shared.set(name, bound)
    if (figureOf(name, one) !== figureOf(name, other)) break
  }
  return shared
}

export const boundsIn = (objectives: readonly ObjectiveValue[]): Heard['bounds'] =>
  new Map(objectives.map((o) => [o.name, o.bound]))

/** A bound that holds whatever the layout. */
function anyLayout(problem: Problem, name: ObjectiveName): number {
  switch (name) {
    case 'free-tie-points':
      return problem.items.reduce((sum, { footprint: f }) => {
        if (f.mount.kind === 'plug-in') return sum
        return sum + (f.breadboard?.blocks ?? []).reduce((n, b) => n + b.columns * b.rows, 0)
      }, 0)
    case 'optional-value':
      return problem.items.reduce((sum, i) => sum + (i.required ? 0 : Math.max(0, i.value)), 0)
    case 'new-holes':
    case 'wire-length':
    case 'balance':
      return 0
  }
}
