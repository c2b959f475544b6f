/** The door to a solve: compile, find, improve, and let the checker see every layout before anyone else does. */
import { figureOf, figures as measure } from './check/figures.ts'
import { type Clock, inSlices } from './clock.ts'
import { coarsened, onFineGrid } from './coarse.ts'
import { compile } from './compile.ts'
import { explain } from './explain.ts'
import { heldOffGrid, withHolds } from './holds.ts'
import type { Setting } from './improve/pursuit.ts'
import { keepGoals } from './keep.ts'
import { askLazily, firstFinding } from './lazy.ts'
import { improve, type Outcome, objectiveOf } from './optimise.ts'
import { polish } from './polish.ts'
import type { ObjectiveName, Problem } from './problem.ts'
import { attest } from './proof/attest.ts'
import type { ProofLog } from './proof/steps.ts'
import { isProven } from './proven.ts'
import type { Figures, Hold, Progress, SolveOptions, SolveResult } from './result.ts'
import { type Goal, goalsOf } from './search/goals.ts'
import { type Model, OutOfTime } from './search/model.ts'
import { probe } from './search/probe.ts'
import { Search } from './search/search.ts'
import { noWorse, valueAt, verify } from './verified.ts'
import { asked } from './words-asked.ts'

const SLICE = 20

/** Of what is left of time and steps, for an objective that others follow. */
const SHARE = 0.7

/** Conflicts near a hint that a rule of whole layouts forbids, before the search goes its own way. */
const NEAR_WRONG = 200

/** Pauses for a caller every 20 ms, ends at a deadline, a number of steps, or a signal. */
class SolveClock implements Clock {
  private readonly end: number
  private readonly options: SolveOptions
  private sliceEnd = 0
  readonly mostSteps: number
  steps: () => number = () => 0

  constructor(options: SolveOptions) {
    this.options = options
    this.mostSteps = options.steps ?? Number.POSITIVE_INFINITY
    this.end = options.time === undefined ? Number.POSITIVE_INFINITY : performance.now() + options.time
  }

  readonly slice = (): boolean =>
    this.steps() >= (this.options.steps ?? Number.POSITIVE_INFINITY) || performance.now() >= this.sliceEnd

  readonly over = (): boolean =>
    this.options.signal?.aborted === true ||
    this.steps() >= (this.options.steps ?? Number.POSITIVE_INFINITY) ||
    performance.now() >= this.end

  readonly next = (): void => {
    this.sliceEnd = Math.min(this.end, performance.now() + SLICE)
  }

  /** The same clock, over once this part of what is left of time and steps has gone. */
  share(part: number): Clock {
    const now = performance.now()
    const end = this.end === Number.POSITIVE_INFINITY ? this.end : now + (this.end - now) * part
    const done = this.steps()
    const most = done + Math.ceil((this.mostSteps - done) * part)
    return {
      next: this.next,
      slice: () => this.slice() || this.steps() >= most || performance.now() >= end,
      over: () => this.over() || this.steps() >= most || performance.now() >= end,
      mostSteps: most,
    }
  }
}

/**
 * A solve in slices of about 20 ms, for callers that must stay responsive: call `next` until done. Lengths in Um.
 * Throws only on a bug of ours (a layout that the checker refuses). `log` hears every step of the proof.
 */
export function* solving(
  problem: Problem,
  options: SolveOptions = {},
  log?: ProofLog,
): Generator<undefined, SolveResult, void> {
  const coarse = coarsened(problem)
  if (!coarse) return yield* searching(problem, options, log)
  // what is held stands on a line of the fine grid, which need not be one of the coarse grid
  const off = offGrid(problem, options.pins)
  if (off) return off
  const { onProgress } = options
  // a bound on the coarse grid says nothing of the fine one
  const told = ({ bound: _, ...p }: Progress) => onProgress?.(p)
  const result = onFineGrid(
    problem,
    yield* searching(
      { ...withHolds(problem, options.pins ?? []), grid: coarse.grid },
      { ...options, onProgress: told },
    ),
  )
  if ('placements' in result) verify(problem, result.placements, options.lazy ?? [])
  return result
}

