/** What a problem's places and wires say of items, said of others. */
import type { ItemRef, Place, Problem, WireEnd } from './problem.ts'

/** Nets name items by themselves, and stay as they are. */
export function withRefs(problem: Problem, refer: (r: ItemRef) => ItemRef): Problem {
  const place = (p: Place): Place => ('item' in p ? { ...p, item: refer(p.item) } : p)
  const end = (n: WireEnd): WireEnd => (n.kind === 'item' ? { ...n, ref: refer(n.ref) } : n)
  return {
    ...problem,
    items: problem.items.map((i) => ({ ...i, place: i.place.map(place) })),
    wires: problem.wires.map((w) => ({ ...w, from: end(w.from), to: end(w.to) })),
  }
}
