/** Layouts that differ only in which of several like items stands where are one layout to whoever builds it. */
import type { Placement } from '../problem.ts'

/** A layout is told under so many names at most: each is a sum of its own in the search. */
const MOST = 12

/**
 * The layout under every naming of its like items: each group (item indices) in every order, the layout as it is first. Groups that would
 * make it more than MOST keep their names.
 */
export function renamings(layout: readonly Placement[], groups: readonly (readonly number[])[]): Placement[][] {
  let names: ReadonlyMap<number, number>[] = [new Map()]
  for (const group of [...groups].sort((a, b) => a.length - b.length)) {
    if (names.length * factorial(group.length) > MOST) break
    names = names.flatMap((known) =>
      ordersOf(group).map((order) => new Map([...known, ...group.map((item, i) => [item, order[i]!] as const)])),
    )
  }
  return names.map((to) => layout.map((p) => called(p, to)))
}

function called(p: Placement, to: ReadonlyMap<number, number>): Placement {
  const named = { ...p, item: to.get(p.item) ?? p.item }
  return p.host === undefined ? named : { ...named, host: to.get(p.host) ?? p.host }
}

const factorial = (n: number): number => (n < 2 ? 1 : n * factorial(n - 1))

/** Every order of these, theirs first. */
function ordersOf(list: readonly number[]): number[][] {
  if (list.length < 2) return [[...list]]
  return list.flatMap((one) => ordersOf(list.filter((other) => other !== one)).map((rest) => [one, ...rest]))
}