function* searching(given: Problem, options: SolveOptions, log?: ProofLog): Generator<undefined, SolveResult, void> {
  const clock = new SolveClock(options)
  const pins = options.pins ?? []
  const off = offGrid(given, pins)
  if (off) return off
  // whoever makes or checks a layout knows what is held
  const problem = withHolds(given, pins)
  const keep = options.keep === true && options.hint !== undefined
  const turns = keep ? new Map(options.hint!.map((p) => [p.item, p.turn])) : new Map()
  let model: Model
  try {
    model = compile(problem, {
      held: pins.map((p) => p.item),
      turns,
      interchange: !keep,
      log,
      over: clock.over,
      lazy: (options.lazy ?? []).length > 0,
    })
  } catch (e) {
    if (e instanceof OutOfTime) return { status: 'unknown' }
    throw e
  }
  probe(model)
  const search = new Search(model)
  const lazy = options.lazy ?? []
  askLazily(search, model, problem, lazy)
  clock.steps = () => search.steps
  if (options.hint) search.follow(options.hint)
  const tell = (p: Progress) => {
    if (p.placements) verify(problem, p.placements, lazy)
    options.onProgress?.(p)
  }
  search.sparse = true
  // near a layout that a rule of whole layouts forbids, others are mostly forbidden by it too, and ruled out one by one
  const wrong = options.hint !== undefined && firstFinding(lazy, problem, options.hint) !== undefined
  let first = yield* inSlices(search, [], clock, wrong ? NEAR_WRONG : Number.POSITIVE_INFINITY)
  if (wrong && first === 'stopped' && !clock.over()) {
    search.follow([])
    first = yield* inSlices(search, [], clock)
  }
  search.sparse = false
  if (first === 'stopped') return { status: 'unknown' }
  if (first === 'none') {
    log?.bound(undefined, 0, [])
    if (options.explain === false) return { status: 'infeasible', conflict: [], conflictIrreducible: false }
    return yield* explain(
      problem,
      pins.map((p) => p.item),
      clock,
      lazy,
    )
  }
  const best: Setting['best'] = { placements: search.placements() }
  tell({ phase: 'legal', steps: search.steps, placements: best.placements })
  search.follow(best.placements)
  const goals: { name: ObjectiveName; goal: Goal | undefined }[] = []
  const started: { name?: ObjectiveName; goal: Goal; value: number }[] = []
  // a goal's propagators are made at level 0; its present value is read while the layout stands
  search.model.e.backTo(0)
  if (keep) for (const goal of keepGoals(model, options.hint!)) started.push({ goal, value: Number.NaN })
  else
    for (const g of goalsOf(model)) {
      goals.push(g)
      if (g.goal) started.push({ name: g.name, goal: g.goal, value: Number.NaN })
    }
  const outcomes = new Map<Goal, Outcome>()
  /** Of each goal, by round. */
  const bounds = new Map(started.map(({ goal }): [Goal, Known[]] => [goal, []]))
  const guards: number[] = []
  // one after the other; what was left unproven gets what time is left over, and those after it follow
  for (let from = 0; from >= 0 && !clock.over(); ) {
    guards.length = from
    for (const [k, { goal }] of started.entries()) {
      const out = outcomes.get(goal)
      const under = started.slice(0, k).map((b) => ({ goal: b.goal, value: outcomes.get(b.goal)?.value ?? Number.NaN }))
      if (out) bounds.get(goal)!.push({ bound: out.bound, under })
    }
    for (const { goal } of started.slice(from)) outcomes.delete(goal)
    for (const s of started.slice(from)) {
      if (clock.over()) break
      s.value = valueAt(problem, s.goal, best.placements)
      const allowed = (f: Figures) => noWorse(f, outcomes)
      const polished = (value: number) =>
        s.goal.name === 'wire-length' ? polish(problem, model, best.placements, value, allowed, lazy) : undefined
      // what matters most takes most of the time, but not all of it
      const share = s === started[started.length - 1] ? clock : clock.share(SHARE)
      // what the search begins with is of the last round, and to the digit: from another bound it takes another way
      const last = bounds.get(s.goal)!.at(-1)
      const already = last && holds(last, (g) => outcomes.get(g)!.value, 0) ? last.bound : undefined
      const by = { model, search, goal: s.goal, held: guards, best, clock: share, tell, polished }
      const out = yield* improve(by, s.value, already)
      outcomes.set(s.goal, out)
      model.e.backTo(0)
      const guard = model.e.newBool()
      s.goal.require(out.value, guard)
      log?.asked(s.goal.name, out.value, guard)
      guards.push(guard)
    }
    from = started.findIndex((s) => outcomes.get(s.goal)?.proven !== true)
  }
  model.e.backTo(0)
  if (log) attest(log, search, started, outcomes, guards)
  verify(problem, best.placements, lazy)
  const figures = measure(problem, best.placements)
  const now = new Map(started.map(({ goal }) => [goal, valueAt(problem, goal, best.placements)]))
  const atEnd = (goal: Goal) => {
    const still = bounds.get(goal)!.filter((k) => holds(k, (g) => now.get(g)!, HAIR))
    return settled(goal, outcomes.get(goal), figures, still)
  }
  const objectives = keep
    ? goalsOf(model).map((g) => objectiveOf(g.name, g.goal, g.goal && settled(g.goal, undefined, figures)))
    : goals.map((g) => objectiveOf(g.name, g.goal, g.goal && atEnd(g.goal)))
  for (const o of objectives)
    if (Math.abs(o.value - figureOf(o.name, figures)) > 1e-3)
      throw new Error(`the search counts ${o.name} as ${o.value}, the checker as ${figureOf(o.name, figures)}`)
  const status = objectives.every((o) => o.proven) ? 'optimal' : 'feasible'
  return { status, objectives, placements: best.placements, figures }
}

