/** What gives a voltage and what takes it, in one conductor by way of leads, fuses and switches that are on; of one net, see pins-check.ts. */
import type { Problem } from '../../solver/index.ts'
import { type Conductors, isKind, isReturn, reachedFrom } from './conductors.ts'
import { type NetFinding, type Netlist, padKey } from './netlist.ts'
import { GIVES, TAKES } from './pins-kinds.ts'
import type { LeadEnd } from './pins-leads.ts'
import { joinedBy, nameOf } from './pins-wires.ts'
import { givenTo } from './series.ts'
import { nets as words } from './words.ts'

export function checkVolts(problem: Problem, { nets }: Pick<Netlist, 'nets'>, c: Conductors): NetFinding[] {
  const netsAt = ({ item, pad }: LeadEnd) =>
    nets.filter((n) => n.nodes.some((e) => e.kind === 'pad' && padKey(e.item, e.pad) === padKey(item, pad)))
  const says = (end: LeadEnd) => end.pad.volts !== undefined && !c.roles.protects.has(end.item)
  return [...c.places].flatMap(([start, from]): NetFinding[] => {
    if (!isKind(from, GIVES) || !says(from)) return []
    const reached = [...reachedFrom(c, [start])]
    // a short circuit, which is told
    if (reached.some(([n]) => isReturn(c.places.get(n)!) && !c.middles.has(n))) return []
    const near = netsAt(from)
    return reached.flatMap(([node, path]): NetFinding[] => {
      const to = c.places.get(node)!
      if (!isKind(to, TAKES) || !says(to) || netsAt(to).some((n) => near.includes(n))) return []
      const [given, takes] = [givenTo(c, from, to.item), to.pad.volts!]
      if (!given || (given.volts[1] <= takes[1] && given.volts[0] >= takes[0])) return []
      const [a, ...under] = [from.item, ...given.under].map((i) => problem.items[i]!.id)
      const gives = words.inSeries(nameOf(problem, from), under)
      const text = words.voltsApartBy(joinedBy(path), gives, given.volts, nameOf(problem, to), takes)
      const items = [a!, problem.items[to.item]!.id, ...under, ...path.map((j) => j.id)]
      return [{ kind: 'volts-apart', topic: 'voltage', weight: 'stops', items: [...new Set(items)], text }]
    })
  })
}
