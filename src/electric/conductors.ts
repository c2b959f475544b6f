/**
 * What is one conductor with what, terminal by terminal: leads with all their conductors and nets join terminals, both sides of a net that
 * is led through a switch by themselves; fuses and switches join what is at their terminals, and can be open. Whoever asks what is
 * behind a fuse or switch, what a supply reaches, or where a plus meets a minus, asks here.
 */
import type { Placement, Problem, TerminalKind } from '../../solver/index.ts'
import type { Netlist, NetNode } from './netlist.ts'
import { type Pad, padKey, padsOf } from './netlist-pads.ts'
import { GIVES, TAKES } from './pins-kinds.ts'
import { isFromPartToPart, type LeadEnd, type PadLead, type Path, type PlacedLead, placedLeads } from './pins-leads.ts'

/** What the files say of parts and leads beside their terminals. */
export interface Roles {
  /** Fuses and switches, by item: what flows in at one terminal of theirs flows out at another. */
  readonly protects: ReadonlyMap<number, 'fuse' | 'switch'>
  /** Items with cells. */
  readonly packs: ReadonlySet<number>
  /** Leads that carry a supply which the file names. */
  readonly paths: ReadonlyMap<string, Path>
  /** What each of those says that it carries. */
  readonly supplies: ReadonlyMap<string, string>
}

export const PLUS: readonly TerminalKind[] = [...GIVES, ...TAKES]

const MINUS: readonly TerminalKind[] = ['return']

const NO_ROLES: Roles = { protects: new Map(), packs: new Set(), paths: new Map(), supplies: new Map() }

/** Where conductors end: a terminal, an exit, or an item that one conductor of a pair goes past, since it has no terminal for it. */
export type Place = LeadEnd | { readonly exit: number } | Past

/** `supply`: whose, at a switch with poles for several. */
interface Past {
  readonly item: number
  readonly past: 'out' | 'back'
  readonly supply?: string
}

/** A place of the graph; an exit, and the one terminal of a fuse or switch that is drawn with one, are another for each that ends there. */
export type Node = string

export interface Join {
  readonly id: string
  /** `part`: returns are one inside a part; `pack`: through its cells, from minus to plus. */
  readonly by: 'net' | 'lead' | 'fuse' | 'switch' | 'part' | 'pack'
  readonly nodes: readonly Node[]
  /** The fuse or switch that can open it. */
  readonly item?: number
  /** More terminals than two are in use: a position joins some of them, and nothing says which. */
  readonly selects?: true
  /** What alone of a supply's way this conductor is. */
  readonly side?: 'out' | 'back'
  /** It conducts for the supply that the file names, and nothing says which terminals it joins. */
  readonly told?: true
}

export interface Conductors {
  readonly joins: readonly Join[]
  readonly at: ReadonlyMap<Node, readonly Join[]>
  readonly places: ReadonlyMap<Node, Place>
  readonly roles: Roles
  /** Leads from part to part. */
  readonly leads: readonly PadLead[]
  /** Returns of packs that are led to another pack's plus, each with that: there the two are in series. */
  readonly middles: ReadonlyMap<Node, LeadEnd>
  /** Terminals at which ribbons end: somebody is at the other end, and nothing says on which conductor. */
  readonly ribbons: ReadonlySet<Node>
}

export type At = Pick<Conductors, 'at'>

