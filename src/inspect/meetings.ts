/** Which supplies meet while some switches are on, and which switches are in whose way. */
import {
  idOf,
  onTheWay,
  type Part,
  type PowerModel,
  packsUnder,
  type SharedPoles,
  sharedPoles,
} from '../electric/index.ts'
import type { PowerFacts } from './facts.ts'

export class Meetings {
  private readonly items: ReadonlyMap<string, number>
  private readonly poles: readonly SharedPoles[]
  private readonly switchesOf = new Map<Part, ReadonlySet<string>>()

  constructor(
    private readonly model: PowerModel,
    private readonly facts: PowerFacts,
    private readonly packs: readonly Part[],
    private readonly regulators: readonly Part[],
  ) {
    this.poles = sharedPoles(model.conductors)
    this.items = new Map(model.parts.map((p) => [idOf(p), p.item]))
  }

  private ways = (p: Part) => this.facts.ways.get(p)!

  /** Switches in the way of one of these, its own too; none behind which other supplies are alone. */
  wayOf(list: readonly Part[]): string[] {
    const all = list.map((p) => this.switchesIn(p))
    return [
      ...this.facts.switches.filter((id) => all.some((ids) => ids.has(id))),
      ...list.flatMap((p) => this.ownOf(p)),
    ]
  }

  private switchesIn(p: Part): ReadonlySet<string> {
    const known = this.switchesOf.get(p)
    if (known) return known
    const ways = this.ways(p)
    const there = onTheWay(this.model, ways, 'switch').filter((by) => !ways.isOthers(by.item))
    const ids = new Set(there.map(idOf))
    this.switchesOf.set(p, ids)
    return ids
  }

  private ownOf(p: Part): string[] {
    return [...this.facts.ownSwitches].flatMap(([name, of]) => (of === idOf(p) ? [name] : []))
  }

  /** All packs that are in series with it. */
  stackOf(p: Part): Part[] {
    const lowest = ({ item }: Part) => packsUnder(this.model.conductors, item)[0]?.item ?? item
    return this.packs.filter((o) => lowest(o) === lowest(p))
  }

  /** Items of the switches that are off; none where all are on. */
  private open(on?: readonly string[]): ReadonlySet<number> {
    return new Set(on && this.facts.switches.flatMap((id) => (on.includes(id) ? [] : this.items.get(id)!)))
  }

  /** Whether neither a switch of its own, or of a pack in series with it, nor one in its way back keeps it off. */
  isOn(p: Part, on: readonly string[]): boolean {
    const [own, ways] = [this.stackOf(p).flatMap((o) => this.ownOf(o)), this.ways(p)]
    return own.every((name) => on.includes(name)) && ![...this.open(on)].some((i) => ways.isBackThrough(i))
  }

  /** Regulators that a supply feeds, through others too. */
  fedBy(p: Part, on?: readonly string[]): Part[] {
    const all = [p]
    for (const a of all)
      all.push(...this.regulators.filter((r) => !all.includes(r) && this.ways(a).feeds(r.item, this.open(on))))
    return all.slice(1)
  }

  /**
   * Whether one that is there, or a regulator that it feeds, gives to where another does, or one that this feeds. What both feed is on
   * with either.
   */
  meet(there: Part, other: Part, on: readonly string[]): boolean {
    if (!this.isOn(there, on)) return false
    const open = this.open(on)
    const [fed, others] = [this.fedBy(there, on), this.fedBy(other, on)]
    const to = [other, ...others.filter((p) => !fed.includes(p))]
    const from = [there, ...fed.filter((p) => !others.includes(p))]
    return from.some((p) => to.some((o) => this.ways(p).meets(o.item, open) || this.sharePoles(p, o, open)))
  }

  /** Whether they may meet behind a switch with a pole for each. */
  private sharePoles(a: Part, b: Part, open: ReadonlySet<number>): boolean {
    const isOf = ({ ends }: SharedPoles, p: Part) => ends.some((e) => e.item === p.item)
    return this.poles.some((s) => a !== b && !open.has(s.by.item!) && isOf(s, a) && isOf(s, b))
  }

  /**
   * Of switches that are to be on beside others all, unless with them one of those that give comes to where a regulator gives that it
   * feeds: then without the one that keeps it from there and the most of them fed.
   */
  apartFromFed(giving: readonly Part[], on: readonly string[], more: readonly string[]): readonly string[] {
    const meets = (p: Part, r: Part, now: readonly string[]) => this.ways(p).meets(r.item, this.open(now))
    const isApart = (now: readonly string[]) =>
      giving.every((p) => !this.fedBy(p, now).some((r) => meets(p, r, now) && !meets(p, r, on)))
    if (isApart([...on, ...more])) return more
    const fed = (names: readonly string[]) => new Set(giving.flatMap((p) => this.fedBy(p, [...on, ...names]))).size
    const without = more.map((name) => more.filter((other) => other !== name))
    return without.filter((names) => isApart([...on, ...names])).sort((a, b) => fed(b) - fed(a))[0] ?? []
  }
}
