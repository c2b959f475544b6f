/** One objective: improve to proof, under what is held of those before it. */

import { Around } from './improve/around.ts'
import { byCombination, FEW } from './improve/by-combination.ts'
import { ByDeals } from './improve/by-deals.ts'
import { PATIENCE, Pursuit, type Setting } from './improve/pursuit.ts'
import { Ways } from './improve/ways.ts'
import type { ObjectiveValue } from './result.ts'
import type { Goal } from './search/goals.ts'

/** Conflicts in a brief one at a sum. */
const BRIEF = 300

/** In a brief one at wires: with fewer small decks take a quarter more steps to their proof, with more large ones stand still for longer. */
const BRIEF_WIRES = 1000

export interface Outcome {
  /** Value and bound in the goal's whole numbers. */
  readonly value: number
  readonly bound: number
  readonly proven: boolean
}

/**
 * Improves one goal under literals of earlier ones, to proof or until the clock says so. `start`: the value of the best layout.
 * `known`: a bound that holds already.
 */
export function* improve(by: Setting, start: number, known?: number): Generator<undefined, Outcome> {
  const { model, search, goal, clock } = by
  const { e } = model
  e.backTo(0)
  goal.begin?.()
  const p = new Pursuit(by, start, known)
  const around = new Around(p)
  const { coarse, grain } = p
  // a whole sum is best halved: what is far below the best wiring is refuted as soon as what is far above is found
  const part = coarse ? 16 : 2
  /** How far beyond the best the next try aims: grows with success, shrinks with failure or when a try takes long. */
  let stride = Math.max(grain, p.gap / part)
  let patience = PATIENCE
  search.followOut = !coarse
  search.choices = goal.choices ?? search.choices
  search.wanted = goal.wanted ? (b, axis) => goal.wanted!(b, axis) : undefined
  p.polish()
  p.tell()
  e.backTo(0)
  const few = goal.combinations?.()
  const ways = new Ways(p, few !== undefined)
  /** Is the next try for whatever is better? */
  let least = false
  /** Once a try takes long, bodies are dealt out to the decks by their wires: left to the best layout so far, they mostly stay on theirs. */
  let deals: ByDeals | undefined
  while (!p.isDone) {
    const near = p.gap <= 2 * grain || least
    const reach = near ? goal.step : Math.max(Math.min(grain, p.gap), Math.min(stride, p.gap / 2))
    const last = !least && (near || reach <= grain)
    const aim = p.beyond(p.value, goal.step === 1 ? Math.max(1, Math.floor(reach)) : reach)
    const conflicts = few ? FEW / 2 : last ? patience * 8 : patience
    search.sparse = ways.now === 'sparing'
    const verdict = yield* p.attempt(aim, ways.now === 'patient' ? conflicts : coarse ? BRIEF : BRIEF_WIRES)
    const turned = ways.turn(verdict)
    search.sparse = ways.sparing
    if (turned) {
      if (!coarse) yield* around.rounds(4)
      continue
    }
    least = false
    if (verdict === 'found') {
      if (!coarse && p.gap < p.value / 2) {
        // where nothing near is better, mostly nothing is: one refutation instead of one for each half of the gap
        yield* around.rounds(4)
        least = true
      }
      stride = coarse ? stride * 2 : p.gap / part
    } else if (verdict === 'none') stride = Math.max(grain, coarse ? stride / 2 : p.gap / part)
    else {
      if (few) {
        yield* byCombination(p, around, few, patience)
        break
      }
      deals ??= yield* ByDeals.of(p, around)
      if (deals && p.isFar) {
        yield* deals.untilNear()
        if (clock.over()) break
        continue
      }
      if (deals) yield* deals.rounds(10)
      yield* around.rounds(coarse ? 6 : 12)
      // what cannot be found may be refuted from the other side, a little at a time
      const more = Math.floor(Math.min(p.rise, p.gap / 4))
      if (!coarse && more > grain && !clock.over()) {
        const refuted = (yield* p.attempt(p.beyond(p.bound, -more), patience)) === 'none'
        p.rise = refuted ? more * 2 : more / 4
      }
      if (clock.over()) break
      stride = Math.max(grain, stride / 4)
      if (last) patience *= 2
    }
  }
  search.sparse = false
  return { value: p.value, bound: p.bound, proven: p.isDone }
}

/** The result's form of an outcome. */
export function objectiveOf(
  name: ObjectiveValue['name'],
  goal: Goal | undefined,
  out: Outcome | undefined,
): ObjectiveValue {
  if (!goal || !out) return { name, value: 0, bound: 0, proven: true }
  const tidy = (x: number) => Math.round(x * goal.scale * 1e6) / 1e6
  return { name, value: tidy(out.value), bound: tidy(out.bound), proven: out.proven }
}
