/**
 * Grids too fine to be searched whole: what is found on every so-manieth line is legal. That nothing is found there proves nothing, and
 * of bounds only those count that hold wherever bodies stand.
 */
import { mostByArea } from './bounds/most-by-area.ts'
import type { Item, Problem } from './problem.ts'
import { isProven } from './proven.ts'
import type { ObjectiveValue, SolveResult } from './result.ts'
import { tieCount } from './search/parts.ts'
import { bounds, prepare } from './shapes.ts'
import { um } from './units.ts'

/** Positions (over all bodies and modes) beyond which bitmaps take too much time and room. */
const MOST_CELLS = 4e7

/** The same for a drag, whose model is to stand before the hand has moved far. */
export const DRAG_CELLS = 8e6

/** The same problem on a grid that can be searched; undefined where its own can. */
export function coarsened(problem: Problem, most = MOST_CELLS): Problem | undefined {
  let cells = 0
  for (const item of problem.items) {
    if (item.footprint.mount.kind === 'plug-in') continue
    for (const d of item.decks) {
      const box = bounds(prepare(problem.decks[d]!.outline))
      cells += ((box.w / problem.grid) * (box.h / problem.grid) * item.turns.length) / copiesOf(problem, item)
    }
  }
  const times = Math.ceil(Math.sqrt(cells / most))
  return times <= 1 ? undefined : { ...problem, grid: um(problem.grid * times) }
}

/** Copies share their maps. */
const copiesOf = (problem: Problem, item: Item): number => problem.items.filter((o) => o.base === item.base).length

/** What a result on the coarse grid is worth on the fine one: a layout, and the bounds that hold wherever bodies stand. */
export function onFineGrid(problem: Problem, result: SolveResult): SolveResult {
  if (result.status === 'infeasible' || result.status === 'unknown') return { status: 'unknown' }
  const objectives = result.objectives.map((o): ObjectiveValue => {
    const bound = anywhere(problem, o)
    return { ...o, bound, proven: isProven({ ...o, bound }) }
  })
  return { ...result, status: objectives.every((o) => o.proven) ? 'optimal' : 'feasible', objectives }
}

function anywhere(problem: Problem, o: ObjectiveValue): number {
  switch (o.name) {
    case 'free-tie-points':
      return Math.floor(
        byArea(problem, (i) => (i.footprint.mount.kind === 'plug-in' ? 0 : tieCount(i.footprint))) + 1e-6,
      )
    case 'optional-value':
      // values have at most six decimals, and sums of doubles a trifle more
      return Math.floor(byArea(problem, (i) => (i.required ? 0 : Math.max(0, i.value))) * 1e6 + 0.5) / 1e6
    case 'new-holes':
    case 'wire-length':
    case 'balance':
      return 0
  }
}

const byArea = (problem: Problem, worth: (item: Item) => number): number =>
  mostByArea(
    problem,
    (i) => worth(problem.items[i]!),
    (i) => (problem.items[i]!.required ? true : undefined),
  )
