/** What there is to show of one sheet: its layout, findings, figures and sentences, worked out once for each layout. */
import type { Figures, Finding, ObjectiveValue, Placement, Problem, Solved, SolveResult } from '../../solver/index.ts'
import { words } from '../words/index.ts'
import { bestSoFar } from '../worker/best.ts'
import { firstOpen, type Reached, reachedOf } from './ask-words.ts'
import { type ConflictLine, conflictLines, holdsNamed } from './conflict.ts'
import type { Sheet } from './document.ts'
import { figuresOf, findingsOf } from './judged.ts'
import { placementOf, samePlace } from './moves.ts'
import { because, called, inMm, listed, verdict, within } from './sentences.ts'
import { mayBeBetter, worse } from './solves.ts'

import { type Carry, type State, shown } from './state.ts'
import { stoodBefore } from './stood.ts'
import { besideBest, readsSame, toldBy } from './told.ts'

export { figuresOf, findingsOf }

export interface View {
  readonly sheet: Sheet
  readonly problem: Problem
  readonly placements: readonly Placement[]
  /** While nothing has a place: where things stood in the last layout of this variant that kept every rule. */
  readonly stood: readonly Placement[] | undefined
  /** Undefined where there is nothing to measure, or what stands there cannot be: while a part is carried it may be anywhere. */
  readonly figures: Figures | undefined
  readonly findings: readonly Finding[]
  /** What is reached in each goal and how much better it could be, in the project's order; none where the layout is not legal. */
  readonly goals: readonly Reached[]
  /** Whether the solver is at work on what is shown. */
  readonly looking: boolean
  /** The sentence under the card. */
  readonly verdict: string
  /** Sentences at the head of the findings sheet, most important first. */
  readonly notes: readonly string[]
  /** Why nothing fits, where that is so: sentences that cannot hold together, with the ids that each is about. */
  readonly conflict: readonly { readonly text: string; readonly items: readonly string[] }[]
  /** Whether there is no sound layout as asked: nothing fits, none was found in time, or the search broke off. */
  readonly stuck: boolean
  /** Whether there is no layout, though nothing says that there cannot be one: it was not found. */
  readonly missing: boolean
  /** Whether the layout is one of the user's own, and something better is known. */
  readonly better: boolean
  /** Whether it is proven to be the best with what is held, and not without. */
  readonly bestHeld: boolean
  /** Whether looking on could find more: the search ended before it was through. */
  readonly open: boolean
}

/** What moved of itself after a hand had moved something: the solver's part, in words. */
function movedNotes(sheet: Sheet): string[] {
  const { before, placements, problem } = sheet
  if (!before || !placements || sheet.anew) return []
  const moved = before.flatMap((old) => {
    const item = problem.items[old.item]
    const now = placementOf(placements, old.item)
    if (!item || sheet.holds.includes(item.id) || samePlace(old, now)) return []
    if (old.host !== undefined && old.host === now?.host && sheet.holds.includes(problem.items[old.host]?.id ?? ''))
      return []
    const name = called(item.id)
    if (!now) return [words.solves.leftOut(name)]
    if (now.deck !== old.deck) return [words.solves.otherDeck(name)]
    const far = Math.abs(now.at.x - old.at.x) + Math.abs(now.at.y - old.at.y)
    return [far > 0 ? words.solves.moved(name, inMm(far)) : words.solves.turned(name)]
  })
  return [moved.length === 0 ? words.solves.stayed : words.solves.madeRoom(moved)]
}

const bestOf = (result: SolveResult | undefined): Solved | undefined =>
  result && 'objectives' in result ? result : undefined

/** `best`: what was proven of the layout on show, once that is known; `free`: it is known of layouts that hold nothing, where this holds something. */
function goalsNow(
  state: State,
  sheet: Sheet,
  placements: readonly Placement[],
  best: Solved | undefined,
  free: boolean,
): Reached[] {
  const { problem } = sheet
  const known = state.known.get(problem)
  const answer = answerTo(state, sheet)
  const running = !answer
  if (!running && best) return best.objectives.map((o) => reachedOf(o, false, free ? 'freed' : undefined))
  const bounds = toldBy(answer, sheet.placements ? state.trialBounds.get(sheet) : known?.bounds)
  // Bounds are told often while a layout stays: it is measured once.
  const sofar = bestSoFar(problem, { best: placements, bounds }, figuresOf(problem, placements))
  // with holds nothing is better than without, so what is known of the whole holds here too
  const whole = known?.answer?.kind === 'result' && best ? best : undefined
  const now = 'objectives' in sofar ? sofar.objectives : []
  return now.map((o, i) => reachedOf(tighter(o, whole?.objectives[i]), running))
}

function tighter(o: ObjectiveValue, other: ObjectiveValue | undefined): ObjectiveValue {
  if (other?.name !== o.name || other.value !== o.value) return o
  return Math.abs(other.bound - o.value) < Math.abs(o.bound - o.value) ? other : o
}

function carriedWords(carry: Carry, findings: number): string {
  if (findings === 0) return words.solves.fits
  const { preview, placements } = carry
  if (!preview) return words.solves.fitsNot
  const moved = preview.filter((p) => !samePlace(p, placementOf(placements, p.item))).length
  return words.solves.wouldMakeRoom(moved, placements.filter((p) => !placementOf(preview, p.item)).length)
}

/** So many sentences are still read on a card. */
const FEW = 3