/** A goal's bound, and the values at which those before it were held. */
interface Known {
  readonly bound: number
  readonly under: readonly { readonly goal: Goal; readonly value: number }[]
}

/** Balance is summed in several orders, which differ in the last digits: less than the 1e-6 that its thresholds have to spare. */
const HAIR = 1e-7

/** Are those before the goal as good as when the bound was found? */
const holds = (k: Known, now: (before: Goal) => number, hair: number): boolean =>
  k.under.every((u) => (now(u.goal) - u.value) * u.goal.sign >= -hair)

/** Runs `solving` to its end. `solve(problem, { time: 10_000 }).status` → `'optimal'`, `'feasible'`, `'infeasible'` or `'unknown'`. */
export function solve(problem: Problem, options: SolveOptions = {}): SolveResult {
  const run = solving(problem, options)
  for (;;) {
    const next = run.next()
    if (next.done) return next.value
  }
}

/**
 * A goal at the last layout: what came after its turn may have gained where it is not proven, or only closely. One that time did not
 * reach has the bound that holds for any layout; where one known from before is tighter, that counts.
 */
function settled(goal: Goal, out: Outcome | undefined, figures: Figures, known: readonly Known[] = []): Outcome {
  const exact = figureOf(goal.name as ObjectiveName, figures) / goal.scale
  const value = goal.step === 1 ? Math.round(exact) : exact
  const [tighter, wider] = goal.sign === 1 ? [Math.min, Math.max] : [Math.max, Math.min]
  // a value with more decimals than are counted may be a trifle over its bound
  const bound = wider(tighter(out?.bound ?? goal.bound(), ...known.map((k) => k.bound)), value)
  const { name, scale } = goal
  return { value, bound, proven: isProven({ name, value: value * scale, bound: bound * scale }) }
}

function offGrid(
  problem: Problem,
  pins: readonly Hold[] = [],
): Extract<SolveResult, { status: 'infeasible' }> | undefined {
  const off = heldOffGrid(problem, pins)
  if (!off) return undefined
  const { id } = problem.items[off.item]!
  const text = asked.heldOffGrid(id, problem.grid)
  return { status: 'infeasible', conflict: [{ rule: 'R10', items: [id], text }], conflictIrreducible: true }
}
