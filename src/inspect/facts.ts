/** What of a layout has to do with first power: its supplies, switches, drivers, motors and returns, by name. */
import {
  idOf,
  isFused,
  isPack,
  isRegulator,
  isSwitch,
  isSwitched,
  type Net,
  type Netlist,
  nodeName,
  onTheWay,
  type Pad,
  type Part,
  type PowerModel,
  padKey,
  padsOf,
  Ways,
} from '../electric/index.ts'
import { endAt, steps } from './words.ts'

export interface Motor {
  /** Id of the exit or item. */
  readonly id: string
  /** Where its lead ends, as people read it; wire ids in front. */
  readonly leads: readonly { readonly wire?: string; readonly at: string; readonly item?: string }[]
}

export interface PowerFacts {
  /** Packs and all that a project says gives power from cells. */
  readonly supplies: readonly Part[]
  readonly regulators: readonly Part[]
  readonly fuses: readonly Part[]
  /** Indices of items that a wire or a net ends at. */
  readonly wired: ReadonlySet<number>
  /** Switches that a supply's way leads through, and others in leads that open no programming line alone. */
  readonly switches: readonly string[]
  /** Those that packs have in them: what each is called, and whose it is. */
  readonly ownSwitches: ReadonlyMap<string, string>
  /** Of each supply and regulator. */
  readonly ways: ReadonlyMap<Part, Ways>
  /** Supplies of which no one fuse, or switch, has everything behind it, as far as leads and nets say. */
  readonly unfused: readonly string[]
  readonly unswitched: readonly string[]
  /** Supplies of which that is not known. */
  readonly unseen: readonly string[]
  readonly drivers: readonly string[]
  readonly controllers: readonly string[]
  /** In the order of the project. */
  readonly motors: readonly Motor[]
  /** True where nothing says which leads are motors', and all leads that come through the deck are taken. */
  readonly motorsGuessed: boolean
  /** Nets of returns; and lines over which a controller is programmed while somebody listens, with what opens them. */
  readonly returns: readonly Net[]
  readonly programming: readonly { readonly net: string; readonly listeners: readonly string[]; readonly by?: string }[]
  readonly heads: readonly string[]
}

/** Of a terminal: whether it gives a supply. */
export const gives = ({ kind }: Pad): boolean => kind === 'supply-out' || kind === 'logic-out'

const ids = (list: readonly Part[]): string[] => list.map(idOf)

export function powerFacts(model: PowerModel, netlist: Netlist): PowerFacts {
  const { parts, layout } = model
  const { problem } = layout
  const wired = new Set([
    ...problem.wires.flatMap((w) => [w.from, w.to].flatMap((e) => (e.kind === 'item' ? e.ref.items : []))),
    ...netlist.nets.flatMap((n) => n.nodes.flatMap((e) => (e.kind === 'pad' ? [e.item] : []))),
  ])
  const supplies = parts.filter(isPack)
  const regulators = parts.filter(isRegulator)
  const programming = lines(model, netlist)
  const opens = new Set(programming.flatMap((l) => l.by ?? []))
  const ways = new Map([...new Set([...supplies, ...regulators])].map((p) => [p, new Ways(model, p)]))
  const opensSupply = new Set([...ways.values()].flatMap((w) => onTheWay(model, w, 'switch')))
  const switches = parts.filter((p) => opensSupply.has(p) || (isSwitch(p) && wired.has(p.item) && !opens.has(idOf(p))))
  const lacking = (isThere: typeof isFused) =>
    ids(supplies.filter((p) => ways.get(p)!.isJoined && !isThere(model, ways.get(p)!)))
  const drivers = parts.filter((p) => p.power.part === 'driver' || drives(p))
  const motors = motorsOf(model, netlist, (kind) => kind === 'motor-pair')
  const guessed = motors.length === 0
  return {
    supplies,
    regulators,
    ways,
    fuses: parts.filter((p) => p.power.part === 'fuse'),
    switches: ids(switches),
    ownSwitches: new Map(
      supplies.filter((p) => p.power.supply?.switched).map((p) => [steps.switchOf(idOf(p)), idOf(p)]),
    ),
    unfused: lacking(isFused),
    unswitched: lacking(isSwitched),
    unseen: ids(supplies.filter((p) => ways.get(p)!.isUnseen)),
    wired,
    drivers: ids(drivers),
    controllers: ids(
      parts.filter((p) => p.power.part === 'controller' || padsOf(p.body.item.footprint).some((t) => t.program)),
    ),
    motors: guessed ? motorsOf(model, netlist, () => true) : motors,
    motorsGuessed: guessed,
    returns: netlist.nets.filter((n) => n.nodes.length > 1 && isCommonReturn(model, n)),
    programming,
    heads: problem.items.flatMap((item, i) =>
      item.footprint.head && layout.bodyOf.has(i) && !item.later ? [item.id] : [],
    ),
  }
}

