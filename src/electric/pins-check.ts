/**
 * What is wrong with a netlist: kinds that do not go together, pins asked for twice, supplies that meet, voltages, a
 * common return, open pins, and the line over which the controller is programmed. Sources: see pins-kinds.ts; all common practice.
 */
import type { Placement, Problem, TerminalKind, WireEnd } from '../../solver/index.ts'
import { type Conductors, isInSeries, isReturn, reachedFrom } from './conductors.ts'
import { type Net, type NetFinding, type Netlist, type NetNode, nodeName, ownerId, padKey } from './netlist.ts'
import { type Pad, padsOf } from './netlist-pads.ts'
import { GIVES, POWER, refused, TAKES } from './pins-kinds.ts'
import { checkVolts } from './pins-volts.ts'
import { checkWires } from './pins-wires.ts'
import { givenTo } from './series.ts'
import { nets as words } from './words.ts'

/** All findings of a netlist, those that it brought along first. */
export function checkNets(
  problem: Problem,
  placements: readonly Placement[],
  netlist: Netlist,
  conductors: Conductors,
): NetFinding[] {
  const look = new Look(problem, netlist, conductors)
  return [
    ...netlist.findings,
    ...netlist.nets.flatMap((n) => look.kinds(n)),
    ...netlist.nets.flatMap((n) => look.voltage(n)),
    ...checkVolts(problem, netlist, conductors),
    ...netlist.nets.flatMap((n) => look.programmed(n)),
    ...look.twice(),
    ...checkWires(problem, netlist, conductors),
    ...look.commonReturn(),
    ...look.open(placements),
  ]
}

/** What a node is used as: what it was chosen for, else what its footprint says; nothing where nobody says. */
function kindIn(problem: Problem, netlist: Netlist, net: Net, node: NetNode): TerminalKind | undefined {
  if (node.kind === 'exit') return problem.exits[node.exit]!.kind
  const chosen = netlist.assigned.find((a) => a.net === net.id && padKey(a.item, a.pad) === padKey(node.item, node.pad))
  return chosen?.as ?? node.pad.kind
}

class Look {
  constructor(
    private readonly problem: Problem,
    private readonly netlist: Netlist,
    private readonly conductors: Conductors,
  ) {}

  private kind(net: Net, node: NetNode): TerminalKind | undefined {
    return kindIn(this.problem, this.netlist, net, node)
  }

  private owners(net: Net, nodes: readonly NetNode[]): string[] {
    return [...new Set([...nodes.map((n) => ownerId(this.problem, n)), net.id])]
  }

  private name(node: NetNode): string {
    return nodeName(this.problem, node)
  }

  /** Every two ends of a net whose kinds are known, in the first role of each that fits. */
  kinds(net: Net): NetFinding[] {
    return pairs(net.nodes).flatMap(([a, b]): NetFinding[] => {
      const roles = [this.roles(net, a), this.roles(net, b)] as const
      if (roles[0].length === 0 || roles[1].length === 0) return []
      if (roles[0].some((x) => roles[1].some((y) => refused(x, y) === undefined))) return []
      const [x, y] = [roles[0][0]!, roles[1][0]!]
      // on two sides of a switch they are joined if it is on, which is told with what else joins them (pins-wires.ts)
      const apart = net.switch && net.switch.before.includes(a) !== net.switch.before.includes(b)
      const power = [x, y].every((k) => k === 'return' || GIVES.includes(k))
      if (apart && power) return []
      if (a.kind === 'pad' && b.kind === 'pad' && isInSeries(this.conductors, a, b)) return []
      const meet = GIVES.includes(x) && GIVES.includes(y)
      const text = words.kindsApart(net.id, this.name(a), x, this.name(b), y, refused(x, y)!)
      const items = this.owners(net, [a, b])
      return meet
        ? [{ kind: 'supplies-meet', topic: 'supplies meet', weight: 'stops', items, text }]
        : [{ kind: 'kinds-apart', topic: 'kinds', weight: 'stops', items, text }]
    })
  }

  /** A pin that can do several things may be named outright: then the net says which. */
  private roles(net: Net, node: NetNode): TerminalKind[] {
    const kind = this.kind(net, node)
    if (kind === undefined) return []
    const chosen =
      node.kind === 'pad' &&
      this.netlist.assigned.some((a) => a.net === net.id && a.item === node.item && a.pad.id === node.pad.id)
    return node.kind === 'exit' || chosen ? [kind] : [kind, ...(node.pad.also ?? [])]
  }

