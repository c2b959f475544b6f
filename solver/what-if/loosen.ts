/**
 * The smallest loosenings of an infeasible problem that were tried and found to work. Each one comes with a layout that the
 * checker passed; lengths are narrowed by bisection, and each says whether one step less is proven not to do.
 */
import type { Placement, Problem } from '../problem.ts'
import type { ConflictMember, Hold, SolveOptions, SolveResult } from '../result.ts'
import { solving } from '../solve.ts'
import { type Candidate, candidatesOf } from './candidates.ts'
import { applyChanges, type Change, changesText } from './change.ts'
import { Budget, type Case, finish, fits, isLegal, type Slices, type WhatIfOptions } from './trial.ts'

export interface Loosening {
  /** A sentence with millimetres in it. */
  readonly text: string
  /** All of them together; mostly one. */
  readonly changes: readonly Change[]
  /** The relative change, by which loosenings are ordered (README.md). */
  readonly cost: number
  /** One step less (0.1 mm of a setting, 1 mm of another length) is proven not to do. */
  readonly least: boolean
  /** A legal layout of the loosened problem. Item indices are those of the problem with the changes made. */
  readonly placements: readonly Placement[]
}

export interface Loosenings {
  /** At most three, the smallest first. */
  readonly loosenings: readonly Loosening[]
  /** Every candidate was tried to its end: of the single changes tried, no smaller one works. */
  readonly complete: boolean
}

export interface LooseningOptions extends WhatIfOptions {
  readonly pins?: readonly Hold[]
  /** Items (by the file's id) that must not become fewer. */
  readonly keep?: readonly string[]
}

const MOST = 3
/** What one question may take of what is left. */
const SHARE = 1 / 8

/** In slices; `loosenings` runs it to its end. The conflict must be of this problem with these pins. */
export function* loosening(
  problem: Problem,
  conflict: readonly ConflictMember[],
  options: LooseningOptions = {},
): Slices<Loosenings> {
  return yield* looseningsOf({ problem, pins: options.pins ?? [] }, conflict, new Budget(options), options.keep ?? [])
}

/** Up to three smallest loosenings: `loosenings(p, result.conflict, { time: 5000 }).loosenings[0].text` → `'Edge clearance 2 → 1 mm.'`. */
export function loosenings(
  problem: Problem,
  conflict: readonly ConflictMember[],
  options: LooseningOptions = {},
): Loosenings {
  return finish(loosening(problem, conflict, options))
}

export function* looseningsOf(
  asked: Case,
  conflict: readonly ConflictMember[],
  budget: Budget,
  keep: readonly string[],
): Slices<Loosenings> {
  const kept = new Set(keep)
  const found: Loosening[] = []
  const candidates = candidatesOf(asked, conflict, kept)
  const works: boolean[] = []
  let complete = yield* tryAll(asked, candidates, [], 0, budget, found, works)
  // several conflicts at once: no single change can undo them all, two may
  if (found.length === 0 && complete) complete = yield* tryPairs(asked, candidates, budget, kept, found)
  return { loosenings: found, complete: complete && !budget.over() }
}

/** Tries each candidate on top of `before`, and keeps the smallest in `found`. True when all were tried to their end. */
function* tryAll(
  asked: Case,
  candidates: readonly Candidate[],
  before: readonly Change[],
  paid: number,
  budget: Budget,
  found: Loosening[],
  works: boolean[] = [],
): Slices<boolean> {
  let complete = true
  const base = applyChanges(asked, before)
  for (const c of candidates) {
    if (budget.over()) return false
    const worst = found.length < MOST ? Number.POSITIVE_INFINITY : found[MOST - 1]!.cost
    const out = yield* smallest(base, c, worst - paid, budget)
    works.push(typeof out === 'object')
    if (out === 'open') complete = false
    if (typeof out !== 'object') continue
    const changes = [...before, ...c.changes(out.step)]
    const made = { text: changesText(changes), changes, cost: paid + c.cost(out.step) }
    found.push({ ...made, least: out.least, placements: out.placements })
    found.sort((a, b) => a.cost - b.cost)
    if (found.length > MOST) found.pop()
  }
  return complete
}

interface Step {
  readonly step: number
  readonly least: boolean
  readonly placements: readonly Placement[]
}

/** The smallest step that works and costs less than `limit`; `no` where it is proven that none does. */
function* smallest(asked: Case, c: Candidate, limit: number, budget: Budget): Slices<Step | 'no' | 'open'> {
  let top = c.steps
  while (top >= 1 && c.cost(top) >= limit) top--
  if (top < 1) return 'no'
  const at = (k: number) => applyChanges(asked, c.changes(k))
  let low = 0
  let best: Step | undefined
  let open = false
  // what grows with the step is tried at its largest first; the rest from below, doubling
  let k = c.monotone ? top : 1
  for (;;) {
    const v = yield* fits(at(k), budget, SHARE, best?.placements)
    if (v.verdict === 'fits') {
      best = { step: tightest(at, low, k, v.placements, budget), least: false, placements: v.placements }
    } else {
      if (v.verdict === 'open') open = true
      if (!best && (c.monotone || k === top)) return open ? 'open' : 'no'
      low = k
      if (v.verdict === 'open' && best) break
    }
    if (best && best.step - low <= 1) break
    k = best ? Math.floor((low + best.step) / 2) : Math.min(top, k * 2)
  }
  if (!best) return 'open'
  return { ...best, least: yield* isLeast(at, best.step, low, open, budget) }
}

