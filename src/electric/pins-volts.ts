/** What gives a voltage and what takes it, in one conductor by way of leads, fuses and switches that are on; of one net, see pins-check.ts. */
import type { Problem } from '../../solver/index.ts'
import { type Conductors, isKind, isReturn, reachedFrom } from './conductors.ts'
import { type NetFinding, type Netlist, padKey } from './netlist.ts'
import { GIVES, TAKES } from './pins-kinds.ts'
import type { LeadEnd } from './pins-leads.ts'
import { joinedBy, nameOf } from './pins-wires.ts'
import { nets as words } from './words.ts'

export function checkVolts(problem: Problem, { nets }: Pick<Netlist, 'nets'>, c: Conductors): NetFinding[] {
  const netsAt = ({ item, pad }: LeadEnd) =>
    nets.filter((n) => n.nodes.some((e) => e.kind === 'pad' && padKey(e.item, e.pad) === padKey(item, pad)))
  // the plus of a pack on top of another has the volts of both
  const onTop = new Set([...c.middles.keys()].map((n) => (c.places.get(n) as LeadEnd).item))
  const says = (end: LeadEnd) => end.pad.volts !== undefined && !c.roles.protects.has(end.item)
  return [...c.places].flatMap(([start, from]): NetFinding[] => {
    if (!isKind(from, GIVES) || !says(from) || onTop.has(from.item)) return []
    const reached = [...reachedFrom(c, [start])]
    // a short circuit, which is told
    if (reached.some(([n]) => isReturn(c.places.get(n)!) && !c.middles.has(n))) return []
    const near = netsAt(from)
    return reached.flatMap(([node, path]): NetFinding[] => {
      const to = c.places.get(node)!
      if (!isKind(to, TAKES) || !says(to) || netsAt(to).some((n) => near.includes(n))) return []
      const [gives, takes] = [from.pad.volts!, to.pad.volts!]
      if (gives[1] <= takes[1] && gives[0] >= takes[0]) return []
      const text = words.voltsApartBy(joinedBy(path), nameOf(problem, from), gives, nameOf(problem, to), takes)
      const items = [problem.items[from.item]!.id, problem.items[to.item]!.id, ...path.map((j) => j.id)]
      return [{ kind: 'volts-apart', topic: 'voltage', weight: 'stops', items: [...new Set(items)], text }]
    })
  })
}
