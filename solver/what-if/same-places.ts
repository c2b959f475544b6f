/**
 * Items that nothing tells apart (search/alike.ts) are one another's stand-ins: how far two layouts are from each other is counted under the
 * naming of these under which they are nearest. That is an assignment problem a group (Kuhn 1955).
 */
import type { Placement, Problem } from '../problem.ts'
import { sizeOf } from './outline.ts'

/** Indices of items, by group; in no more than one group each. */
export type Like = readonly (readonly number[])[]

/** The search holds a layout against another under so many of its namings at most: each is a sum of its own. */
const MOST = 12

/** What an item counts that is on another deck, or in one layout only: length and width of the largest deck, Um. */
export const elsewhere = (problem: Problem): number =>
  Math.max(...problem.decks.map((d) => sizeOf(d.outline)).map((s) => s.length + s.width))

export interface Match {
  /** Σ |dx| + |dy| of the corners, and `elsewhere` for each item on another deck or in one layout only, Um. */
  readonly distance: number
  /** The second layout, named as it is nearest to the first. */
  readonly named: readonly Placement[]
}

/** The second layout against the first. */
export function matched(
  problem: Problem,
  first: readonly Placement[],
  second: readonly Placement[],
  like: Like,
): Match {
  const far = elsewhere(problem)
  const was = new Map(first.map((p) => [p.item, p]))
  const is = new Map(second.map((p) => [p.item, p]))
  const cost = (a: number, b: number) => apart(was.get(a), is.get(b), far)
  const to = new Map<number, number>()
  let distance = 0
  const inGroups = new Set(like.flat())
  for (const i of new Set([...was.keys(), ...is.keys()])) if (!inGroups.has(i)) distance += cost(i, i)
  for (const group of like) {
    const of = assignment(group.map((a) => group.map((b) => cost(a, b))))
    of.forEach((k, i) => {
      distance += cost(group[i]!, group[k]!)
      to.set(group[k]!, group[i]!)
    })
  }
  return { distance, named: second.map((p) => renamed(p, to)) }
}

function apart(a: Placement | undefined, b: Placement | undefined, far: number): number {
  if (!a || !b) return a || b ? far : 0
  return Math.abs(a.at.x - b.at.x) + Math.abs(a.at.y - b.at.y) + (a.deck === b.deck ? 0 : far)
}

function renamed(p: Placement, to: ReadonlyMap<number, number>): Placement {
  const named = { ...p, item: to.get(p.item) ?? p.item }
  return p.host === undefined ? named : { ...named, host: to.get(p.host) ?? p.host }
}

/** For each row its column, so that the sum is least (square, finite; shortest augmenting paths, Jonker & Volgenant 1987). */
export function assignment(cost: readonly (readonly number[])[]): number[] {
  const n = cost.length
  const rowOf = new Array<number>(n).fill(-1)
  const u = new Array<number>(n).fill(0)
  const v = new Array<number>(n).fill(0)
  for (let start = 0; start < n; start++) {
    const least = new Array<number>(n).fill(Number.POSITIVE_INFINITY)
    const before = new Array<number>(n).fill(-1)
    const done = new Array<boolean>(n).fill(false)
    const reached: { readonly row: number; readonly by: number }[] = []
    let row = start
    let column = -1
    do {
      let next = -1
      for (let j = 0; j < n; j++) {
        if (done[j]) continue
        const c = cost[row]![j]! - u[row]! - v[j]!
        if (c < least[j]!) {
          least[j] = c
          before[j] = column
        }
        if (next < 0 || least[j]! < least[next]!) next = j
      }
      const step = least[next]!
      u[start]! += step
      for (const r of reached) {
        u[r.row]! += step
        v[r.by]! -= step
      }
      for (let j = 0; j < n; j++) if (!done[j]) least[j]! -= step
      done[next] = true
      column = next
      row = rowOf[next]!
      if (row >= 0) reached.push({ row, by: next })
    } while (row >= 0)
    for (let j = column; j >= 0; j = before[j]!) rowOf[j] = before[j]! >= 0 ? rowOf[before[j]!]! : start
  }
  const out = new Array<number>(n).fill(-1)
  rowOf.forEach((r, j) => {
    out[r] = j
  })
  return out
}

/**
 * The layout under every naming of its like items, as the search orders these first: the first ones are placed, deck by deck, from left to right
 * and from back to front. Groups that would make it more than MOST keep that order.
 */
export function namings(layout: readonly Placement[], like: Like): (readonly Placement[])[] {
  const sorted = ordered(layout, like)
  const placed = new Set(sorted.map((p) => p.item))
  let all: ReadonlyMap<number, number>[] = [new Map()]
  const groups = like.map((group) => ({ group, there: group.filter((i) => placed.has(i)) }))
  for (const { group, there } of groups.sort((a, b) => count(a) - count(b))) {
    if (all.length * count({ group, there }) > MOST) break
    const orders = arrangements(group, there.length)
    all = all.flatMap((known) => orders.map((o) => new Map([...known, ...there.map((i, k) => [i, o[k]!] as const)])))
  }
  return all.map((to) => sorted.map((p) => renamed(p, to)))
}

function ordered(layout: readonly Placement[], like: Like): Placement[] {
  const to = new Map<number, number>()
  for (const group of like) {
    const there = layout.filter((p) => group.includes(p.item))
    there.sort((a, b) => a.deck - b.deck || a.at.x - b.at.x || a.at.y - b.at.y)
    for (const [k, p] of there.entries()) to.set(p.item, group[k]!)
  }
  return layout.map((p) => renamed(p, to))
}

/** In how many ways those that are there can be named. */
const count = ({ group, there }: { readonly group: readonly number[]; readonly there: readonly number[] }): number =>
  there.reduce((n, _, k) => n * (group.length - k), 1)

/** Every choice of so many of these, in every order. */
function arrangements(list: readonly number[], many: number): number[][] {
  if (many === 0) return [[]]
  return list.flatMap((one) =>
    arrangements(
      list.filter((other) => other !== one),
      many - 1,
    ).map((rest) => [one, ...rest]),
  )
}
