/** What gives a voltage and what takes it, in one conductor by way of leads, fuses and switches that are on; of one net, see pins-check.ts. */
import type { Problem } from '../../solver/index.ts'
import {
  type At,
  type Conductors,
  isKind,
  isReturn,
  type Join,
  joinedAs,
  type Node,
  reachedFrom,
} from './conductors.ts'
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
    const { at, among } = withSelectors(c, from.item)
    const reached = [...reachedFrom({ at }, [start], (join) => !join.told)]
    // a short circuit, which is told
    if (reached.some(([n]) => isReturn(c.places.get(n)!) && !c.middles.has(n))) return []
    const near = netsAt(from)
    return reached.flatMap(([node, path]): NetFinding[] => {
      const to = c.places.get(node)!
      if (!isKind(to, TAKES) || !says(to) || netsAt(to).some((n) => near.includes(n))) return []
      const [given, takes] = [givenTo(c, from, to.item), to.pad.volts!]
      if (!given || (given.volts[1] <= takes[1] && given.volts[0] >= takes[0])) return []
      const [a, ...under] = [from.item, ...given.under].map((i) => problem.items[i]!.id)
      const selectors = path.flatMap((j) => (j.item !== undefined && among.has(j.item) ? [j.id] : []))
      const gives = words.inSeries(nameOf(problem, from), under)
      const text = words.voltsApartBy(joinedBy(path), gives, given.volts, nameOf(problem, to), takes, selectors)
      const weight = selectors.length > 0 ? 'worth-knowing' : 'stops'
      const items = [a!, problem.items[to.item]!.id, ...under, ...path.map((j) => j.id)]
      return [{ kind: 'volts-apart', topic: 'voltage', weight, items: [...new Set(items)], text }]
    })
  })
}

/**
 * The conductors for one supply, with those selectors, and switches of several poles, to which one supply alone comes: what takes a supply
 * behind one has that or none, whichever terminals are joined. Where several come, and there is one terminal besides, they come `among`
 * others to what is there. Poles in the way back join nothing here; where nobody says what one of the rest leads to, another supply may
 * come in there.
 */
function withSelectors(c: Conductors, source: number): At & { readonly among: ReadonlySet<number> } {
  const isOwn = (end: LeadEnd) => isKind(end, GIVES) && !c.roles.protects.has(end.item)
  const among = new Set<number>()
  const as = c.joins.flatMap((join): [Join, Node[]][] => {
    if (!join.selects) return []
    const sides = join.nodes.map((node) => {
      const ends = [...reachedFrom(c, [node]).keys()].map((n) => c.places.get(n)!)
      const fed = new Set(ends.flatMap((e) => ('pad' in e && isOwn(e) ? [e.item] : [])))
      const isKnown = !ends.some((e) => 'exit' in e) && ends.some((e) => isKind(e, TAKES))
      return { node, fed, isBack: ends.some((e) => isReturn(e) && !c.middles.has(padKey(e.item, e.pad))), isKnown }
    })
    const supplies = new Set(sides.flatMap(({ fed }) => [...fed]))
    const front = sides.filter(({ isBack }) => !isBack)
    const rest = front.filter(({ fed }) => fed.size === 0)
    if (!rest.every(({ isKnown }) => isKnown) || (supplies.size !== 1 && rest.length !== 1)) return [[join, []]]
    if (supplies.size > 1) among.add(join.item!)
    return [[join, front.flatMap(({ node, fed }) => (fed.size === 0 || fed.has(source) ? [node] : []))]]
  })
  return { ...joinedAs(c, new Map(as)), among }
}