function cannotFit(problem: Problem, lines: readonly ConflictLine[], held: string): string {
  const names = new Set(lines.flatMap((l) => l.items))
  const items = problem.items.filter((item) => names.has(item.id)).map((item) => called(item.id))
  return lines.length <= FEW || items.length < 2
    ? words.solves.cannotFit(held, because(lines.map((l) => within(problem, l.text))))
    : words.solves.notTogether(held, items.slice(0, FEW), Math.max(0, items.length - FEW))
}

const answerTo = (state: State, sheet: Sheet) => (sheet.placements ? sheet : state.known.get(sheet.problem))?.answer

/** How many variants have heard the last word on what they show, in words; that nothing was found says nothing of them. */
export function progressOf(state: State): string {
  const { sheets } = state.history.doc
  const ended = sheets.filter((s) => answerTo(state, s))
  const told = ended.filter((s) => {
    const answer = answerTo(state, s)
    const never = answer?.kind === 'result' && answer.result.status === 'infeasible'
    return never || s.problem.items.length === 0 || shown(state, s).length > 0
  })
  return words.variants.progress(told.length, sheets.length, ended.length - told.length)
}

const heldThere = (ids: readonly string[]): string =>
  ids.length > 0 ? words.solves.heldThere(listed(ids.map(called))) : ''

export function viewOf(state: State, index: number): View | undefined {
  const sheet = state.history.doc.sheets[index]
  if (!sheet) return undefined
  const { problem } = sheet
  const carry = index === state.active ? state.carry : undefined
  const placements = carry?.placements ?? shown(state, sheet)
  const known = state.known.get(problem)
  const own = sheet.placements !== undefined
  const answer = answerTo(state, sheet)
  const result = answer?.kind === 'result' ? answer.result : undefined
  const best = known?.answer?.kind === 'result' ? known.answer.result : undefined
  const bestSolved = best && 'objectives' in best ? best : undefined
  const nothing = placements.length === 0 && problem.items.length > 0
  const measured = nothing ? undefined : figuresOf(problem, placements)
  const findings = nothing ? [] : findingsOf(problem, placements)
  // A layout of one's own that keeps all rules is one, whether or not the solver came so far as to say so.
  const noneFound = own && result?.status === 'unknown' && (nothing || findings.length > 0)
  // without holds the best of the whole answers the same question
  const bestAtHand = !nothing && sheet.holds.length === 0 && bestSolved !== undefined
  const stuck = answer?.kind === 'failed' || result?.status === 'infeasible' || noneFound
  const conflict = !carry && result?.status === 'infeasible' ? conflictLines(problem, result.conflict) : []
  const compared = own && bestSolved && measured && findings.length === 0 ? besideBest(bestSolved, measured) : undefined
  // The whole question was asked with what is held, and answered: nothing better is to be had before something is freed.
  const bestHeld =
    sheet.anew && result?.status === 'optimal' && compared?.status !== 'optimal' ? bestOf(result) : undefined
  // Nothing better is known of the whole, though it may not be proven; with holds it is asked for what they allow.
  const asGood =
    sheet.holds.length === 0 &&
    findings.length === 0 &&
    known?.placements !== undefined &&
    (!worse(problem, placements, known.placements) || readsSame(problem, placements, known.placements))
  const held = heldThere(sheet.holds)
  // Where nothing fits without any hold none is to blame.
  const members = result?.status === 'infeasible' && best?.status !== 'infeasible' ? result.conflict : []
  const heldInWay = heldThere(holdsNamed(sheet, placements, members))

  const goals =
    nothing || carry || findings.length > 0
      ? []
      : bestHeld
        ? bestHeld.objectives.map((o) => reachedOf(o, false, 'held'))
        : goalsNow(state, sheet, placements, compared ?? bestOf(result), !!compared && sheet.holds.length > 0)
  const say = (): string => {
    if (carry) return carriedWords(carry, findings.length)
    if (problem.items.length === 0) return words.solves.empty
    if (!answer) {
      const open = firstOpen(goals)
      return open ? words.solves.lookingFor(open.text) : words.solves.looking
    }
    if (answer.kind === 'failed') return words.solves.brokeOff(answer.error)
    if (answer.kind === 'stopped') return words.solves.stopped(nothing)
    if (answer.result.status === 'infeasible') return cannotFit(problem, conflict, heldInWay)
    if (noneFound) return bestAtHand ? words.solves.noneNear : words.solves.noLayout(held)
    if (bestHeld) return words.solves.bestPossibleHeld
    if (compared) return verdict(problem, compared)
    return own && findings.length === 0 ? words.solves.fitsAll : verdict(problem, answer.result)
  }

  const notes: string[] = []
  if (!carry && sheet.lost) notes.push(words.solves.holdsLost(listed(sheet.lost.map(called)), sheet.lost.length === 1))
  if (!carry && own && result && !stuck) notes.push(...movedNotes(sheet))
  if (!carry && answer?.kind === 'result' && answer.short) notes.push(words.solves.short, ...answer.short)
  if (!carry && result?.status === 'infeasible') notes.push(words.solves.nothingFits(heldInWay))
  return {
    sheet,
    problem,
    placements,
    stood: nothing && !carry ? stoodBefore(state, sheet) : undefined,
    figures: carry || (findings.length === 0 && result?.status !== 'infeasible') ? measured : undefined,
    findings,
    goals,
    looking: !answer,
    verdict: say(),
    notes,
    conflict,
    stuck,
    missing: nothing && !!answer && !stuck,
    better:
      own &&
      !carry &&
      !!answer &&
      !bestHeld &&
      !asGood &&
      compared?.status !== 'optimal' &&
      result?.status !== 'infeasible',
    bestHeld: bestHeld !== undefined,
    open: !own && !carry && !!answer && mayBeBetter(answer),
  }
}