/** Of one layout. */
export function conductorsOf(
  problem: Problem,
  placements: readonly Placement[],
  { nets }: Pick<Netlist, 'nets'>,
  roles: Roles = NO_ROLES,
): Conductors {
  const places = new Map<Node, Place>()
  const joins: Join[] = []
  const at = new Map<Node, Join[]>()
  const padsAt = (item: number) => padsOf(problem.items[item]!.footprint)
  const isDot = (item: number) => roles.protects.has(item) && padsAt(item).length === 1
  const nodeOf = (place: Place): Node => {
    if ('exit' in place) return `exit ${place.exit} ${places.size}`
    if ('past' in place) return [place.past, place.item, place.supply].join(' ')
    const key = padKey(place.item, place.pad)
    return isDot(place.item) ? `${key} ${places.size}` : key
  }
  const join = (how: Omit<Join, 'nodes'>, nodes: readonly Node[]): void => {
    const made = { ...how, nodes }
    joins.push(made)
    for (const node of nodes) at.set(node, [...(at.get(node) ?? []), made])
  }
  const put = (how: Omit<Join, 'nodes'>, list: readonly Place[]): readonly Node[] => {
    const nodes = list.map((place) => {
      const node = nodeOf(place)
      places.set(node, place)
      return node
    })
    join(how, nodes)
    return nodes
  }
  const placeOf = (n: NetNode): Place => (n.kind === 'pad' ? { item: n.item, pad: n.pad } : { exit: n.exit })
  const led = new Set<Node>()
  for (const { id, nodes, switch: by } of nets) {
    const sides = (by ? [by.before, by.behind] : [nodes]).map((side) => put({ id, by: 'net' }, side.map(placeOf)))
    if (!by) continue
    const mine = sides.flat().filter((n) => {
      const place = places.get(n)!
      return 'item' in place && place.item === by.item
    })
    for (const n of mine) led.add(n)
    join({ id: problem.items[by.item]!.id, by: 'switch', item: by.item }, mine)
  }
  const leads = placedLeads(problem, placements, roles.paths, roles.protects)
  const supplyAt = suppliesPast(leads, roles, padsAt)
  for (const lead of leads)
    for (const [how, ends] of conductorsIn(lead, padsAt))
      put(
        how,
        ends.map((end) => supplyAt(end, lead.id)),
      )

  const inUse = (item: number): Node[] =>
    [...places].flatMap(([node, p]) => ('pad' in p && p.item === item && !led.has(node) ? [node] : []))
  const returns = new Map<number, Node[]>()
  for (const [node, place] of places)
    if (isReturn(place) && !roles.protects.has(place.item))
      returns.set(place.item, [...(returns.get(place.item) ?? []), node])
  for (const [item, mine] of returns) if (mine.length > 1) join({ id: problem.items[item]!.id, by: 'part' }, mine)
  const protects = [...roles.protects].map(([item, by]) => {
    // a return beside two others is that of its lamp, or another pole
    const isApart = (node: Node) => padsAt(item).length > 2 && isReturn(places.get(node)!)
    const used = inUse(item)
    return { item, by, rest: used.filter((n) => !isApart(n)), apart: used.filter(isApart) }
  })
  const joinPoles = ({ item, by }: (typeof protects)[number], poles: readonly (readonly Node[])[]) => {
    for (const pole of poles) {
      if (pole.length < 2) continue
      const selects = pole.length > 2 && !isDot(item) ? { selects: true as const } : {}
      join({ id: problem.items[item]!.id, by, item, ...selects }, pole)
    }
  }
  const hasMore = ({ item, rest }: (typeof protects)[number]) => rest.length > 2 && !isDot(item)
  for (const part of protects) joinPoles(part, hasMore(part) ? [part.apart] : [part.rest, part.apart])
  // what those join says what the rest lead to
  const divided = protects.filter(hasMore).map((part) => {
    const back = leadingBack({ at, places, roles }, problem, part.rest)
    return { part, poles: [part.rest.filter((n) => !back.has(n)), [...back]] }
  })
  for (const { part, poles } of divided) joinPoles(part, poles)

  const ribbons = new Set(
    leads.flatMap(({ kind, ends }) =>
      kind === 'ribbon' ? ends.flatMap((e) => ('pad' in e ? [padKey(e.item, e.pad)] : [])) : [],
    ),
  )
  const bare = { joins, at, places, roles, leads: leads.filter(isFromPartToPart), ribbons }
  return { ...bare, middles: middlesOf(bare) }
}

/**
 * Of the terminals in use of a fuse or switch those in the way back: what they lead to says so, or a lead of a supply, where two others are left for the way out.
 * Then each side is a pole. None where it may be a selector; nor where a pack there has its other end elsewhere, for it may stand between
 * packs in series.
 */
