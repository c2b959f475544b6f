/** Heights over the ground, in millimetres: where a body begins and ends. */
import type { Placement, Problem } from '../../solver/index.ts'

export interface Heights {
  readonly low: number
  readonly top: number
  /** Top with the height that is reserved on it. */
  readonly stacked: number
}

export function heightsOf(problem: Problem, placements: readonly Placement[], placement: Placement): Heights {
  const item = problem.items[placement.item]
  const deck = problem.decks[placement.deck]
  if (!item || !deck) return { low: 0, top: 0, stacked: 0 }
  const { mount, height } = item.footprint
  let low = deck.z / 1000
  if (mount.kind === 'screw') low += mount.standoff / 1000
  else if (mount.kind === 'drop-in') low -= mount.below / 1000
  else if (mount.kind === 'plug-in') {
    const host = placements.find((p) => p.item === placement.host && p.item !== placement.item)
    if (host) low = heightsOf(problem, placements, host).top
  }
  const top = low + height / 1000
  return { low, top, stacked: top + item.stack / 1000 }
}
