/** The project's own wires against its nets and the kinds of what they end on: a lead can make a short circuit as well as a net can. */
import type { Problem } from '../../solver/index.ts'
import { type Net, type NetFinding, type Netlist, padKey } from './netlist.ts'
import type { Pad } from './netlist-pads.ts'
import { GIVES, refused } from './pins-kinds.ts'
import type { LeadEnd, PadLead } from './pins-leads.ts'
import { called, nets as words } from './words.ts'

/** Of leads from part to part that no net says the same of, and of what they and the nets make one conductor together. */
export function checkWires(problem: Problem, netlist: Netlist, all: readonly PadLead[]): NetFinding[] {
  const leads = all.filter((l) => l.kind !== 'ribbon')
  return [...eachLead(problem, netlist, leads), ...chains(problem, netlist, leads)]
}

const nameOf = (problem: Problem, { item, pad: { id, name } }: LeadEnd): string =>
  called.pin(problem.items[item]!.id, id, name)

function eachLead(problem: Problem, netlist: Netlist, leads: readonly PadLead[]): NetFinding[] {
  const netsOf = ({ item, pad }: LeadEnd): Net[] => {
    const key = padKey(item, pad)
    return netlist.nets.filter((n) => n.nodes.some((e) => e.kind === 'pad' && padKey(e.item, e.pad) === key))
  }
  return leads.flatMap(({ id, ends: [a, b] }): NetFinding[] => {
    const [netsA, netsB] = [netsOf(a), netsOf(b)]
    if (netsA.some((n) => netsB.includes(n))) return []
    const items = [id, problem.items[a.item]!.id, problem.items[b.item]!.id]
    const [x, y] = [rolesOf(a.pad), rolesOf(b.pad)]
    const why = clash(a, b)
    if (why !== undefined) {
      const text = words.leadKindsApart(id, nameOf(problem, a), x[0]!, nameOf(problem, b), y[0]!, why)
      return [{ kind: 'kinds-apart', topic: 'kinds', weight: 'stops', items, text }]
    }
    const [n, m] = [netsA[0], netsB[0]]
    if (!n || !m || netsA.length > 1 || netsB.length > 1) return []
    const text = words.leadJoins(id, nameOf(problem, a), n.id, nameOf(problem, b), m.id)
    return [{ kind: 'nets-on-strip', topic: 'short', weight: 'stops', items: [...items, n.id, m.id], text }]
  })
}

const rolesOf = (pad: Pad) => (pad.kind === undefined ? [] : [pad.kind, ...(pad.also ?? [])])

/** Why two pads may not be one conductor, whatever they are used as; nothing where they may, or nobody says what they are. */
function clash(a: LeadEnd, b: LeadEnd): string | undefined {
  const [x, y] = [rolesOf(a.pad), rolesOf(b.pad)]
  if (x.length === 0 || y.length === 0) return undefined
  return x.every((k) => y.every((l) => refused(k, l) !== undefined)) ? refused(x[0]!, y[0]!) : undefined
}

/** A net or a lead that joins pads. */
interface Join {
  readonly id: string
  readonly net: boolean
}

/** What gives a supply, and another such thing or a return, one conductor by way of more than one net or lead: each of these is in order. */
function chains(problem: Problem, netlist: Netlist, leads: readonly PadLead[]): NetFinding[] {
  const joins = new Map<Join, LeadEnd[]>()
  for (const { id, nodes } of netlist.nets) {
    joins.set(
      { id, net: true },
      nodes.flatMap((n) => (n.kind === 'pad' ? [{ item: n.item, pad: n.pad }] : [])),
    )
  }
  for (const { id, ends } of leads) joins.set({ id, net: false }, [...ends])
  const ends = new Map<string, LeadEnd>()
  const at = new Map<string, Join[]>()
  for (const [join, list] of joins)
    for (const end of list) {
      const key = padKey(end.item, end.pad)
      ends.set(key, end)
      at.set(key, [...(at.get(key) ?? []), join])
    }
  const isOf = (end: LeadEnd, kinds: readonly string[]) => end.pad.kind !== undefined && kinds.includes(end.pad.kind)
  const order = [...ends.keys()]
  return order.flatMap((start): NetFinding[] => {
    const a = ends.get(start)!
    if (!isOf(a, GIVES)) return []
    // breadth first, so that the fewest joins are named
    const by = new Map<string, Join[]>([[start, []]])
    for (const key of by.keys())
      for (const join of at.get(key) ?? [])
        for (const end of joins.get(join)!) {
          const next = padKey(end.item, end.pad)
          if (!by.has(next)) by.set(next, [...by.get(key)!, join])
        }
    return [...by].flatMap(([key, path]): NetFinding[] => {
      const b = ends.get(key)!
      const meet = isOf(b, GIVES)
      if (path.length < 2 || !(meet || isOf(b, ['return'])) || (meet && order.indexOf(key) < order.indexOf(start)))
        return []
      const why = isSame(a, b) ? undefined : clash(a, b)
      if (why === undefined) return []
      const names = path.map((j) => (j.net ? words.aNet(j.id) : words.aLead(j.id)))
      const text = words.chainApart(nameOf(problem, a), a.pad.kind!, nameOf(problem, b), b.pad.kind!, names, why)
      const items = [...new Set([problem.items[a.item]!.id, problem.items[b.item]!.id, ...path.map((j) => j.id)])]
      return [
        meet
          ? { kind: 'supplies-meet', topic: 'supplies meet', weight: 'stops', items, text }
          : { kind: 'kinds-apart', topic: 'kinds', weight: 'stops', items, text },
      ]
    })
  })
}

/** Two terminals of one part that give the same are one supply. */
const isSame = (a: LeadEnd, b: LeadEnd): boolean =>
  a.item === b.item && a.pad.kind === b.pad.kind && `${a.pad.volts}` === `${b.pad.volts}`