/** Whether one step less is proven not to do; step 0 is the problem as it was, whose conflict is given. */
function* isLeast(at: (k: number) => Case, step: number, low: number, open: boolean, budget: Budget): Slices<boolean> {
  if (step === 1 || (low === step - 1 && !open)) return true
  return (yield* fits(at(step - 1), budget, SHARE)).verdict === 'not'
}

/** The smallest step above `low` at which a layout is still legal; the checker says it, so nothing has to be searched. */
function tightest(
  at: (k: number) => Case,
  low: number,
  step: number,
  placements: readonly Placement[],
  budget: Budget,
): number {
  const legal = (k: number) => isLegal(at(k), placements, budget.lazy)
  let hi = step
  let lo = low
  while (hi - lo > 1) {
    const mid = Math.floor((lo + hi) / 2)
    if (legal(mid)) hi = mid
    else lo = mid
  }
  return hi
}

/** One change at its largest may leave another conflict; its candidates are tried on top, then both made as small as they go. */
function* tryPairs(
  asked: Case,
  candidates: readonly Candidate[],
  budget: Budget,
  keep: ReadonlySet<string>,
  found: Loosening[],
): Slices<boolean> {
  let complete = true
  for (const first of candidates) {
    const full = applyChanges(asked, first.changes(first.steps))
    const next = yield* whyNot(full, budget)
    if (!next) {
      complete = false
      continue
    }
    const all = candidatesOf(full, next, keep)
    const others = all.filter((c) => c.key !== first.key && !shiftsEntries(first, c))
    // two entries of one item, or two of its copies, are not tried together
    if (all.some((c) => shiftsEntries(first, c) || (c.key === first.key && c.changes(1)[0]!.kind === 'count')))
      complete = false
    for (const second of others) {
      if (budget.over()) return false
      const both: Loosening[] = []
      const done = yield* tryAll(asked, [second], first.changes(first.steps), 0, budget, both)
      if (!done) complete = false
      const pair = both[0]
      if (!pair) continue
      // the second is as small as it goes; now the first, on top of it
      const rest = pair.changes.slice(first.changes(first.steps).length)
      const paid = pair.cost
      const worst = found.length < MOST ? Number.POSITIVE_INFINITY : found[MOST - 1]!.cost
      const out = yield* smallest(applyChanges(asked, rest), first, worst - paid, budget)
      // what the second change does to names can keep the first from coming after it: then the pair stands as it was found
      const { step, least, placements, changes } =
        typeof out === 'object'
          ? { ...out, changes: [...first.changes(out.step), ...rest] }
          : { ...pair, step: first.steps, least: first.steps === 1 }
      const cost = paid + first.cost(step)
      if (cost >= worst || found.some((f) => sameChanges(f.changes, changes))) continue
      found.push({ text: changesText(changes), changes, cost, least: least && pair.least, placements })
      found.sort((a, b) => a.cost - b.cost)
      if (found.length > MOST) found.pop()
    }
  }
  return complete
}

/** Dropping one place entry renumbers those after it. */
const shiftsEntries = (a: Candidate, b: Candidate): boolean => {
  const owner = (c: Candidate) => /^(?:place|within)\/(.*)\/\d+$/.exec(c.key)?.[1]
  return owner(a) !== undefined && owner(a) === owner(b)
}

const sameChanges = (a: readonly Change[], b: readonly Change[]): boolean => {
  const text = (list: readonly Change[]) =>
    list
      .map((c) => JSON.stringify(c))
      .sort()
      .join()
  return text(a) === text(b)
}

/** The conflict of a case; undefined where it has a layout, or time ran out. */
export function* whyNot(asked: Case, budget: Budget): Slices<readonly ConflictMember[] | undefined> {
  const result = yield* solveWithin({ ...asked, problem: { ...asked.problem, objective: [] } }, budget, SHARE)
  return result.status === 'infeasible' ? result.conflict : undefined
}

/** A whole solve within the budget. */
export function* solveWithin(
  asked: Case,
  budget: Budget,
  share = 1,
  hint: readonly Placement[] | undefined = undefined,
): Slices<SolveResult> {
  const left = budget.left() * share
  const steps = Math.floor(budget.stepsLeft() * share)
  let used = 0
  const options: SolveOptions = {
    pins: asked.pins,
    lazy: budget.lazy,
    signal: {
      get aborted() {
        return budget.over()
      },
    },
    ...(Number.isFinite(left) ? { time: left } : {}),
    ...(Number.isFinite(steps) ? { steps } : {}),
    ...(hint ? { hint } : {}),
    onProgress: (p) => {
      used = Math.max(used, p.steps)
    },
  }
  const result = yield* solving(asked.problem, options)
  budget.book(used)
  return result
}