/** A net of returns; one that a supply gives to, or that lies between packs in series, is none. */
function isCommonReturn({ conductors: { middles } }: PowerModel, { nodes }: Net): boolean {
  const pads = nodes.flatMap((n) => (n.kind === 'pad' ? [n] : []))
  const isElse = pads.some(({ item, pad }) => gives(pad) || middles.has(padKey(item, pad)))
  return !isElse && pads.some(({ pad }) => pad.kind === 'return')
}

/** Servos turn to a place instead of running: they are tried by themselves. */
const isServo = ({ body: { item } }: Part): boolean =>
  item.footprint.head !== undefined || padsOf(item.footprint).some((t) => t.kind === 'servo-signal')

/** A part with a motor's terminal that is no motor itself. */
const drives = (p: Part): boolean =>
  p.power.part !== 'motor' && padsOf(p.body.item.footprint).some((t) => t.kind === 'motor-pair')

/** Motors behind exits that say so by a load, a kind, or the kind of the terminal that their lead ends at; and items that are motors. */
function motorsOf(model: PowerModel, netlist: Netlist, isMotor: (kind: string | undefined) => boolean): Motor[] {
  const { problem, bodyOf } = model.layout
  const first = problem.items.length
  const exits = problem.exits.flatMap((exit, index): Motor[] => {
    const kinds: (string | undefined)[] = [exit.kind]
    const leads = problem.wires.flatMap((wire): Motor['leads'][number][] => {
      const [end, other] = isExit(wire.from, index) ? [wire.from, wire.to] : [wire.to, wire.from]
      if (!isExit(end, index) || other.kind !== 'item') return []
      const item = other.ref.items.find((i) => bodyOf.has(i))
      if (item === undefined) return []
      const { id, footprint } = problem.items[item]!
      const terminal = padsOf(footprint).find((t) => t.ids.includes(other.terminal))
      kinds.push(terminal?.kind)
      const name = terminal && terminal.name !== terminal.id ? terminal.name : undefined
      return [{ wire: wire.id, at: endAt(id, other.terminal, name), item: id }]
    })
    if (leads.length === 0) {
      for (const net of netlist.nets) {
        if (!net.nodes.some((n) => n.kind === 'exit' && n.exit === index)) continue
        for (const n of net.nodes) {
          if (n.kind !== 'pad') continue
          kinds.push(n.pad.kind)
          leads.push({ at: nodeName(problem, n), item: problem.items[n.item]!.id })
        }
      }
    }
    const loaded = model.exits.some((e) => e.node === first + index)
    return leads.length > 0 && (loaded || kinds.some(isMotor)) ? [{ id: exit.id, leads: unlike(leads) }] : []
  })
  const items = model.parts
    .filter((p) => p.power.part === 'motor' && !isServo(p))
    .map((p): Motor => ({ id: idOf(p), leads: wiresAt(model, p.item) }))
  return [...exits, ...items]
}

const isExit = (end: { kind: string; exit?: number }, exit: number): boolean => end.kind === 'exit' && end.exit === exit

const unlike = (leads: Motor['leads']): Motor['leads'] => [
  ...new Map(leads.map((l) => [`${l.wire} ${l.at}`, l])).values(),
]

function wiresAt(model: PowerModel, item: number): Motor['leads'] {
  const { problem, bodyOf } = model.layout
  return problem.wires.flatMap((wire) => {
    const mine = [wire.from, wire.to].some((e) => e.kind === 'item' && e.ref.items.includes(item))
    if (!mine) return []
    const other = [wire.from, wire.to].find((e) => !(e.kind === 'item' && e.ref.items.includes(item)))
    const there = other?.kind === 'item' ? other.ref.items.find((i) => bodyOf.has(i)) : undefined
    if (other?.kind !== 'item' || there === undefined) return [{ wire: wire.id, at: steps.itsDriver }]
    const { id } = problem.items[there]!
    return [{ wire: wire.id, at: endAt(id, other.terminal, undefined), item: id }]
  })
}

function lines(model: PowerModel, netlist: Netlist): PowerFacts['programming'] {
  const { problem } = model.layout
  return netlist.nets.flatMap((net) => {
    const line = net.nodes.find((n) => n.kind === 'pad' && n.pad.program === true)
    const listeners = net.nodes.filter(
      (n) => n !== line && (n.kind === 'exit' ? problem.exits[n.exit]!.kind : n.pad.kind) === 'serial-in',
    )
    if (!line || listeners.length === 0) return []
    const by = net.switch === undefined ? {} : { by: problem.items[net.switch.item]!.id }
    return [{ net: net.id, listeners: listeners.map((n) => nodeName(problem, n)), ...by }]
  })
}
