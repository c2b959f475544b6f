/** What the nets say of the way that a supply goes, where a file has no leads that say it. */
import type { Layout } from '../../solver/index.ts'
import type { Net, NetNode } from './netlist.ts'
import { GIVES } from './pins-kinds.ts'
import type { Lead } from './power-model.ts'

/** Two nodes that a net joins, as a lead would. */
export type Link = Pick<Lead, 'a' | 'b' | 'ends'>

/**
 * From plus terminals, fuses and switches (`protects`) to all that is in a net with them; through the switch that a net is led through. What else
 * a part may hand on from net to net, nothing says. A net with a return in it is the way back.
 */
export function linksOf(
  { problem, bodyOf }: Layout,
  nets: readonly Net[],
  protects: (item: number) => boolean,
): Link[] {
  const nodeOf = (n: NetNode) => (n.kind === 'pad' ? n.item : problem.items.length + n.exit)
  const padOf = (n: NetNode) => (n.kind === 'pad' ? n.pad : undefined)
  return nets.flatMap(({ nodes, switch: led }): Link[] => {
    const here = nodes.filter((n) => n.kind === 'exit' || !bodyOf.get(n.item)?.item.later)
    if (here.some((n) => padOf(n)?.kind === 'return')) return []
    const handsOn = (n: NetNode) => n.kind === 'pad' && (protects(n.item) || GIVES.includes(n.pad.kind ?? 'passive'))
    if (!here.some(handsOn)) return []
    if (led) return here.map((n): Link => ({ a: nodeOf(n), b: led.item, ends: [padOf(n), undefined] }))
    return here
      .filter(handsOn)
      .flatMap((from) =>
        here
          .filter((to) => to !== from)
          .map((to): Link => ({ a: nodeOf(from), b: nodeOf(to), ends: [padOf(from), padOf(to)] })),
      )
  })
}
