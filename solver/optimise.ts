/** The objectives, one after the other: improve to proof, then hold that value and go on to the next. */
import { figures } from './check/figures.ts'
import { deckByDeck } from './decks.ts'
import type { Placement } from './problem.ts'
import type { ObjectiveValue, Progress } from './result.ts'
import type { Combination, Combinations } from './search/combinations.ts'
import type { Goal } from './search/goals.ts'
import type { Model } from './search/model.ts'
import { Dice, holdMost, leftOut } from './search/neighbourhood.ts'
import { Redeal } from './search/redeal.ts'
import type { Search, Stage, Verdict } from './search/search.ts'

/** The first tries for one combination of a sum's parts are this short. */
const FEW_CONFLICTS = 1000

/** What the gap must be of the value for decks to be dealt out anew: nearer than that the present ones are mostly right. */
const FAR = 0.1

/** Conflicts in a try. */
const PATIENCE = 3000

/** Conflicts in a first try. */
const BRIEF = 300

/** Conflicts in a round in which some bodies may change decks: most that find anything find it sooner. */
const REDEAL = 250

/** In one where none has found anything for long: from some layouts only much at once leads on. */
const MOST_REDEAL = 2000

/** Such a round aims at so small a part of the gap. */
const LEAPS = 32

/** Pauses a search every few milliseconds; true = stop for good. */
export interface Clock {
  /** Has this slice run long enough? */
  readonly slice: () => boolean
  readonly over: () => boolean
  readonly next: () => void
  /** Where a search that is limited by steps ends, however it is sliced. */
  readonly mostSteps: number
}

export interface Best {
  placements: readonly Placement[]
}

/** Runs a search to its verdict, giving way between slices. */
export function* inSlices(
  search: Search,
  assumptions: readonly number[],
  clock: Clock,
  conflicts = Number.POSITIVE_INFINITY,
): Generator<undefined, Verdict> {
  const until = search.model.e.conflicts + conflicts
  for (;;) {
    if (clock.over() || search.model.e.conflicts >= until || search.steps >= clock.mostSteps) return 'stopped'
    // many short searches make up a slice as well as a long one
    if (clock.slice()) {
      yield undefined
      clock.next()
      if (clock.over()) return 'stopped'
    }
    const verdict = search.run(assumptions, clock.slice, until, clock.mostSteps)
    if (verdict !== 'stopped') return verdict
  }
}

export interface Outcome {
  /** Value and bound in the goal's whole numbers. */
  readonly value: number
  readonly bound: number
  readonly proven: boolean
}

/**
 * Improves one goal under `held` (literals of earlier goals) to proof or until the clock says so. `better` is asked for
 * a polished layout after every improvement and answers its value, or undefined. `known`: a bound that holds already.
 */
