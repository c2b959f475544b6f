/** What of a layout is still to be made, and what of it is in the decks already, in words. */
import type { Placement, Problem } from '../../solver/index.ts'
import { type NewHoles, newHoles } from '../model/index.ts'
import { words } from '../words/index.ts'
import type { View } from './view.ts'

/** Why nothing can be made of what is on show; undefined where it can. */
export function notReady(view: View, carried: boolean): string | undefined {
  const { problem, placements, findings } = view
  const missing = problem.items.some((item, i) => item.required && !placements.some((p) => p.item === i))
  return carried || findings.length > 0 || missing ? words.making.notReady : undefined
}

/** Whether a deck has been made already, as far as the project tells: something of it was built before. */
export const isBuilt = (problem: Problem): boolean =>
  problem.decks.some((d) => [...d.holes, ...d.openings].some(({ id }) => /^built-/.test(id)))

/** What the cuts of a layout are called: slots for straps, cut-outs for what is dropped in. */
function cutsCalled(problem: Problem, placements: readonly Placement[]): 'slots' | 'cut-outs' | 'both' {
  const has = (kind: 'strap' | 'drop-in'): boolean =>
    placements.some((p) => problem.items[p.item]?.footprint.mount.kind === kind)
  return has('drop-in') ? (has('strap') ? 'both' : 'cut-outs') : 'slots'
}

export interface Making {
  /** What `built` is about to do: `14 holes and 2 slots become part of the deck.`; undefined where there is nothing new. */
  readonly becomes: string | undefined
  /** `This layout reuses 10 holes, needs 4 new holes.` */
  readonly reuse: string
}

/** How much of a layout is to be made and how much is there, in all decks together. */
export function making(problem: Problem, placements: readonly Placement[]): Making {
  const counts = newHoles(problem, placements)
  const sum = (of: (c: NewHoles) => number): number => counts.reduce((n, c) => n + of(c), 0)
  const called = cutsCalled(problem, placements)
  const fresh = { holes: sum((c) => c.new), cuts: sum((c) => c.newCuts), called }
  const old = { holes: sum((c) => c.reused), cuts: sum((c) => c.reusedCuts), called }
  return {
    becomes: fresh.holes + fresh.cuts > 0 ? words.making.becomes(fresh, problem.decks.length) : undefined,
    reuse: words.making.reuse(old, fresh),
  }
}