  voltage(net: Net): NetFinding[] {
    const has = (list: readonly TerminalKind[]) => (n: NetNode) => {
      const kind = this.kind(net, n)
      return n.kind === 'pad' && n.pad.volts !== undefined && kind !== undefined && list.includes(kind)
    }
    const takers = net.nodes.filter(has(TAKES))
    return net.nodes.filter(has(GIVES)).flatMap((from) =>
      takers.flatMap((to): NetFinding[] => {
        if (from.kind !== 'pad' || to.kind !== 'pad') return []
        const [given, takes] = [givenTo(this.conductors, from, to.item), to.pad.volts!]
        if (!given || (given.volts[1] <= takes[1] && given.volts[0] >= takes[0])) return []
        const under = given.under.map((i) => this.problem.items[i]!.id)
        const text = words.voltsApart(net.id, words.inSeries(this.name(from), under), given.volts, this.name(to), takes)
        const items = [...this.owners(net, [from, to]), ...under]
        return [{ kind: 'volts-apart', topic: 'voltage', weight: 'stops', items, text }]
      }),
    )
  }

  /** A listener on the programming line, and no switch that it is led through. */
  programmed(net: Net): NetFinding[] {
    const line = net.nodes.find((n) => n.kind === 'pad' && n.pad.program === true)
    if (!line) return []
    const listeners = net.nodes.filter((n) => n !== line && this.kind(net, n) === 'serial-in')
    if (listeners.length === 0) return []
    const items = this.owners(net, [line, ...listeners])
    const names = listeners.map((n) => this.name(n))
    if (net.switch !== undefined) {
      const by = this.problem.items[net.switch.item]!.id
      const text = words.programSwitched(by, net.id, names)
      return [
        {
          kind: 'program-line-switched',
          topic: 'programming line',
          weight: 'worth-knowing',
          items: [...items, by],
          text,
        },
      ]
    }
    const text = words.programBare(net.id, names, this.name(line))
    return [{ kind: 'program-line-bare', topic: 'programming line', weight: 'stops', items, text }]
  }

  /** One pin serves one signal; where more conductors end at one place, so many. Exits carry any number of leads. */
  twice(): NetFinding[] {
    const uses = new Map<string, { node: NetNode; nets: string[] }>()
    for (const net of this.netlist.nets) {
      for (const node of net.nodes) {
        // a net with one end takes no conductor there
        if (node.kind === 'exit' || net.nodes.length < 2) continue
        const key = padKey(node.item, node.pad)
        const use = uses.get(key) ?? { node, nets: [] }
        use.nets.push(net.id)
        uses.set(key, use)
      }
    }
    return [...uses.values()].flatMap(({ node, nets }): NetFinding[] => {
      if (node.kind === 'exit' || nets.length <= node.pad.conductors) return []
      const text = words.pinTwice(this.name(node), node.pad.conductors, nets)
      return [
        { kind: 'pin-twice', topic: 'pin twice', weight: 'stops', items: [ownerId(this.problem, node), ...nets], text },
      ]
    })
  }

  /** Two parts that share a signal need one return, by nets or by leads. Only parts that say where their return is are looked at. */
  commonReturn(): NetFinding[] {
    const told = new Set<string>()
    return this.netlist.nets.flatMap((net) => {
      const signals = net.nodes.filter((n) => {
        const kind = this.kind(net, n)
        return n.kind === 'pad' && hasReturn(this.problem, n.item) && kind !== undefined && !POWER.includes(kind)
      })
      return pairs(signals).flatMap(([a, b]): NetFinding[] => {
        if (a.kind === 'exit' || b.kind === 'exit' || a.item === b.item) return []
        const key = `${a.item} ${b.item}`
        if (told.has(key)) return []
        told.add(key)
        if (this.shareReturn(a.item, b.item)) return []
        const ids = [this.problem.items[a.item]!.id, this.problem.items[b.item]!.id]
        const text = words.noCommonReturn(ids, net.id)
        return [{ kind: 'no-common-return', topic: 'common return', weight: 'stops', items: [...ids, net.id], text }]
      })
    })
  }

