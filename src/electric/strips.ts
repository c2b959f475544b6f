/**
 * Which contact each jumper and each lead goes into. Pins that sit on one strip are joined already; a net's strips are joined by
 * the shortest jumpers that leave a contact free for what is still to come (greedily, as in Kruskal 1956; short, not proven
 * shortest); supplies and returns of three ends or more get a rail, on each board where two of its pins are.
 */
import { layoutOf, type Placement, type Problem, type Um, um } from '../../solver/index.ts'
import { distance, type Net, type NetFinding, type Netlist, type NetNode, nodeName, padKey } from './netlist.ts'
import { POWER } from './pins-kinds.ts'
import { type Boards, boardsOf, type Contact, type Strip } from './strips-boards.ts'
import { Known, roomIn, type Spot } from './strips-nearest.ts'
import { plugsOf, seatOfPlug } from './strips-plugs.ts'
import { type Blocked, wiresBlocked } from './strips-wires.ts'
import { called, strips as words } from './words.ts'

type Layout = ReturnType<typeof layoutOf>

/** An end of a jumper or lead: a contact of a board, or a screw, a pad, a lead that is there. */
export interface PlanEnd {
  /** Id of the board, item or exit. */
  readonly of: string
  /** The contact's name, or the node's. */
  readonly name: string
  readonly contact?: Contact
  readonly node: NetNode
}

export interface Link {
  readonly net: string
  /** `jumper`: from contact to contact; `lead`: to a contact; `direct`: not through a board. */
  readonly kind: 'jumper' | 'lead' | 'direct'
  readonly from: PlanEnd
  readonly to: PlanEnd
  /** As R7 measures, without loops and ends. */
  readonly length: Um
}

export interface StripPlan {
  /** The nets as they are wired: one with a switch in it is two. */
  readonly nets: readonly Net[]
  readonly links: readonly Link[]
  /** Strips on which pins of two parts or more meet, so that no jumper is needed. */
  readonly shared: readonly { readonly net: string; readonly pins: readonly string[] }[]
  /** Plugs of several pins that go into a board on a piece of header, with their contacts in the order of their pins. */
  readonly plugs: readonly { readonly item: number; readonly name: string; readonly contacts: readonly Contact[] }[]
  readonly findings: readonly NetFinding[]
  readonly boards: Boards
}

/** What leaves no contact free for what has to be joined, as the plan finds it, without the rest of the plan. */
export function blockedStrips(problem: Problem, placements: readonly Placement[], netlist: Netlist): BlockedStrips {
  return new Plan(layoutOf(problem, placements), netlist).block()
}

export interface BlockedStrips {
  readonly boards: Boards
  readonly blocked: readonly Blocked[]
}

/** The plan of one layout, legal or not: what cannot be joined is among its findings. */
export function planStrips(problem: Problem, placements: readonly Placement[], netlist: Netlist): StripPlan {
  return new Plan(layoutOf(problem, placements), netlist).make()
}

class Plan {
  private readonly boards: Boards
  private readonly owner = new Map<Strip, string>()
  private readonly lines = new Map<string, string>()
  private readonly links: Link[] = []
  private readonly nets: readonly Net[]
  private readonly findings: NetFinding[] = []
  private readonly blocked: Blocked[] = []
  private readonly uses = new Map<string, number>()
  private readonly plugs: { item: number; name: string; contacts: Contact[] }[] = []
  private readonly plugged = new Map<string, Contact>()

  constructor(
    private readonly layout: Layout,
    netlist: Netlist,
  ) {
    this.boards = boardsOf(layout)
    this.nets = netlist.nets.flatMap(this.conductors)
    for (const net of this.nets)
      for (const n of net.nodes)
        if (n.kind === 'pad') this.uses.set(padKey(n.item, n.pad), (this.uses.get(padKey(n.item, n.pad)) ?? 0) + 1)
  }

  /** Plugs go on strips of their own, with a contact to spare: they block none. */
  block(): BlockedStrips {
    for (const net of this.nets) this.partsOf(net, this.seatedStrips(net))
    this.wires()
    const { boards, blocked } = this
    return { boards, blocked }
  }

