/** Supplies that come to terminals of their own at one switch, of which others are one conductor: if it has a pole for each, they meet behind it. */
import { type Conductors, isKind, isReturn, type Join, type Node, reachedFrom } from './conductors.ts'
import { GIVES } from './pins-kinds.ts'
import type { LeadEnd } from './pins-leads.ts'

export interface SharedPoles {
  readonly by: Join
  readonly ends: readonly [LeadEnd, LeadEnd]
}

/** Each two of them. A selector needs no more than one terminal for what it leads on to. */
export function sharedPoles(c: Conductors): SharedPoles[] {
  return c.joins.flatMap((by): SharedPoles[] => {
    if (!by.selects) return []
    const sides = by.nodes.map((node) => {
      const reached = reachedFrom(c, [node])
      return { node, reached, gives: [...reached.keys()].flatMap((n) => givenAt(c, n)).slice(0, 1) }
    })
    const isBack = (reached: Iterable<Node>) => [...reached].some((n) => isReturn(c.places.get(n)!))
    const rest = sides.filter(({ gives, reached }) => gives.length === 0 && !isBack(reached.keys()))
    if (!rest.some(({ reached }, i) => rest.slice(i + 1).some(({ node }) => reached.has(node)))) return []
    const all = sides.flatMap(({ gives }) => gives)
    return all.flatMap((a, i) =>
      all.slice(i + 1).flatMap((b): SharedPoles[] => (a.item === b.item ? [] : [{ by, ends: [a, b] }])),
    )
  })
}

/** What a fuse or switch gives is what it is given. */
function givenAt(c: Conductors, node: Node): LeadEnd[] {
  const place = c.places.get(node)!
  return isKind(place, GIVES) && !c.roles.protects.has(place.item) ? [place] : []
}