  /** Whether the returns of two items are one conductor, with every switch on. */
  private shareReturn(a: number, b: number): boolean {
    const { places } = this.conductors
    const chosen = new Set(this.netlist.assigned.flatMap((x) => (x.as === 'return' ? [padKey(x.item, x.pad)] : [])))
    const returnsOf = (item: number) =>
      [...places].flatMap(([node, place]) => {
        const isBack = isReturn(place) || chosen.has(node) || ('past' in place && place.past === 'back')
        return isBack && 'item' in place && place.item === item ? [node] : []
      })
    const reached = reachedFrom(this.conductors, returnsOf(a))
    return returnsOf(b).some((node) => reached.has(node))
  }

  /** Pins of parts in the netlist that nobody joins: a stop where the part cannot work without, else nothing. */
  open(placements: readonly Placement[]): NetFinding[] {
    const used = new Set(
      this.netlist.nets.flatMap((net) =>
        net.nodes.length < 2 ? [] : net.nodes.map((n) => (n.kind === 'pad' ? padKey(n.item, n.pad) : '')),
      ),
    )
    const { ends, pairs } = this.wired(placements)
    const named = new Set(this.netlist.nets.flatMap((net) => net.nodes.map((n) => (n.kind === 'pad' ? n.item : -1))))
    return placements.flatMap(({ item }): NetFinding[] => {
      if (!named.has(item)) return []
      const { id, footprint } = this.problem.items[item]!
      const pads = padsOf(footprint)
      const isUsed = (p: Pad) => used.has(padKey(item, p)) || ends.has(padKey(item, p))
      const missing = (list: readonly TerminalKind[], say: typeof words.noSupply): NetFinding[] => {
        const mine = pads.filter((p) => p.kind !== undefined && list.includes(p.kind))
        if (mine.length === 0 || mine.some((p) => isUsed(p)) || (say === words.noReturn && pairs.has(item))) return []
        const kind = say === words.noReturn ? 'no-return' : 'no-supply'
        const pins = mine.map((p) => p.id)
        return [{ kind, topic: 'open pin', weight: 'stops', items: [id], text: say(id, pins) }]
      }
      // A part that gives a supply may be fed through it or by its own plug; what it takes is enough by one way.
      const fed = missing([...TAKES, ...GIVES], words.noSupply)
      // A driver's motors get nothing by way of its logic.
      const drives = pads.some((p) => p.kind === 'motor-pair') && pads.some((p) => p.kind === 'logic-in')
      const motors = drives && fed.length === 0 ? missing(['supply-in'], words.noMotorSupply) : []
      const signals = pads.filter(
        (p) =>
          p.kind === 'serial-in' || p.kind === 'servo-signal' || p.kind === 'analog-out' || p.kind === 'motor-pair',
      )
      const idle = signals.filter((p) => !isUsed(p) && p.also === undefined)
      const notes = idle.map(
        (p): NetFinding => ({
          kind: 'pin-open',
          topic: 'open pin',
          weight: 'worth-knowing',
          items: [id],
          text: words.pinOpen(id, p.id, p.kind),
        }),
      )
      return [...fed, ...motors, ...missing(['return'], words.noReturn), ...notes]
    })
  }

  /** Where the project's own wires end, if both ends are placed; and the items to whose supply a pair leads, return and all. */
  private wired(placements: readonly Placement[]): { readonly ends: Set<string>; readonly pairs: Set<number> } {
    const placed = new Set(placements.map((p) => p.item))
    const ends = new Set<string>()
    const pairs = new Set<number>()
    const isThere = (end: WireEnd) => end.kind === 'exit' || end.ref.items.some((i) => placed.has(i))
    for (const wire of this.problem.wires) {
      if (!isThere(wire.from) || !isThere(wire.to)) continue
      for (const end of [wire.from, wire.to]) {
        if (end.kind === 'exit') continue
        for (const item of end.ref.items) {
          const pad = padsOf(this.problem.items[item]!.footprint).find((p) => p.ids.includes(end.terminal))
          if (!pad) continue
          ends.add(padKey(item, pad))
          if (wire.conductors > 1 && pad.kind && [...GIVES, ...TAKES].includes(pad.kind)) pairs.add(item)
        }
      }
    }
    return { ends, pairs }
  }
}

const hasReturn = (problem: Problem, item: number): boolean =>
  padsOf(problem.items[item]!.footprint).some((p) => p.kind === 'return')

function pairs<T>(list: readonly T[]): [T, T][] {
  return list.flatMap((a, i) => list.slice(i + 1).map((b): [T, T] => [a, b]))
}
