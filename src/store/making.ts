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

const counted = (n: number, one: string): string => `${n} ${n === 1 ? one : `${one}s`}`

function amounts(holes: number, cuts: number): string {
  const parts: string[] = []
  if (holes > 0) parts.push(counted(holes, 'hole'))
  if (cuts > 0) parts.push(cuts === 1 ? '1 slot or cut-out' : `${cuts} slots and cut-outs`)
  return parts.join(' and ')
}

/** How much is new in all decks together. */
export const sumOf = (counts: readonly NewHoles[]): { holes: number; cuts: number } => ({
  holes: counts.reduce((n, c) => n + c.new, 0),
  cuts: counts.reduce((n, c) => n + c.newCuts, 0),
})

export const countsOf = (problem: Problem, placements: readonly Placement[]): readonly NewHoles[] =>
  newHoles(problem, placements)

/** What `built` is about to do: `14 holes and 2 slots and cut-outs become part of the deck.`; undefined where there is nothing new. */
export function becomes(problem: Problem, counts: readonly NewHoles[]): string | undefined {
  const { holes, cuts } = sumOf(counts)
  if (holes + cuts === 0) return undefined
  const one = holes + cuts === 1
  const where = problem.decks.length === 1 ? 'the deck' : 'their decks'
  return `${amounts(holes, cuts)} ${one ? 'becomes' : 'become'} part of ${one && problem.decks.length > 1 ? 'its deck' : where}.`
}

/** `This layout reuses 10 holes, needs 4 new.` */
export function reuse(counts: readonly NewHoles[]): string {
  const old = amounts(
    counts.reduce((n, c) => n + c.reused, 0),
    counts.reduce((n, c) => n + c.reusedCuts, 0),
  )
  const { holes, cuts } = sumOf(counts)
  const fresh = amounts(holes, cuts)
  if (!old && !fresh) return 'Nothing in this layout asks for a hole.'
  if (!old) return `This layout needs ${fresh}, all new.`
  return fresh ? `This layout reuses ${old}, needs ${fresh} new.` : `This layout reuses ${old}, and needs no new one.`
}