  private wires(): void {
    this.blocked.push(...wiresBlocked(this.layout, this.boards, this.nets))
  }

  make(): StripPlan {
    const { nets } = this
    this.shorts(new Map(nets.map((n) => [n, this.seatedStrips(n)])))
    this.seatPlugs()
    const seated = new Map(nets.map((n) => [n, this.seatedStrips(n)]))
    const shared = nets.flatMap((net) => this.sharedBy(net, seated.get(net)!))
    const parts = new Map(nets.map((net) => [net, this.partsOf(net, seated.get(net)!)]))
    // Those that need most come first, so that the rails are theirs.
    const order = [...nets].sort((a, b) => parts.get(b)!.length - parts.get(a)!.length)
    for (const net of order) if (this.isPower(net)) this.addRails(net, parts.get(net)!)
    for (const net of order) this.join(net, parts.get(net)!)
    this.wires()
    this.findings.push(...this.blocked.map((b) => b.finding))
    const at = new Map(nets.map((n, i) => [n.id, i]))
    this.links.sort((a, b) => at.get(a.net)! - at.get(b.net)!)
    const { links, plugs, findings, boards } = this
    return { nets, links, shared, plugs, findings, boards }
  }

  private readonly id = (item: number): string => this.layout.problem.items[item]!.id

  /** A line with a switch in it is two: `id` before the switch, and `id after <switch>`. */
  private readonly conductors = ({ switch: led, ...net }: Net): Net[] =>
    led
      ? [
          { ...net, nodes: led.before },
          { ...net, id: called.behindSwitch(net.id, this.id(led.item)), nodes: led.behind },
        ]
      : [net]

  private contactOf(n: NetNode): Contact | undefined {
    if (n.kind === 'exit') return undefined
    const seat = n.pad.pin === undefined ? undefined : this.boards.seatOf.get(`${n.item} ${n.pad.pin}`)
    return seat?.contact ?? this.plugged.get(padKey(n.item, n.pad)) ?? this.boards.contactAt(n.item, n.pad.at)
  }

  /** Plugs come before jumpers, for they need strips side by side. */
  private seatPlugs(): void {
    if (this.boards.strips.length === 0) return
    const pitch = (board: number) => this.layout.problem.items[board]!.footprint.breadboard!.pitch
    const isFree = (s: Strip) => !this.owner.has(s)
    for (const plug of plugsOf(this.nets)) {
      const far = (node: NetNode, c: Contact) => distance(this.layout, node, this.spot(c).end.node)
      const contacts = seatOfPlug(this.boards, pitch, isFree, plug, far)
      if (!contacts) {
        const text = words.plugApart(plug.name, this.id(plug.item), plug.pins.length)
        const items = [this.id(plug.item), ...plug.pins.map((p) => p.net)]
        this.findings.push({ kind: 'plug-apart', topic: 'plug', weight: 'worth-knowing', items, text })
        continue
      }
      plug.pins.forEach(({ net, node }, i) => {
        const contact = contacts[i]!
        this.owner.set(contact.strip, net)
        this.lines.set(contact.strip.line, net)
        this.plugged.set(padKey(plug.item, node.pad), contact)
        const from = { of: this.id(plug.item), name: nodeName(this.layout.problem, node), node }
        const spot = this.spot(contact)
        this.links.push({ net, kind: 'lead', from, to: spot.end, length: um(far(node, contact)) })
        contact.strip.free.delete(contact)
      })
      this.plugs.push({ item: plug.item, name: plug.name, contacts })
    }
  }

  private seatedStrips(net: Net): Map<Strip, NetNode[]> {
    const strips = new Map<Strip, NetNode[]>()
    for (const n of net.nodes) {
      const c = this.contactOf(n)
      if (c) strips.set(c.strip, [...(strips.get(c.strip) ?? []), n])
    }
    return strips
  }

