/**
 * The smallest loosenings of an infeasible problem that were tried and found to work. Each one comes with a layout that the
 * checker passed; lengths are narrowed by bisection, and each says whether one step less is proven not to do.
 */
import type { Placement, Problem } from '../problem.ts'
import type { ConflictMember, Hold } from '../result.ts'
import { type Candidate, candidatesOf } from './candidates.ts'
import { type Change, changesText } from './change.ts'
import { Narrowing } from './narrowing.ts'
import { tryPairs } from './pairs.ts'
import { Budget, type Case, finish, type Slices, type WhatIfOptions } from './trial.ts'

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
  /** Every candidate was tried to its end: of single changes no smaller one works, and where none is told, no two that were tried. */
  readonly complete: boolean
}

export interface LooseningOptions extends WhatIfOptions {
  readonly pins?: readonly Hold[]
  /** Items (by the file's id) that must not become fewer. */
  readonly keep?: readonly string[]
}

const MOST = 3

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
  const found = new Smallest()
  const candidates = candidatesOf(asked, conflict, kept)
  const all = candidates.map((c) => new Narrowing(asked, c, budget))
  for (const one of all) {
    if (budget.over()) break
    yield* one.narrow(found.under(one.candidate))
    if (one.best) yield* found.add(one)
  }
  // several conflicts at once: no single change can undo them all, two may
  const pairs = found.list.length > 0 || (yield* tryPairs(asked, candidates, budget, kept, found))
  // what may work at steps that bisection passed by
  for (const one of all) {
    yield* one.scan(found.under(one.candidate))
    if (one.best) yield* found.add(one)
  }
  const complete = pairs && all.every((one) => one.isSettled(found.under(one.candidate)))
  return { loosenings: found.list, complete: complete && !budget.over() }
}

/** The smallest that were found. */
export class Smallest {
  private readonly by = new Map<string, Loosening>()

  /** The smallest first. */
  get list(): readonly Loosening[] {
    return [...this.by.values()]
  }

  /** The largest step of a candidate that would be among them, beside what else has been paid; 0 where none would. */
  under({ key, steps, cost }: Candidate, paid = 0): number {
    const others = [...this.by].filter(([k]) => k !== key).map(([, l]) => l.cost)
    const worst = others[MOST - 1] ?? Number.POSITIVE_INFINITY
    let top = steps
    while (top >= 1 && paid + cost(top) >= worst) top--
    return top
  }

  /** The smallest step of a candidate. */
  *add(one: Narrowing): Slices<void> {
    const { step, placements } = one.best!
    const { key, cost, changes } = one.candidate
    if (cost(step) === this.by.get(key)?.cost) return
    this.put(key, { changes: changes(step)!, cost: cost(step), least: yield* one.isLeast(), placements })
  }

  put(key: string, found: Omit<Loosening, 'text'>): void {
    const before = this.by.get(key)
    if (before && before.cost <= found.cost) return
    this.by.set(key, { text: changesText(found.changes), ...found })
    const sorted = [...this.by].sort(([, a], [, b]) => a.cost - b.cost).slice(0, MOST)
    this.by.clear()
    for (const [k, l] of sorted) this.by.set(k, l)
  }
}