function leadingBack(
  c: Pick<Conductors, 'at' | 'places' | 'roles'>,
  problem: Problem,
  used: readonly Node[],
): ReadonlySet<Node> {
  const isPack = (node: Node) => c.roles.packs.has((c.places.get(node) as LeadEnd).item)
  const ends = used.map((node) => {
    const all = [...reachedFrom(c, [node]).keys()]
    const ofKind = (kinds: readonly TerminalKind[]) => all.filter((n) => isKind(c.places.get(n)!, kinds))
    // through the cells of the packs there, to another of these
    const comesBack = (from: Node, towards: 'plus' | 'minus') => {
      const on = (n: Node) => throughPack(c, problem, n, towards)
      const far = reachedFrom(
        c,
        [...on(from)].map(([n]) => n),
        isSure,
        on,
      )
      return used.some((n) => n !== node && far.has(n))
    }
    const returns = ofKind(MINUS)
    const isSaid = c.at.get(node)!.some((j) => j.side === 'back')
    const isPart = isSaid || !returns.every(isPack)
    const given = ofKind(GIVES).filter(isPack)
    return {
      node,
      isPlus: ofKind(PLUS).length > 0,
      isBack: isSaid || returns.length > 0,
      isPart,
      isClosed:
        given.every((n) => comesBack(n, 'minus')) &&
        (isPart || returns.length === 0 || returns.some((n) => comesBack(n, 'plus'))),
    }
  })
  const back = ends.filter((e) => e.isBack)
  const isKnown = ends.every((e) => e.isClosed && !(e.isBack && e.isPlus)) && back.some((e) => e.isPart)
  const isTwo = used.length - back.length === 2 && ends.some((e) => e.isPlus)
  return new Set(isKnown && isTwo ? back.map((e) => e.node) : [])
}

/**
 * Where a part has poles for several and all leads at it say what they carry, conductors that go past it are one for each supply; else
 * all are one.
 */
function suppliesPast(
  leads: readonly PlacedLead[],
  { protects, supplies }: Roles,
  padsAt: (item: number) => readonly Pad[],
): (place: Place, lead: string) => Place {
  const unsaid = new Set(
    leads.flatMap(({ id, ends }) => (supplies.has(id) ? [] : ends.flatMap((e) => ('item' in e ? [e.item] : [])))),
  )
  return (place, lead) => {
    if (!('past' in place)) return place
    const { item } = place
    const isOne = !protects.has(item) || unsaid.has(item) || padsAt(item).length <= 2
    return isOne ? place : { ...place, supply: supplies.get(lead)! }
  }
}

type Made = readonly [how: Omit<Join, 'nodes'>, ends: readonly [Place, Place]]

/** What a lead joins: a pair the terminals beside its ends too. */
function conductorsIn({ id, ends, kind, path }: PlacedLead, padsAt: (item: number) => readonly Pad[]): Made[] {
  const how = { id, by: 'lead' } as const
  const pair = (more: { told?: true }): Made[] => {
    const isBack = ends.some(isReturn)
    // one that leads plus to minus is told as such (pins-wires.ts)
    if (isBack && ends.some((end) => isKind(end, PLUS))) return [[{ ...how, ...more }, ends]]
    const others = ends.map((end) => besideOf(end, padsAt, isBack ? 'out' : 'back')) as [Place, Place]
    const [out, back] = isBack ? [others, ends] : [ends, others]
    return [
      [{ ...how, ...more, side: 'out' }, out],
      [{ ...how, ...more, side: 'back' }, back],
    ]
  }
  if (kind === 'pair') return pair({})
  const side = path === undefined || path === 'pair' ? {} : { side: path }
  if (kind === 'one') return [[{ ...how, ...side }, ends]]
  if (path === undefined) return []
  return path === 'pair' ? pair({ told: true }) : [[{ ...how, ...side, told: true }, ends]]
}

/** Where the other conductor of a pair ends: at the nearest terminal for it. */
function besideOf(
  end: PlacedLead['ends'][number],
  padsAt: (item: number) => readonly Pad[],
  past: 'out' | 'back',
): Place {
  if ('exit' in end) return end
  const { x, y } = end.pad.at
  const far = (p: Pad) => Math.hypot(p.at.x - x, p.at.y - y)
  const [pad] = padsAt(end.item)
    .filter((p) => p.kind !== undefined && (past === 'back' ? MINUS : PLUS).includes(p.kind))
    .sort((a, b) => far(a) - far(b))
  return pad ? { item: end.item, pad } : { item: end.item, past }
}

export const isKind = (place: Place, kinds: readonly TerminalKind[]): place is LeadEnd =>
  'pad' in place && place.pad.kind !== undefined && kinds.includes(place.pad.kind)