export function* improve(
  model: Model,
  search: Search,
  goal: Goal,
  held: readonly number[],
  best: Best,
  start: number,
  clock: Clock,
  tell: (p: Progress) => void,
  polished: (value: number) => { placements: readonly Placement[]; value: number } | undefined,
  known?: number,
): Generator<undefined, Outcome> {
  const { e } = model
  const { sign, step } = goal
  let value = start
  e.backTo(0)
  goal.begin?.()
  let bound = goal.bound()
  if (known !== undefined && (bound - known) * sign > 0) bound = known
  /** What may be left between value and bound of a proven goal. */
  const slack = step === 1 ? 0 : step * 1.001
  const told = () =>
    tell({ phase: nameOf(goal), value: value * goal.scale, bound: bound * goal.scale, steps: search.steps })
  const gap = () => (bound - value) * sign
  const isFar = () => gap() > value * FAR
  /** How far beyond the best the next try aims: grows with success, shrinks with failure or when a try takes long. */
  const grain = goal.grain ?? step
  const coarse = goal.grain === undefined
  // a whole sum is best halved: what is far below the best wiring is refuted as soon as what is far above is found
  const part = coarse ? 16 : 2
  let stride = Math.max(grain, gap() / part)
  // a sum of whole items mostly grows by a rebuilt deck, which a search of its own finds sooner than small changes
  let patience = PATIENCE
  /** How far beyond the bound it is tried to raise it. */
  let rise = gap() / 8
  const dice = new Dice()
  /** Of each wire in the best layout; of what only stands for wires, all the same. */
  const costs = (): number[] => {
    const wires = goal.wires ?? []
    if (goal.name !== 'wire-length') return wires.map(() => 1)
    const lengths = new Map(figures(model.problem, best.placements).wires.map((w) => [w.wire, w.length]))
    return wires.map((w) => w.wire.conductors * (lengths.get(w.index) ?? 0))
  }
  let free = 5
  const asked: { readonly aim: number; readonly guard: number }[] = []
  /** Thresholds for which something was ruled out: who asks for more asks for them as well. */
  const lasting: { readonly aim: number; readonly guard: number }[] = []
  /**
   * A literal that asks for a value. Who asks for more asks for less as well, so that what was learned there holds here; for sums of
   * items it does not pay (2 × the steps on some decks), as each threshold has a propagator of its own.
   */
  const ask = (aim: number): number => {
    const guard = e.newBool()
    goal.require(aim, guard)
    e.log?.asked(goal.name, aim, guard)
    let next: { readonly aim: number; readonly guard: number } | undefined
    for (const a of asked)
      if ((aim - a.aim) * sign >= 0 && !e.isFalse(a.guard) && (!next || (a.aim - next.aim) * sign > 0)) next = a
    if (next && !coarse) e.addClause([e.not(guard), next.guard])
    asked.push({ aim, guard })
    for (const l of lasting) if ((aim - l.aim) * sign >= 0) e.addClause([e.not(guard), l.guard])
    return guard
  }
  const improved = (v: number, placements: readonly Placement[]) => {
    value = v
    best.placements = placements
    search.follow(placements)
    tell({ phase: nameOf(goal), value: value * goal.scale, bound: bound * goal.scale, steps: search.steps, placements })
  }
  const polishNow = () => {
    const p = polished(value)
    if (p && (p.value - value) * sign > 0) improved(p.value, p.placements)
  }
  /** Rounds in which most of the best layout is held, until `stale` of them in a row gain nothing: what a whole search takes long to reach is often near. */
  function* around(stale: number): Generator<undefined, void> {
    let leap = Math.max(grain, step)
    for (let i = 0, idle = 0; idle < stale && gap() > slack && !clock.over(); i++) {
      e.backTo(0)
      const aim = value + sign * Math.min(leap, gap())
      const guard = ask(aim)
      const most = holdMost(model, best.placements, free, i % 4 !== 3, dice)
      if (!coarse) most.push(...leftOut(model, best.placements))
      const verdict = yield* inSlices(search, [...held, guard, ...most], clock, 100)
      if (verdict === 'found') {
        const v = goal.value()
        const placements = search.placements()
        e.backTo(0)
        improved(v, placements)
        polishNow()
        leap *= 2
        idle = 0
      } else {
        leap = Math.max(grain, step)
        idle++
        if (verdict === 'none') free = Math.min(free + 1, best.placements.length)
        else free = Math.max(3, free - 1)
      }
    }
  }
  /** What tries for better layouts aim at once bodies are dealt out. */
  const leap = () => value + sign * Math.max(step, Math.floor(gap() / LEAPS))
  /** Rounds of `most` conflicts in which a few wires' ends may change decks, until `stale` of them in a row gain nothing. */
  function* dealtAnew({ redeal, better }: Deals, stale: number, most = REDEAL): Generator<undefined, void> {
    let dear = costs()
    for (let idle = 0; idle < stale && gap() > slack && !clock.over(); ) {
      e.backTo(0)
      const guard = ask(leap())
      if ((yield* look(guard, redeal.hold(best.placements, dear), most, better)) !== 'found') idle++
      else {
        idle = 0
        yield* around(4)
        dear = costs()
      }
    }
  }
  /** Deals the bodies out to the decks anew while the value is far from its bound: half of the steps for better layouts, half for the bound. */
  function* byDeals(deals: Deals): Generator<undefined, void> {
    const since = search.steps
    let spent = 0
    let most = REDEAL
    while (isFar() && !clock.over()) {
      const before = search.steps
      if (spent <= (before - since) / 2) {
        const more = Math.floor(Math.min(rise, gap() / 6))
        search.follow([])
        // stopped, it goes on next time from what was learned
        if ((yield* attempt(bound - sign * more, PATIENCE, deals.bound)) === 'none') rise = more * 2
        search.follow(best.placements)
        spent += search.steps - before
        continue
      }
      const was = value
      yield* dealtAnew(deals, Math.max(10, (40 * REDEAL) / most), most)
      if (value === was && isFar()) {
        yield* attempt(leap(), PATIENCE, deals.better)
        yield* around(6)
      }
      most = value === was ? Math.min(2 * most, MOST_REDEAL) : REDEAL
    }
  }
  /** Looks for a layout behind `guard`, with `more` in it; `stage` is decided first. */
  function* look(
    guard: number,
    more: readonly number[],
    conflicts: number,
    stage?: Stage,
  ): Generator<undefined, Verdict> {
    search.stage = stage
    const verdict = yield* inSlices(search, [...held, guard, ...more], clock, conflicts)
    search.stage = undefined
    if (verdict === 'found') {
      const v = goal.value()
      const placements = search.placements()
      e.backTo(0)
      improved(v, placements)
      polishNow()
    }
    return verdict
  }
  /** Asks for a value: a layout that has it, a bound that it is beyond, or neither in so many conflicts. */
  function* attempt(aim: number, conflicts: number, stage?: Stage): Generator<undefined, Verdict> {
    e.backTo(0)
    const guard = ask(aim)
    const verdict = yield* look(guard, [], conflicts, stage)
    if (verdict === 'none') {
      e.log?.bound(goal.name, aim, [...held, guard])
      bound = step === 1 ? aim - sign : aim
      if (gap() < 0) bound = value
      told()
    }
    return verdict
  }
  /** Settles a sum of few parts by asking which of them can be there together: what is ruled out there is so for every threshold, and with more parts too. */
  function* byCombination(all: Combinations): Generator<undefined, void> {
    let most = FEW_CONFLICTS
    const decks = deckByDeck(model, clock.over)
    for (let round = 0; gap() > slack && !clock.over(); round++, most *= 3) {
      const tried = new Set<Combination>()
      for (;;) {
        const left = Math.max(value, all.most)
        if (left < bound) yield* attempt(left + 1, Math.max(patience, most))
        const one = all.next(value, tried)
        if (!one || clock.over()) break
        const there = all.within(one, best.placements)
        const aim = value + (there ? Math.ceil((one.most - value) / 2) : 1)
        e.backTo(0)
        const guard = ask(aim)
        // what the best layout does not have is sometimes found sooner far from it
        if (!there && round % 2 === 1) search.follow([])
        search.sparse = true
        const verdict = yield* look(guard, all.lits(one), most, there ? undefined : decks)
        search.sparse = false
        search.follow(best.placements)
        if (verdict === 'found') yield* around(4)
        else if (verdict === 'stopped') tried.add(one)
        else {
          const { core } = search
          e.keep(core.map((l) => e.not(l)))
          const threshold = core.includes(guard)
          if (threshold) lasting.push({ aim, guard })
          all.ruleOut(core, threshold ? aim - 1 : Number.NEGATIVE_INFINITY)
        }
      }
      if (gap() > slack && !clock.over()) yield* around(8)
    }
  }
  search.alike = !coarse
  search.choices = goal.choices ?? search.choices
  search.wanted = goal.wanted ? (b, axis) => goal.wanted!(b, axis) : undefined
  polishNow()
  told()
  e.backTo(0)
  const few = goal.combinations?.()
  /** Is the next try for whatever is better? */
  let least = false
  /** Are tries brief? Until one is stopped: far from what can be had, small changes find sooner what is better. */
  let early = !coarse
  /** Does it pay to leave out whatever an aim does not ask for? Where a first try with all that there is takes long, and one without finds something. */
  let thrift: 'maybe' | 'yes' | 'no' = 'maybe'
  /** Is the next try one that does? */
  let spare = false
  /** Once a try takes long, bodies are dealt out to the decks by their wires: left to the best layout so far, they mostly stay on theirs. */
  let deals: Deals | undefined
  while (gap() > slack) {
    const whole = step === 1
    const near = gap() <= 2 * grain || least
    const reach = near ? step : Math.max(Math.min(grain, gap()), Math.min(stride, gap() / 2))
    const last = !least && (near || reach <= grain)
    const aim = value + sign * (whole ? Math.max(1, Math.floor(reach)) : reach)
    const conflicts = few ? FEW_CONFLICTS / 2 : last ? patience * 8 : patience
    const first = coarse && !few && value === start && thrift !== 'no'
    search.sparse = spare
    const verdict = yield* attempt(aim, first || spare || early ? BRIEF : conflicts)
    if (early && verdict === 'stopped') {
      early = false
      yield* around(4)
      continue
    }
    if (first && verdict === 'stopped') {
      thrift = thrift === 'maybe' ? 'yes' : 'no'
      spare = thrift === 'yes'
      continue
    }
    search.sparse = thrift === 'yes'
    if (verdict === 'stopped' && search.sparse) spare = !spare
    least = false
    if (verdict === 'found') {
      if (!coarse && gap() < value / 2) {
        // where nothing near is better, mostly nothing is: one refutation instead of one for each half of the gap
        yield* around(4)
        least = true
      }
      stride = coarse ? stride * 2 : gap() / part
    } else if (verdict === 'none') stride = Math.max(grain, coarse ? stride / 2 : gap() / part)
    else {
      if (few) {
        yield* byCombination(few)
        break
      }
      deals ??= yield* dealsOf(model, goal, value, clock, dice)
      if (deals && isFar()) {
        yield* byDeals(deals)
        if (clock.over()) break
        continue
      }
      if (deals) yield* dealtAnew(deals, 10)
      yield* around(coarse ? 6 : 12)
      // what cannot be found may be refuted from the other side, a little at a time
      const more = Math.floor(Math.min(rise, gap() / 4))
      if (!coarse && more > grain && !clock.over()) {
        const refuted = (yield* attempt(bound - sign * more, patience)) === 'none'
        rise = refuted ? more * 2 : more / 4
      }
      if (clock.over()) break
      stride = Math.max(grain, stride / 4)
      if (last) patience *= 2
    }
  }
  search.sparse = false
  return { value, bound, proven: gap() <= slack }
}

/** Wires, dealt out: for better layouts, and for the bound. */
interface Deals {
  readonly redeal: Redeal
  readonly better: Stage
  readonly bound: Stage
}

function* dealsOf(
  model: Model,
  goal: Goal,
  most: number,
  clock: Clock,
  dice: Dice,
): Generator<undefined, Deals | undefined> {
  const { wires } = goal
  const better = wires && deckByDeck(model, clock.over, wires)
  const bound = better && deckByDeck(model, clock.over, wires, true)
  if (!bound) return undefined
  const sharing = goal.share?.(most)
  while (sharing?.next().done === false && !clock.over()) {
    if (!clock.slice()) continue
    yield undefined
    clock.next()
  }
  return { redeal: new Redeal(model, wires, dice), better, bound }
}

const nameOf = (g: Goal): Progress['phase'] => (g.name === 'moves' || g.name === 'distance' ? 'moves' : g.name)

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