  /** Two nets on one strip, or on one rail whose groups are not known to be apart; pins of no net on a strip of one. */
  private shorts(seated: ReadonlyMap<Net, ReadonlyMap<Strip, readonly NetNode[]>>): void {
    const stop = (kind: 'nets-on-strip' | 'nets-on-rail', items: string[], text: string) =>
      this.findings.push({ kind, topic: 'short', weight: 'stops', items, text })
    const strips = new Map<string, Strip>()
    for (const [net, mine] of seated) {
      for (const [strip, nodes] of mine) {
        const names = nodes.map((n) => nodeName(this.layout.problem, n))
        const other = this.owner.get(strip)
        const onLine = this.lines.get(strip.line)
        if (other !== undefined && other !== net.id) {
          const text = words.netsMeet(other, net.id, this.where(strip), names)
          stop('nets-on-strip', [other, net.id, ...this.parts(strip)], text)
        } else if (onLine !== undefined && onLine !== net.id) {
          const first = this.where(strips.get(strip.line)!)
          const text = words.netsOnRail(onLine, net.id, this.where(strip), first)
          stop('nets-on-rail', [onLine, net.id, this.id(strip.board)], text)
        }
        this.owner.set(strip, net.id)
        this.lines.set(strip.line, net.id)
        strips.set(strip.line, strip)
        for (const seat of strip.seats) {
          const pad = this.nets.some((n) => n.nodes.some((e) => this.contactOf(e) === seat.contact))
          if (pad) continue
          const pin = this.layout.problem.items[seat.item]!.footprint.plug!.pins[seat.pin]!
          if (pin.kind === 'passive') continue
          const text = words.strangePin(this.id(seat.item), pin.id, pin.kind, net.id, names)
          const weight = pin.kind === undefined ? 'worth-knowing' : 'stops'
          const items = [this.id(seat.item), net.id]
          this.findings.push({ kind: 'pin-on-strange-strip', topic: 'short', weight, items, text })
        }
      }
    }
  }

  private where(strip: Strip): string {
    return called.contact(this.id(strip.board), strip.contacts[0]!.name)
  }

  private parts(strip: Strip): string[] {
    return [...new Set(strip.seats.map((s) => this.id(s.item)))]
  }

  private sharedBy(net: Net, seated: ReadonlyMap<Strip, readonly NetNode[]>) {
    return [...seated.values()].flatMap((nodes) => {
      const pins = nodes.filter((n) => n.kind === 'pad' && n.pad.pin !== undefined)
      if (pins.length < 2) return []
      return [{ net: net.id, pins: pins.map((n) => nodeName(this.layout.problem, n)) }]
    })
  }

  private isPower(net: Net): boolean {
    return net.nodes.some((n) => n.kind === 'pad' && n.pad.kind !== undefined && POWER.includes(n.pad.kind))
  }

  /** What is joined already, each part as the spots where more can be joined. */
  private partsOf(net: Net, seated: ReadonlyMap<Strip, readonly NetNode[]>): Spot[][] {
    const parts: Spot[][] = []
    for (const [strip, nodes] of seated) {
      const spots = this.spots(strip)
      if (spots.length > 0 || net.nodes.length === nodes.length) parts.push(spots)
      else {
        const names = nodes.map((n) => nodeName(this.layout.problem, n))
        const text = words.full(net.id, names, this.where(strip))
        const items = [net.id, ...this.parts(strip)]
        const pins = nodes.flatMap((n) => (n.kind === 'pad' ? [n] : []))
        const finding = { kind: 'strip-full', topic: 'open pin', weight: 'stops', items, text } as const
        this.blocked.push({ finding, strip, pins, net: net.id, wires: [] })
      }
    }
    for (const n of net.nodes) {
      if (this.contactOf(n)) continue
      const spare = n.kind === 'pad' ? n.pad.conductors - this.uses.get(padKey(n.item, n.pad))! + 1 : 1
      const of = n.kind === 'exit' ? this.layout.problem.exits[n.exit]!.id : this.id(n.item)
      const end = { of, name: nodeName(this.layout.problem, n), node: n }
      parts.push([{ end, room: Math.max(1, spare) }])
    }
    return parts
  }

