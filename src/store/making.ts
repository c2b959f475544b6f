/** What of a layout is still to be made, and what of it is in the decks already, in words. */
import type { Placement, Problem } from '../../solver/index.ts'
import { type NewHoles, newHoles } from '../model/index.ts'
import type { View } from './view.ts'

/** Why nothing can be made of what is on show; undefined where it can. */
export function notReady(view: View, carried: boolean): string | undefined {
  const { problem, placements, findings } = view
  const missing = problem.items.some((item, i) => item.required && !placements.some((p) => p.item === i))
  return carried || findings.length > 0 || missing
    ? 'A template is made of a layout in which nothing is wrong.'
    : undefined
}

/** Whether a deck has been made already, as far as the project tells: something of it was built before. */
export const isBuilt = (problem: Problem): boolean =>
  problem.decks.some((d) => [...d.holes, ...d.openings].some(({ id }) => /^built-/.test(id)))

const counted = (n: number, one: string): string => `${n} ${n === 1 ? one : `${one}s`}`

/** What the cuts of a layout are called: slots for straps, cut-outs for what is dropped in. */
function cutsCalled(problem: Problem, placements: readonly Placement[], n: number, fresh = ''): string {
  const has = (kind: 'strap' | 'drop-in'): boolean =>
    placements.some((p) => problem.items[p.item]?.footprint.mount.kind === kind)
  if (has('strap') && has('drop-in')) return n === 1 ? `1 ${fresh}slot or cut-out` : `${n} ${fresh}slots and cut-outs`
  return counted(n, `${fresh}${has('drop-in') ? 'cut-out' : 'slot'}`)
}

export interface Making {
  /** What `built` is about to do: `14 holes and 2 slots become part of the deck.`; undefined where there is nothing new. */
  readonly becomes: string | undefined
  /** `This layout reuses 10 holes, needs 4 new holes.` */
  readonly reuse: string
}

/** How much of a layout is to be made and how much is there, in all decks together. */
export function making(problem: Problem, placements: readonly Placement[]): Making {
  const sum = (of: (c: NewHoles) => number): number => counts.reduce((n, c) => n + of(c), 0)
  const counts = newHoles(problem, placements)
  const amounts = (holes: number, cuts: number, said = ''): string =>
    [holes > 0 ? counted(holes, `${said}hole`) : '', cuts > 0 ? cutsCalled(problem, placements, cuts, said) : '']
      .filter((text) => text !== '')
      .join(' and ')
  const [holes, cuts] = [sum((c) => c.new), sum((c) => c.newCuts)]
  const old = amounts(
    sum((c) => c.reused),
    sum((c) => c.reusedCuts),
  )
  const fresh = amounts(holes, cuts)
  const one = holes + cuts === 1
  const decks = problem.decks.length === 1 ? 'the deck' : one ? 'its deck' : 'their decks'
  return {
    becomes: fresh ? `${fresh} ${one ? 'becomes' : 'become'} part of ${decks}.` : undefined,
    reuse: old
      ? `This layout reuses ${old}${fresh ? `, needs ${amounts(holes, cuts, 'new ')}.` : ', and needs no new one.'}`
      : fresh
        ? `This layout needs ${fresh}, all new.`
        : 'Nothing in this layout asks for a hole.',
  }
}
