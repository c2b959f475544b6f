/** A problem with some of its items only: what they name stays, as something that may be left out. */
import type { Item, ItemRef, Problem, WireEnd } from './problem.ts'
import { withRefs } from './refs.ts'

/**
 * The sub-problem of `core` (item indices). Items that these name (hosts, neighbours, wire ends) stay too, not required.
 * It asks no more of the core than the whole does, and mostly no less: wires whose ends are not all kept are dropped.
 */
export function restrict(problem: Problem, core: readonly number[]): Problem {
  const kept = new Set(core)
  const boards = problem.items.map((_, i) => i).filter((i) => problem.items[i]!.footprint.breadboard)
  const wired = (i: number) =>
    problem.wires.flatMap((w) => {
      const ends = [w.from, w.to].map((n) => (n.kind === 'item' ? n.ref.items : []))
      return ends.some((e) => e.includes(i)) ? ends.flat() : []
    })
  const queue = [...core]
  for (let i = queue.pop(); i !== undefined; i = queue.pop()) {
    const item = problem.items[i]!
    const named = item.place.flatMap((p) => ('item' in p ? p.item.items : []))
    const hosts = item.footprint.mount.kind === 'plug-in' ? boards : []
    for (const other of [...named, ...hosts, ...(core.includes(i) ? wired(i) : [])]) {
      if (kept.has(other)) continue
      kept.add(other)
      queue.push(other)
    }
  }
  const order = [...kept].sort((a, b) => a - b)
  const now = new Map(order.map((old, k) => [old, k]))
  const ref = (r: ItemRef): ItemRef => ({ ...r, items: r.items.flatMap((i) => now.get(i) ?? []) })
  const items = order.map((old): Item => {
    const item = problem.items[old]!
    return { ...item, required: item.required && core.includes(old) }
  })
  // a wire to some of an item's copies would ask more than the whole did
  const complete = (n: WireEnd) => n.kind === 'exit' || n.ref.items.every((i) => kept.has(i))
  const wires = problem.wires.filter((w) => complete(w.from) && complete(w.to))
  const out = withRefs({ ...problem, items, wires }, ref)
  const ends = (n: WireEnd) => n.kind === 'exit' || n.ref.items.length > 0
  return { ...out, wires: out.wires.filter((w) => ends(w.from) && ends(w.to)) }
}
