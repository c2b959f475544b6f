/** What one more copy of an item would take. */
import type { Placement, Problem } from '../problem.ts'
import type { ConflictMember, Hold } from '../result.ts'
import { alike } from '../search/alike.ts'
import { applyChange, type Change, copiesOf } from './change.ts'
import { type Loosening, looseningsOf } from './loosen.ts'
import { solveWithin } from './solve-within.ts'
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
    const asks = atLeast(next, item, placed + 1)
    const ask = asks[0]!
    let v = yield* fits(ask, budget, 1 / 2, more ? undefined : hint)
    for (const other of asks.slice(1, CHOICES)) {
      if (v.verdict === 'fits') break
      const w = yield* fits(other, budget, 1 / 2, more ? undefined : hint)
      // all must be refuted
      if (v.verdict === 'not' || w.verdict === 'fits') v = w
    }
    if (v.verdict === 'fits') {
      if (more) return { status: 'fits', item, placed, before, placements: v.placements }
      hint = v.placements
      placed = Math.max(placed + 1, hint.filter((p) => copies.includes(p.item)).length)
      continue
    }
    if (v.verdict === 'open' || asks.length > CHOICES) return { status: 'unknown', item, placed }
    const why = yield* solveWithin({ ...ask, problem: { ...ask.problem, objective: [] } }, budget, 1 / 3)
    if (why.status !== 'infeasible') return { status: 'unknown', item, placed }
    const out = yield* looseningsOf(ask, why.conflict, budget, [item])
    const { conflict, conflictIrreducible } = why
    // what another choice of copies would take was not asked
    const complete = out.complete && asks.length === 1
    return { status: 'needs', item, placed, before, conflict, conflictIrreducible, ...out, complete }
  }
}

/** Of copies that something tells apart so many choices are tried at most. */
const CHOICES = 20

/**
 * So many copies must be placed: those that are held, which are placed anyhow, and of the others every choice that is not like another one,
 * the first copies first.
 */
function atLeast({ problem, pins }: Case, base: string, count: number): Case[] {
  const copies = copiesOf(problem, base)
  const held = copies.filter((k) => pins.some((p) => p.item === k))
  const free = copies.filter((k) => !held.includes(k))
  const groups = alike(problem, held, true).filter((g) => free.includes(g[0]!))
  const kinds = [...groups, ...free.filter((k) => !groups.some((g) => g.includes(k))).map((k) => [k])]
  kinds.sort((a, b) => a[0]! - b[0]!)
  let choices: number[][] = [[]]
  for (const [i, kind] of kinds.entries()) {
    const after = kinds.slice(i + 1).reduce((n, k) => n + k.length, 0)
    choices = choices.flatMap((some) => {
      const left = Math.max(0, count - held.length - some.length)
      const most = Math.min(kind.length, left)
      const least = Math.max(0, left - after)
      return Array.from({ length: most - least + 1 }, (_, k) => [...some, ...kind.slice(0, most - k)])
    })
    // far more than are tried
    choices = choices.slice(0, 50 * CHOICES)
  }
  return choices.map((some) => {
    const must = new Set([...held, ...some])
    return {
      problem: { ...problem, items: problem.items.map((i, k) => (must.has(k) ? { ...i, required: true } : i)) },
      pins,
    }
  })
}
