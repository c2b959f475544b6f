/** What one more copy of an item would take. */
import type { Placement, Problem } from '../problem.ts'
import type { ConflictMember, Hold } from '../result.ts'
import { applyChange, type Change, copiesOf } from './change.ts'
import { type Loosening, looseningsOf, solveWithin } from './loosen.ts'
import { Budget, type Case, finish, fits, type Slices, type WhatIfOptions } from './trial.ts'

export interface OneMoreOptions extends WhatIfOptions {
  readonly pins?: readonly Hold[]
}

/** `placed`: the most copies that are known to fit together as things stand; asked is for one more. */
export type OneMore =
  /** One more than the file asks for fits as things stand. */
  | {
      readonly status: 'fits'
      readonly item: string
      readonly placed: number
      /** The change of count that asks for it. */
      readonly before: readonly Change[]
      readonly placements: readonly Placement[]
    }
  | {
      readonly status: 'needs'
      readonly item: string
      readonly placed: number
      readonly before: readonly Change[]
      readonly conflict: readonly ConflictMember[]
      readonly conflictIrreducible: boolean
      readonly loosenings: readonly Loosening[]
      readonly complete: boolean
    }
  /** What is asked for already does not fit, so one more has no meaning. */
  | { readonly status: 'infeasible'; readonly item: string; readonly conflict: readonly ConflictMember[] }
  | { readonly status: 'unknown'; readonly item: string; readonly placed: number }

/** Runs `addingOne` to its end. Throws a RangeError where there is no such item. */
export function oneMore(problem: Problem, item: string, options: OneMoreOptions = {}): OneMore {
  return finish(addingOne(problem, item, options))
}

/** `item`: the file's id. Of an optional item the copies that fit are counted first; beyond its count a copy is added. */
export function* addingOne(problem: Problem, item: string, options: OneMoreOptions = {}): Slices<OneMore> {
  const copies = copiesOf(problem, item)
  if (copies.length === 0) throw new RangeError(`There is no item ${JSON.stringify(item)}.`)
  const budget = new Budget(options)
  const asked: Case = { problem, pins: options.pins ?? [] }
  const first = yield* fits(asked, budget)
  if (first.verdict === 'open') return { status: 'unknown', item, placed: 0 }
  if (first.verdict === 'not') {
    const why = yield* solveWithin({ ...asked, problem: { ...problem, objective: [] } }, budget)
    return why.status === 'infeasible'
      ? { status: 'infeasible', item, conflict: why.conflict }
      : { status: 'unknown', item, placed: 0 }
  }
  let hint = first.placements
  let placed = hint.filter((p) => copies.includes(p.item)).length
  for (;;) {
    const more = placed >= copies.length
    const before: Change[] = more ? [{ kind: 'count', item, from: copies.length, to: copies.length + 1 }] : []
    const next = before.reduce(applyChange, asked)
    const ask = atLeast(next, item, placed + 1)
    const v = yield* fits(ask, budget, 1 / 2, more ? undefined : hint)
    if (v.verdict === 'fits') {
      if (more) return { status: 'fits', item, placed, before, placements: v.placements }
      hint = v.placements
      placed = Math.max(placed + 1, hint.filter((p) => copies.includes(p.item)).length)
      continue
    }
    if (v.verdict === 'open') return { status: 'unknown', item, placed }
    const why = yield* solveWithin({ ...ask, problem: { ...ask.problem, objective: [] } }, budget, 1 / 3)
    if (why.status !== 'infeasible') return { status: 'unknown', item, placed }
    const out = yield* looseningsOf(ask, why.conflict, budget, [item])
    const { conflict, conflictIrreducible } = why
    return { status: 'needs', item, placed, before, conflict, conflictIrreducible, ...out }
  }
}

/** So many copies must be placed: copies are alike, so the first ones; those that are held are placed anyhow, and count. */
function atLeast({ problem, pins }: Case, base: string, count: number): Case {
  const held = (k: number): number => Number(pins.some((p) => p.item === k))
  const must = new Set([...copiesOf(problem, base)].sort((a, b) => held(b) - held(a)).slice(0, count))
  return {
    problem: { ...problem, items: problem.items.map((i, k) => (must.has(k) ? { ...i, required: true } : i)) },
    pins,
  }
}
