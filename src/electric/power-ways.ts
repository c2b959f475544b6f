/** The ways out from a supply and back to it, over the graph of conductors: what is reached, who draws there, and what lies behind what. */
import {
  type Conductors,
  isKind,
  isReturn,
  type Join,
  type Node,
  PLUS,
  type Place,
  reachedFrom,
  throughPack,
} from './conductors.ts'
import { padKey, padsOf } from './netlist-pads.ts'
import { GIVES, TAKES } from './pins-kinds.ts'
import type { Lead, PowerModel } from './power-model.ts'
import { type Poles, polesOf } from './power-poles.ts'
import { isRegulator, isSwitch, type Part } from './power-roles.ts'

type Side = 'out' | 'back'

/** Items that are open or taken out, and leads by their ids. */
type Open = ReadonlySet<number | string>

const NONE: Open = new Set()

/** One supply's ways; what is reached is worked out once. */
export class Ways {
  private readonly leads: ReadonlyMap<string, Lead>
  private readonly ends = new Map<string, readonly Node[]>()
  private readonly walked = new Map<Poles['all'], Map<string, ReadonlySet<Node>>>()
  private readonly saying: ReadonlySet<number>
  private readonly making: ReadonlySet<number>
  private readonly c: Conductors
  private readonly poles: Poles
  /** All that is one conductor with where packs are in series. */
  private readonly between: ReadonlyMap<Node, unknown>

  constructor(
    private readonly model: PowerModel,
    readonly source: Part,
  ) {
    this.c = model.conductors
    this.poles = polesOf(model, source.item)
    this.between = reachedFrom(this.c, [...this.c.middles.keys()])
    const domain = model.domains.find((d) => d.source.item === source.item)
    this.leads = new Map((domain?.leads ?? []).map((l) => [l.id, l]))
    // who says nothing of what it draws may draw all the same
    this.saying = new Set(model.parts.filter((p) => p.power.load || p.power.output || p.power.part).map((p) => p.item))
    this.making = new Set(model.parts.filter(isRegulator).map((p) => p.item))
    for (const side of ['out', 'back'] as const)
      for (const join of this.c.joins) {
        if (join.by !== 'lead' || !this.leads.has(join.id) || (join.side ?? side) !== side) continue
        for (const node of join.nodes) {
          // the way out starts at no return, whatever the lead says that leads on from it to the plus of a pack in series
          if (side === 'out' && isReturn(this.c.places.get(node)!)) continue
          const key = `${side} ${this.ownerAt(node)}`
          this.ends.set(key, [...(this.ends.get(key) ?? []), node])
        }
      }
  }

  /** The item there, or the exit, as the model counts its nodes. */
  private ownerAt(node: Node): number {
    const place = this.c.places.get(node)!
    return 'exit' in place ? this.model.layout.problem.items.length + place.exit : place.item
  }

  /** Whether anything is joined to the supply at all: only then is it told what it lacks. */
  get isJoined(): boolean {
    return this.leads.size > 0 || [...this.c.places.values()].some((p) => 'item' in p && p.item === this.source.item)
  }

  /** Whether leads or nets say whom it feeds. */
  get told(): boolean {
    return this.drawing('out').size > 0
  }

  /** Its ways through switches that it shares are too many to look through: what is behind what is not known. */
  get isUnseen(): boolean {
    return this.poles.each.length === 0
  }

  /** All that the supply reaches, with some parts open or taken out. */
  private reached(side: Side, without: Open = NONE, poles = this.poles.all): ReadonlySet<Node> {
    const key = `${side} ${[...without]}`
    const walked = this.walked.get(poles) ?? new Map<string, ReadonlySet<Node>>()
    this.walked.set(poles, walked)
    const known = walked.get(key)
    if (known) return known
    const { places } = this.c
    const own = (p: Place) =>
      'item' in p && p.item === this.source.item && (side === 'out' ? isKind(p, GIVES) : isReturn(p))
    const starts = [...places].flatMap(([node, place]) => (own(place) ? [node] : []))
    const reached = reachedFrom(
      side === 'out' ? poles : this.c,
      [...starts, ...this.endsAt(side, this.source.item)],
      (join) => !isOpen(join, without) && this.conducts(join, side),
      (node) => this.onward(node, side),
    )
    const all = new Set(reached.keys())
    walked.set(key, all)
    return all
  }

  private endsAt(side: Side, owner: number): readonly Node[] {
    return this.ends.get(`${side} ${owner}`) ?? []
  }

