/** The project's own wires against its nets and the kinds of what they end on: a lead can make a short circuit as well as a net can. */
import type { Problem } from '../../solver/index.ts'
import {
  type Conductors,
  isInSeries,
  isKind,
  isReturn,
  isSure,
  type Join,
  type Node,
  reachedFrom,
  throughPack,
} from './conductors.ts'
import { type Net, type NetFinding, type Netlist, padKey } from './netlist.ts'
import type { Pad } from './netlist-pads.ts'
import { GIVES, refused, TAKES } from './pins-kinds.ts'
import type { LeadEnd } from './pins-leads.ts'
import { sharedPoles } from './shared-poles.ts'
import { called, refusal, nets as words } from './words.ts'

/** Of leads from part to part that no net says the same of, and of what they and the nets make one conductor together. */
export function checkWires(problem: Problem, netlist: Netlist, conductors: Conductors): NetFinding[] {
  return [...eachLead(problem, netlist, conductors), ...chains(problem, conductors), ...byPoles(problem, conductors)]
}

export const nameOf = (problem: Problem, { item, pad: { id, name } }: LeadEnd): string =>
  called.pin(problem.items[item]!.id, id, name)

function eachLead(problem: Problem, netlist: Netlist, c: Conductors): NetFinding[] {
  const netsOf = ({ item, pad }: LeadEnd): Net[] => {
    const key = padKey(item, pad)
    return netlist.nets.filter((n) => n.nodes.some((e) => e.kind === 'pad' && padKey(e.item, e.pad) === key))
  }
  return c.leads.flatMap(({ id, kind, ends: [a, b] }): NetFinding[] => {
    if (kind === 'ribbon' || isInSeries(c, a, b)) return []
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

const JOINED_BY = {
  net: words.aNet,
  lead: words.aLead,
  fuse: words.aFuse,
  switch: words.aSwitch,
  part: words.aPart,
  pack: words.aPack,
} as const

/** A net is on both sides of the switch that it is led through. */
export const joinedBy = (path: readonly Join[]): string[] => [...new Set(path.map((j) => JOINED_BY[j.by](j.id)))]

/** Two ends of one conductor, and what makes them so. */
interface Chain {
  readonly a: LeadEnd
  readonly b: LeadEnd
  readonly path: readonly Join[]
  readonly why: string
}

/**
 * What is one conductor by way of more than one net or lead, each of which is in order, and may not be: supplies, a plus and a return, a
 * return and what takes a supply. So are a fuse and a switch of which two terminals are in use. One of which more are may be a
 * selector, at which packs rightly meet, and nothing says which of its terminals is the common one; nor is anything known of a diode or
 * a charger, so no way leads through them.
 */
function chains(problem: Problem, c: Conductors): NetFinding[] {
  const order = [...c.places.keys()]
  return order.flatMap((start): NetFinding[] => {
    const a = c.places.get(start)!
    if (isKind(a, GIVES)) return isOwn(c, a) ? given(problem, c, order, start, a) : []
    return isKind(a, TAKES) ? taken(problem, c, start, a) : []
  })
}

/** What a terminal that gives a supply is joined to: others that do, and returns, its own part's before others. */
function given(problem: Problem, c: Conductors, order: readonly Node[], start: Node, a: LeadEnd): NetFinding[] {
  const reached = reachedFrom(c, [start])
  const found: Chain[] = []
  const backs: Chain[] = []
  for (const [node, path] of reached) {
    const b = c.places.get(node)!
    if (isKind(b, GIVES) && isOwn(c, b)) {
      const why = isSame(a, b) ? undefined : clash(a, b)
      if (why !== undefined && path.length > 1 && order.indexOf(node) > order.indexOf(start))
        found.push({ a, b, path, why })
    } else if (isReturn(b) && !(c.roles.packs.has(a.item) && c.middles.has(node)) && clash(a, b) !== undefined)
      backs.push({ a, b, path, why: a.item === b.item ? refusal.short : refusal.turned })
  }
  const own = backs.filter(({ b }) => b.item === a.item)
  // one wrong lead joins all returns that are one already: the nearest is told, and what one net or lead joins is told of that
  const others = backs.some(({ path }) => path.length < 2) ? [] : backs.slice(0, 1)
  const told = own.length > 0 ? own.filter(({ path }) => path.length > 1) : others
  const ring = backs.length > 0 ? [] : inRing(problem, c, start, a)
  return [
    ...found.map((chain) => findingOf(problem, c, chain, 'supplies-meet')),
    ...[...told, ...ring].slice(0, 1).map((chain) => findingOf(problem, c, chain, 'kinds-apart')),
  ]
}

/** Packs in series of which the last leads back to the first. */
function inRing(problem: Problem, c: Conductors, start: Node, a: LeadEnd): Chain[] {
  if (c.middles.size === 0) return []
  const reached = reachedFrom(c, [start], isSure, (node) => throughPack(c, problem, node, 'plus'))
  return [...reached].flatMap(([node, path]): Chain[] => {
    const b = c.places.get(node)!
    return isReturn(b) && b.item === a.item ? [{ a, b, path, why: refusal.short }] : []
  })
}

/** What takes a supply, on a return where no supply is: the wrong way round. */
function taken(problem: Problem, c: Conductors, start: Node, a: LeadEnd): NetFinding[] {
  const reached = [...reachedFrom(c, [start])].map(([node, path]) => ({ b: c.places.get(node)!, path }))
  if (reached.some(({ b }) => isKind(b, GIVES) && isOwn(c, b))) return []
  const backs = reached.flatMap(({ b, path }): Chain[] => {
    const why = isReturn(b) ? clash(b, a) : undefined
    return isReturn(b) && why !== undefined ? [{ a: b, b: a, path: [...path].reverse(), why }] : []
  })
  if (backs.some(({ path }) => path.length < 2)) return []
  const own = backs.find((chain) => c.roles.packs.has(chain.a.item)) ?? backs[0]
  return own ? [findingOf(problem, c, own, 'kinds-apart')] : []
}

/**
 * Whether the second gives only where the first gives to it already, so that they cannot be on by turns: what it takes comes from the first,
 * with no more switches on than these, or from nobody. A part that nothing is led to may have a plug of its own.
 */
function isDriven(c: Conductors, by: LeadEnd, { item }: LeadEnd, path: readonly Join[]): boolean {
  const takes = [...c.places].flatMap(([node, p]) => (isKind(p, TAKES) && p.item === item ? [node] : []))
  if (takes.length === 0) return false
  const fed = reachedFrom(c, takes, (join) => isSure(join) && (join.by !== 'switch' || path.includes(join)))
  if ([...fed.keys()].some((n) => isKind(c.places.get(n)!, GIVES) && (c.places.get(n) as LeadEnd).item === by.item))
    return true
  return [...reachedFrom(c, takes, () => true).keys()].every((node) => {
    const place = c.places.get(node)!
    return isKind(place, TAKES) || ('item' in place && c.roles.protects.has(place.item))
  })
}

function findingOf(
  problem: Problem,
  c: Conductors,
  { a, b, path, why }: Chain,
  kind: 'supplies-meet' | 'kinds-apart',
): NetFinding {
  const on = path.flatMap((j) => (j.by === 'switch' ? [j.id] : []))
  const text = words.chainApart(
    nameOf(problem, a),
    a.pad.kind!,
    nameOf(problem, b),
    b.pad.kind!,
    joinedBy(path),
    on,
    why,
  )
  const items = [...new Set([problem.items[a.item]!.id, problem.items[b.item]!.id, ...path.map((j) => j.id)])]
  if (kind === 'kinds-apart') return { kind, topic: 'kinds', weight: 'stops', items, text }
  // whoever turns on one switch at a time may mean it so
  const mayBe = on.length > 0 && !isDriven(c, a, b, path) && !isDriven(c, b, a, path)
  return { kind, topic: 'supplies meet', weight: mayBe ? 'worth-knowing' : 'stops', items, text }
}

const byPoles = (problem: Problem, c: Conductors): NetFinding[] =>
  sharedPoles(c).map(({ by, ends: [a, b] }) => {
    const text = words.poleEach(nameOf(problem, a), nameOf(problem, b), by.id, refusal.supplies)
    const items = [problem.items[a.item]!.id, problem.items[b.item]!.id, by.id]
    return { kind: 'supplies-meet', topic: 'supplies meet', weight: 'worth-knowing', items, text }
  })

/** What a fuse or switch gives is what it is given. */
const isOwn = (c: Conductors, { item }: LeadEnd): boolean => !c.roles.protects.has(item)

/** Two terminals of one part that give the same are one supply. */
const isSame = (a: LeadEnd, b: LeadEnd): boolean =>
  a.item === b.item && a.pad.kind === b.pad.kind && `${a.pad.volts}` === `${b.pad.volts}`