export const isReturn = (place: Place): place is LeadEnd => isKind(place, MINUS)

/** Whether it is known to conduct, with every switch on. */
export const isSure = (join: Join): boolean => !join.told && !join.selects

/**
 * From some nodes to all that are one conductor with them, and what joins them: the fewest switches, then the fewest joins. What is
 * behind a switch waits until nothing is left before it. `onward`: where else a node hands on to.
 */
export function reachedFrom(
  { at }: At,
  starts: readonly Node[],
  conducts: (join: Join) => boolean = isSure,
  onward: (node: Node) => readonly (readonly [Node, Join?])[] = () => [],
): ReadonlyMap<Node, readonly Join[]> {
  const reached = new Map<Node, readonly Join[]>(starts.map((s) => [s, []]))
  let ahead = [...reached.keys()]
  while (ahead.length > 0) {
    const behind: (readonly [Node, readonly Join[]])[] = []
    const go = (next: Node, path: readonly Join[]) => {
      if (reached.has(next)) return
      reached.set(next, path)
      ahead.push(next)
    }
    for (const node of ahead) {
      const before = reached.get(node)!
      for (const join of at.get(node) ?? []) {
        if (!conducts(join)) continue
        const path = [...before, join]
        for (const next of join.nodes)
          if (join.by !== 'switch') go(next, path)
          else if (!reached.has(next)) behind.push([next, path])
      }
      for (const [next, by] of onward(node)) go(next, by ? [...before, by] : before)
    }
    ahead = behind.flatMap(([next, path]) => {
      if (reached.has(next)) return []
      reached.set(next, path)
      return [next]
    })
  }
  return reached
}

/** A pack's return that another pack's plus is led to, and whose own return is not: that would be a short circuit. */
function middlesOf(c: Omit<Conductors, 'middles'>): Map<Node, LeadEnd> {
  const isPack = (place: Place): place is LeadEnd => 'item' in place && c.roles.packs.has(place.item)
  const middles = new Map<Node, LeadEnd>()
  for (const [start, a] of c.places) {
    if (!isPack(a) || !isKind(a, GIVES)) continue
    const backs = [...reachedFrom(c, [start]).keys()].filter((n) => isReturn(c.places.get(n)!))
    const owner = (n: Node) => (c.places.get(n) as LeadEnd).item
    if (backs.some((n) => owner(n) === a.item)) continue
    for (const n of backs) if (isPack(c.places.get(n)!)) middles.set(n, a)
  }
  return middles
}

/** Whether one gives a supply and the other is a return at which packs are in series, or what takes a supply there. */
export function isInSeries({ roles, middles }: Conductors, a: LeadEnd, b: LeadEnd): boolean {
  const isMiddle = ({ item, pad }: LeadEnd) => middles.has(padKey(item, pad))
  const is = (x: LeadEnd, y: LeadEnd) => isMiddle(x) && isKind(y, roles.packs.has(y.item) ? PLUS : TAKES)
  return is(a, b) || is(b, a)
}

/** Through the cells of packs in series: from the return of one to its plus, or the other way. */
export function throughPack(
  c: Pick<Conductors, 'places' | 'roles'>,
  problem: Problem,
  node: Node,
  towards: 'plus' | 'minus',
): [Node, Join][] {
  const [from, to] = towards === 'plus' ? [MINUS, GIVES] : [GIVES, MINUS]
  const place = c.places.get(node)!
  if (!isKind(place, from) || !c.roles.packs.has(place.item)) return []
  const { item } = place
  const join = { id: problem.items[item]!.id, by: 'pack' } as const
  return [...c.places].flatMap(([next, p]): [Node, Join][] =>
    isKind(p, to) && p.item === item ? [[next, { ...join, nodes: [node, next] }]] : [],
  )
}

/** The same conductors, of which some join no more than these nodes, or nothing. */
export function joinedAs({ at }: At, as: ReadonlyMap<Join, readonly Node[]>): At {
  const made = new Map(at)
  for (const [join, nodes] of as) {
    const less = { ...join, nodes }
    for (const node of join.nodes)
      made.set(
        node,
        made.get(node)!.flatMap((j) => (j !== join ? [j] : nodes.includes(node) ? [less] : [])),
      )
  }
  return { at: made }
}