  /** No way out leads over a return, except that of a pack in series, nor a way back over a plus. */
  private conducts(join: Join, side: Side): boolean {
    if (join.told && !this.leads.has(join.id)) return false
    if (join.side && join.side !== side) return false
    const isMiddle = join.nodes.some((n) => this.between.has(n))
    return !join.nodes.some((node) => {
      const place = this.c.places.get(node)!
      if (side === 'out') return isReturn(place) && !this.c.middles.has(node)
      return isKind(place, isMiddle ? TAKES : PLUS)
    })
  }

  /** A lead of the supply goes on from wherever the supply reaches its part; packs in series hand on through their cells. */
  private onward(node: Node, side: Side): (readonly [Node, Join?])[] {
    const owner = this.ownerAt(node)
    const cells = throughPack(this.c, this.model.layout.problem, node, side === 'out' ? 'plus' : 'minus')
    const inside = this.c.roles.protects.has(owner) ? [] : this.endsAt(side, owner)
    return [...cells, ...inside.map((n) => [n] as const)]
  }

  /** Where somebody draws: exits, parts that say what they are or draw, and whatever terminal is not passive. */
  private drawn(side: Side, without?: Open, poles?: Poles['all']): readonly Node[] {
    const reached = [...this.reached(side, without, poles)]
    const inSeries = new Set(reached.filter((n) => this.c.middles.has(n)).map((n) => this.ownerAt(n)))
    return reached.filter((node) => {
      const place = this.c.places.get(node)!
      const owner = this.ownerAt(node)
      if (owner === this.source.item || this.c.roles.protects.has(owner) || inSeries.has(owner)) return false
      const draws = 'pad' in place && (place.pad.kind ?? 'passive') !== 'passive'
      return 'exit' in place || draws || this.saying.has(owner)
    })
  }

  /** Who draws there. */
  private drawing(side: Side, without?: Open, poles?: Poles['all']): ReadonlySet<number> {
    return new Set(this.drawn(side, without, poles).map((n) => this.ownerAt(n)))
  }

  private owners(side: Side, without?: ReadonlySet<number>): ReadonlySet<number> {
    return new Set([...this.reached(side, without)].map((n) => this.ownerAt(n)))
  }

  /** Whether its way out, or back, comes to this item. */
  comesTo(item: number, side: Side): boolean {
    return this.owners(side).has(item)
  }

  /** Whether what another supply gives is one conductor with it, by way of all switches but those that are open. */
  meets(item: number, open?: ReadonlySet<number>): boolean {
    return this.drawn('out', open).some((n) => this.ownerAt(n) === item && this.isGiven(n))
  }

  /** Whether a pack has its terminal there, or what makes volts gives them there. */
  private isGiven(node: Node): boolean {
    const owner = this.ownerAt(node)
    return this.c.roles.packs.has(owner) || (this.making.has(owner) && isKind(this.c.places.get(node)!, GIVES))
  }

  /** Whether behind this item there are other supplies alone: it is in their way, and this one meets them from behind. */
  isOthers(item: number): boolean {
    const without = new Set([item])
    const behind = (['out', 'back'] as const).flatMap((side) => {
      const rest = new Set(this.drawn(side, without))
      return this.drawn(side).filter((n) => !rest.has(n))
    })
    return behind.length > 0 && behind.every((n) => this.isGiven(n))
  }

  /** Whether its way comes to where this item takes a supply, or to where it says nothing of itself, with some switches open. */
  feeds(item: number, open?: ReadonlySet<number>): boolean {
    const takes = (place: Place) =>
      'pad' in place && place.item === item && (place.pad.kind === undefined || isKind(place, TAKES))
    return [...this.reached('out', open)].some((node) => takes(this.c.places.get(node)!))
  }

  /**
   * Whether all that it feeds is behind these, each open: one of them, or one in each branch. At whichever terminal it goes out of a
   * switch that it shares, if only that may be the one.
   */
  isBehind(items: readonly number[]): boolean {
    const open = new Set(items)
    const isSo = (poles: Poles['all']) =>
      this.drawing('out', NONE, poles).size > 0 && this.drawing('out', open, poles).size === 0
    return this.told && (this.isUnseen || this.poles.each.some(isSo))
  }

