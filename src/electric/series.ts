/** Packs in series: which of them stand on which, and the volts that they give together. */
import type { Problem } from '../../solver/index.ts'
import { type Conductors, isKind, isReturn, isSure, type Node, type Place, reachedFrom } from './conductors.ts'
import { padKey, padsOf } from './netlist-pads.ts'
import { GIVES } from './pins-kinds.ts'
import type { LeadEnd } from './pins-leads.ts'

/**
 * The plus of each pack under this one, the lowest first; none under a pack whose return is led to no other's plus. `to`: no farther down
 * than where the return of that part is.
 */
export function packsUnder(c: Conductors, item: number, to?: number): readonly LeadEnd[] {
  const under: LeadEnd[] = []
  const seen = new Set([item])
  for (let top = item; ; ) {
    const middle = [...c.middles].find(([node]) => ownerOf(c, node) === top)
    if (!middle || seen.has(middle[1].item) || (to !== undefined && leadsBackTo(c, middle[0], to))) return under
    top = middle[1].item
    seen.add(top)
    under.unshift(middle[1])
  }
}

const leadsBackTo = (c: Conductors, node: Node, item: number): boolean =>
  [...reachedFrom(c, [node]).keys()].some((n) => {
    const place = c.places.get(n)!
    return isReturn(place) && place.item === item
  })

/** Whether a pack stands on another, or may do so through parts of two terminals that say nothing of what they join, as a link or a meter. */
export function mayStandOnOther(c: Conductors, problem: Problem, item: number): boolean {
  const own = [...c.places].flatMap(([node, p]) => (isReturn(p) && p.item === item ? [node] : []))
  const through = (node: Node): [Node][] => {
    const place = c.places.get(node)!
    if (!('pad' in place) || c.roles.protects.has(place.item)) return []
    const pads = padsOf(problem.items[place.item]!.footprint)
    if (pads.length !== 2 || pads.some((p) => (p.kind ?? 'passive') !== 'passive')) return []
    return pads.map((p) => padKey(place.item, p)).flatMap((n): [Node][] => (c.places.has(n) ? [[n]] : []))
  }
  const joined = new Set([...reachedFrom(c, own).keys()].map((node) => c.places.get(node)!).flatMap(backOf))
  return [...reachedFrom(c, own, isSure, through).keys()].some((node) => {
    const place = c.places.get(node)!
    return isKind(place, GIVES) && c.roles.packs.has(place.item) && !joined.has(place.item)
  })
}

/** Whose return it is. */
const backOf = (place: Place): number[] => (isReturn(place) ? [place.item] : [])

export interface Given {
  /** Least and most. */
  readonly volts: readonly [number, number]
  /** Packs under the one that is asked for, as far as their volts are in it. */
  readonly under: readonly number[]
}

/** Volts of what gives a supply, over the return of a part that takes it; nothing where a pack of those says none. */
export function givenTo(c: Conductors, from: LeadEnd, to: number): Given | undefined {
  const under = packsUnder(c, from.item, to)
  const all = [...under, from].map(({ pad }) => pad.volts)
  if (!all.every((v) => v !== undefined)) return undefined
  const sum = (k: 0 | 1) => Math.round(all.reduce((volts, v) => volts + v[k], 0) * 1e6) / 1e6
  return { volts: [sum(0), sum(1)], under: under.map((e) => e.item) }
}

/**
 * The packs in series that drive what flows in the leads of one of them: up to the topmost from whose plus one leaves, and down to where one
 * leads back between them.
 */
export function packsDriving(c: Conductors, item: number, leads: ReadonlySet<string>): readonly number[] {
  const joins = c.joins.filter((j) => j.by === 'lead' && leads.has(j.id))
  if (joins.length === 0) return [item]
  const plus = joins.flatMap((j) => j.nodes.flatMap((n) => (isKind(c.places.get(n)!, GIVES) ? [ownerOf(c, n)] : [])))
  const stacks = [item, ...plus].map((top) => [...packsUnder(c, top).map((e) => e.item), top])
  const stack = stacks.filter((list) => list.includes(item)).sort((a, b) => b.length - a.length)[0]!
  const between = joins
    .filter((j) => j.side !== 'out' && !j.nodes.some((n) => isKind(c.places.get(n)!, GIVES)))
    .flatMap((j) => j.nodes.flatMap((n) => (c.middles.has(n) ? [stack.indexOf(ownerOf(c, n))] : [])))
  return stack.slice(Math.max(0, ...between))
}

const ownerOf = ({ places }: Conductors, node: Node): number => (places.get(node) as LeadEnd).item
