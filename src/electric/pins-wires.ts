/** The project's own wires against its nets and the kinds of what they end on: a lead can make a short circuit as well as a net can. */
import type { Problem } from '../../solver/index.ts'
import { type Net, type NetFinding, type Netlist, type NetNode, padKey } from './netlist.ts'
import type { Pad } from './netlist-pads.ts'
import { GIVES, refused } from './pins-kinds.ts'
import type { LeadEnd, PadLead } from './pins-leads.ts'
import type { Protection } from './power-protection.ts'
import { called, nets as words } from './words.ts'

/** Of leads from part to part that no net says the same of, and of what they and the nets make one conductor together. */
export function checkWires(
  problem: Problem,
  netlist: Netlist,
  all: readonly PadLead[],
  protection: Protection,
): NetFinding[] {
  const leads = all.filter((l) => l.kind !== 'ribbon')
  return [...eachLead(problem, netlist, leads), ...chains(problem, netlist, leads, protection)]
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

/** What joins pads; a switch does while it is on. */
interface Join {
  readonly id: string
  readonly by: 'net' | 'lead' | 'fuse' | 'switch'
}

const JOINED_BY = { net: words.aNet, lead: words.aLead, fuse: words.aFuse, switch: words.aSwitch } as const

/**
 * From one pad to all that are one conductor with it, and what joins them: the fewest switches, then the fewest joins. What is behind a
 * switch waits until nothing is left before it.
 */
function reachedFrom(
  start: string,
  joins: ReadonlyMap<Join, readonly string[]>,
  at: ReadonlyMap<string, readonly Join[]>,
) {
  const reached = new Map<string, readonly Join[]>([[start, []]])
  let ahead = [start]
  while (ahead.length > 0) {
    const behind: (readonly [string, readonly Join[]])[] = []
    for (const key of ahead)
      for (const join of at.get(key) ?? [])
        for (const next of joins.get(join)!) {
          if (reached.has(next)) continue
          const path = [...reached.get(key)!, join]
          if (join.by === 'switch') behind.push([next, path])
          else {
            reached.set(next, path)
            ahead.push(next)
          }
        }
    ahead = behind.flatMap(([next, path]) => {
      if (reached.has(next)) return []
      reached.set(next, path)
      return [next]
    })
  }
  return reached
}

/**
 * What gives a supply, and another such thing or a return, one conductor by way of more than one net or lead: each of these is in order.
 * So are a fuse and a switch of which two terminals are in use. One of which more are may be a selector, at which packs rightly meet, and
 * nothing says which of its terminals is the common one; nor is anything known of a diode or a charger, so no way leads through them.
 */
function chains(problem: Problem, netlist: Netlist, leads: readonly PadLead[], protection: Protection): NetFinding[] {
  const ends = new Map<string, LeadEnd>()
  const joins = new Map<Join, string[]>()
  const at = new Map<string, Join[]>()
  const put = (join: Join, list: readonly LeadEnd[]): void => {
    const keys = list.map((end) => padKey(end.item, end.pad))
    joins.set(join, keys)
    for (const [i, key] of keys.entries()) {
      ends.set(key, list[i]!)
      at.set(key, [...(at.get(key) ?? []), join])
    }
  }
  const padsIn = (nodes: readonly NetNode[]) =>
    nodes.flatMap((n) => (n.kind === 'pad' ? [{ item: n.item, pad: n.pad }] : []))
  const led = new Set<number>()
  for (const { id, nodes, switch: by } of netlist.nets) {
    const sides = (by ? [by.before, by.behind] : [nodes]).map(padsIn)
    for (const side of sides) put({ id, by: 'net' }, side)
    if (!by) continue
    led.add(by.item)
    put(
      { id: problem.items[by.item]!.id, by: 'switch' },
      sides.flat().filter((e) => e.item === by.item),
    )
  }
  for (const lead of leads) put({ id: lead.id, by: 'lead' }, lead.ends)
  for (const [item, by] of protection) {
    const used = [...ends.values()].filter((e) => e.item === item)
    if (used.length === 2 && !led.has(item)) put({ id: problem.items[item]!.id, by }, used)
  }
  const isOf = (end: LeadEnd, kinds: readonly string[]) => end.pad.kind !== undefined && kinds.includes(end.pad.kind)
  const order = [...ends.keys()]
  return order.flatMap((start): NetFinding[] => {
    const a = ends.get(start)!
    if (!isOf(a, GIVES)) return []
    return [...reachedFrom(start, joins, at)].flatMap(([key, path]): NetFinding[] => {
      const b = ends.get(key)!
      const meet = isOf(b, GIVES)
      if (path.length < 2 || !(meet || isOf(b, ['return'])) || (meet && order.indexOf(key) < order.indexOf(start)))
        return []
      // the return of another pack behind a fuse or switch is that of packs in series, and no short circuit
      if (!meet && a.item !== b.item && path.some((j) => j.by === 'fuse' || j.by === 'switch')) return []
      const why = isSame(a, b) ? undefined : clash(a, b)
      if (why === undefined) return []
      // a net is on both sides of the switch that it is led through
      const names = [...new Set(path.map((j) => JOINED_BY[j.by](j.id)))]
      const on = path.flatMap((j) => (j.by === 'switch' ? [j.id] : []))
      const text = words.chainApart(nameOf(problem, a), a.pad.kind!, nameOf(problem, b), b.pad.kind!, names, on, why)
      const items = [...new Set([problem.items[a.item]!.id, problem.items[b.item]!.id, ...path.map((j) => j.id)])]
      return [
        meet
          ? // whoever turns on one switch at a time may mean it so
            {
              kind: 'supplies-meet',
              topic: 'supplies meet',
              weight: on.length > 0 ? 'worth-knowing' : 'stops',
              items,
              text,
            }
          : { kind: 'kinds-apart', topic: 'kinds', weight: 'stops', items, text },
      ]
    })
  })
}

/** Two terminals of one part that give the same are one supply. */
const isSame = (a: LeadEnd, b: LeadEnd): boolean =>
  a.item === b.item && a.pad.kind === b.pad.kind && `${a.pad.volts}` === `${b.pad.volts}`