  /** As above, of what draws alone: another pack that it meets is not turned off with this one. */
  isOffBehind(item: number): boolean {
    const { each } = this.poles
    const isSo = (poles: Poles['all']) =>
      this.loads('out', NONE, poles).size > 0 && this.loads('out', new Set([item]), poles).size === 0
    return this.isBehind([item]) || (this.told && each.some(isSo))
  }

  /** Those of them that are no packs. */
  private loads(side: Side, without?: Open, poles?: Poles['all']): ReadonlySet<number> {
    return new Set([...this.drawing(side, without, poles)].filter((n) => !this.c.roles.packs.has(n)))
  }

  /** Whether all that it feeds leads back through this alone, as far as it is known how it leads back. */
  isBackThrough(item: number): boolean {
    const [all, rest, fed] = [this.loads('back'), this.loads('back', new Set([item])), this.loads('out')]
    return fed.size > 0 && [...fed].every((n) => all.has(n) && !rest.has(n))
  }

  /** Who draws what comes back by this lead of the supply alone. */
  comingBackBy({ id, path }: Lead): readonly number[] {
    if (path !== 'back') return []
    const [all, rest, fed] = [this.loads('back'), this.loads('back', new Set([id])), this.loads('out')]
    return [...fed].filter((n) => all.has(n) && !rest.has(n))
  }

  /** Whether what is drawn there has to flow through this item. */
  isFedThrough(item: number, load: number): boolean {
    return !this.loads('out', new Set([item])).has(load)
  }

  /** Whether what flows in a lead of the supply has to flow through this item too. */
  flowsThrough(item: number, lead: Lead): boolean {
    const { id, a, b, path } = lead
    const without = new Set([item])
    if (path === 'back') {
      if (!this.comingBackBy(lead).every((load) => this.isFedThrough(item, load))) return false
      // it comes from behind it where its one end is there
      const rest = this.owners('out', without)
      return !(a !== item && b !== item && rest.has(a) && rest.has(b))
    }
    const rest = this.reached('out', without)
    const nodes = this.c.joins.flatMap((j) => (j.by === 'lead' && j.id === id && j.side !== 'back' ? j.nodes : []))
    return nodes.length > 0 && !nodes.some((n) => rest.has(n))
  }

  /** Whether its way ends at a part of which one terminal alone is in use and another is there: nothing is joined to it behind that. */
  endsIn(item: number): boolean {
    const pads = padsOf(this.model.layout.problem.items[item]!.footprint).map((p) => padKey(item, p))
    if (pads.length < 2 || !this.comesTo(item, 'out') || this.c.joins.some((j) => j.item === item)) return false
    return !pads.some((key) => this.c.ribbons.has(key) && !this.c.places.has(key))
  }
}

const isOpen = ({ by, id, item }: Join, without: Open): boolean =>
  (item !== undefined && without.has(item)) || (by === 'lead' && without.has(id))

/** Fuses or switches that a supply's ways come to, out or back. */
export const onTheWay = (model: PowerModel, ways: Ways, kind: 'fuse' | 'switch'): Part[] =>
  partsOf(model, kind).filter(({ item }) => ways.comesTo(item, 'out') || ways.comesTo(item, 'back'))

/** By what they are; what a net is led through is a switch besides. */
function partsOf({ parts, conductors: { roles, joins } }: PowerModel, kind: 'fuse' | 'switch'): Part[] {
  const led = new Set(joins.flatMap((j) => (j.by === kind && j.item !== undefined ? [j.item] : [])))
  return parts.filter(({ item }) => roles.protects.get(item) === kind || led.has(item))
}

/** Whether all that a supply feeds is behind a fuse, its own or a part. Where nothing says what it feeds, any fuse may be its. */
export function isFused(model: PowerModel, ways: Ways): boolean {
  if (ways.source.power.supply?.fuse !== undefined) return true
  const fuses = partsOf(model, 'fuse')
  return fuses.some(({ item }) => (ways.told ? ways.isBehind([item]) : !ways.endsIn(item)))
}

/**
 * Whether all that a supply feeds is behind a switch, its own or a part, or leads back through one. Where nothing says what it feeds,
 * any switch may be its.
 */
export function isSwitched(model: PowerModel, ways: Ways): boolean {
  if (ways.source.power.supply?.switched === true || isSwitch(ways.source)) return true
  if (!ways.told) return model.parts.some((p) => isSwitch(p) && !ways.endsIn(p.item))
  return partsOf(model, 'switch').some(({ item }) => ways.isOffBehind(item) || ways.isBackThrough(item))
}