  private spots(strip: Strip): Spot[] {
    return [...strip.free].map((c) => this.spot(c))
  }

  private spot(c: Contact): Spot {
    const pad = { id: c.name, ids: [c.name], name: c.name, at: c.own, order: 0, conductors: 1 }
    const deck = this.layout.bodyOf.get(c.board)!.deck
    const node: NetNode = { kind: 'pad', item: c.board, pad, deck, at: c.at }
    return { end: { of: this.id(c.board), name: c.name, contact: c, node }, room: 1 }
  }

  /** A rail for a supply or return of three parts or more, and one on each board more on which two of its strips are. */
  private addRails(net: Net, parts: Spot[][]): void {
    if (parts.length < 3) return
    const held = new Map<number, number>()
    for (const [strip, id] of this.owner) {
      if (id === net.id) held.set(strip.board, (held.get(strip.board) ?? 0) + (strip.rail ? 1000 : 1))
    }
    const asking = [...held].filter(([, n]) => n >= 2 && n < 1000).map(([board]) => board)
    const has = [...held.values()].some((n) => n >= 1000)
    const boards: (number | undefined)[] = asking.length > 0 || has ? asking : [undefined]
    for (const board of boards) {
      const rail = this.nearest(parts, (s) => s.rail && (board === undefined || s.board === board))
      if (rail) parts.push(this.take(rail, net))
    }
  }

  private take(strip: Strip, net: Net): Spot[] {
    this.owner.set(strip, net.id)
    this.lines.set(strip.line, net.id)
    return this.spots(strip)
  }

  /** The strip that nobody uses, nearest to all parts together. Pins keep their strips to themselves. */
  private nearest(parts: readonly Spot[][], wanted: (s: Strip) => boolean): Strip | undefined {
    let best: { strip: Strip; far: number } | undefined
    for (const strip of this.boards.strips) {
      if (strip.seats.length > 0 || this.owner.has(strip) || this.lines.has(strip.line)) continue
      if (strip.free.size < 3 || !wanted(strip)) continue
      const [spot] = this.spots(strip)
      let far = 0
      for (const p of parts) {
        const one = p.find((s) => s.room > 0)
        if (one) far += distance(this.layout, spot!.end.node, one.end.node)
      }
      if (far < (best?.far ?? Number.POSITIVE_INFINITY)) best = { strip, far }
    }
    return best?.strip
  }

  /** Joins all parts of a net, the nearest two first. */
  private join(net: Net, parts: Spot[][]): void {
    const known = new Known(this.layout)
    while (parts.length > 1) {
      const two = known.closest(parts)
      if (two) {
        this.link(net, two.a, two.b, two.length)
        const [into, from] = [parts[two.i]!, parts[two.k]!]
        known.forget(into)
        known.forget(from)
        into.push(...from)
        parts.splice(two.k, 1)
        continue
      }
      const strip =
        (this.isPower(net) ? this.nearest(parts, (s) => s.rail) : undefined) ??
        this.nearest(parts, (s) => !s.rail) ??
        this.nearest(parts, () => true)
      // A new strip helps only where something can still reach it.
      if (strip && parts.some((p) => roomIn(p) > 0)) {
        parts.push(this.take(strip, net))
        continue
      }
      const text = words.noStrip(net.id, parts.length)
      this.findings.push({ kind: 'no-strip', topic: 'no strip', weight: 'stops', items: [net.id], text })
      return
    }
  }

  private link(net: Net, a: Spot, b: Spot, length: number): void {
    for (const s of [a, b]) {
      s.room--
      if (s.end.contact) s.end.contact.strip.free.delete(s.end.contact)
    }
    const contacts = [a, b].filter((s) => s.end.contact).length
    const kind = contacts === 2 ? 'jumper' : contacts === 1 ? 'lead' : 'direct'
    this.links.push({ net: net.id, kind, from: a.end, to: b.end, length: um(length) })
  }
}
