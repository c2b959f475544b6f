/**
 * What is turned on with each supply as it comes to power, and what has to be off for it: step by step, with the packs that are connected
 * and the switches that are on. Of supplies that would meet only one is on at a time. Common practice, no source.
 */
import { onTheWay, type Part, type PowerModel, packsUnder } from '../electric/index.ts'
import type { PowerFacts } from './facts.ts'

/** Switches by name. */
export interface Turn {
  /** Packs that no switch keeps from what is turned on: they are disconnected again. */
  readonly apart: readonly string[]
  /** Off again before it is connected or measured, of what is on. */
  readonly off: readonly string[]
  /** On again so that a regulator has what feeds it. */
  readonly before: readonly string[]
  /** Turned on with a pack, or once a regulator is measured. */
  readonly on: readonly string[]
  /** What can be measured then, each of packs in series if it is the last of them to be connected; else it alone. */
  readonly stacks: readonly (readonly Part[])[]
}

const idOf = (p: Part): string => p.body.item.id

/** Packs in series are turned on as one: nothing flows until the last of them is there. What is in nobody's way goes with the first. */
export function turnsOf(
  model: PowerModel,
  facts: PowerFacts,
  packs: readonly Part[],
  regulators: readonly Part[],
): ReadonlyMap<Part, Turn> {
  const { switches } = facts
  const seen = new Seen(model, facts, regulators)
  const lowest = (p: Part) => packsUnder(model.conductors, p.item)[0]?.item ?? p.item
  const [ofPacks, ofAll] = [seen.wayOf(packs), seen.wayOf([...packs, ...regulators])]
  const turns = new Map<Part, Turn>()
  let spare = switches.filter((id) => !ofAll.includes(id))
  let on: readonly string[] = []
  /** Packs that are connected and can give: of those in series, all. */
  let there: readonly Part[] = []
  /**
   * Turns on `before` and `after` for those that give then; what is on of `own` is off while they are connected. Nothing goes on to where
   * a regulator gives that only what feeds it turns off.
   */
  const turn = (
    giving: readonly Part[],
    others: readonly Part[],
    own: readonly string[],
    before: readonly string[],
    after: readonly string[],
  ) => {
    const meeting = (now: readonly string[]) => others.filter((o) => giving.some((p) => seen.meet(o, p, now)))
    const kept = [...own, ...seen.wayOf(meeting([...on, ...before, ...after]))]
    const off = on.filter((name) => kept.includes(name))
    const rest = [...on.filter((name) => !off.includes(name)), ...before]
    const isFree = meeting([...rest, ...after]).every((o) => there.includes(o))
    const turned = isFree ? after : []
    on = [...rest, ...turned]
    const apart = meeting(on).filter((o) => there.includes(o))
    there = there.filter((o) => !apart.includes(o))
    return { apart: apart.map(idOf), off, before, on: turned }
  }
  for (const p of packs) {
    const stack = packs.filter((o) => lowest(o) === lowest(p))
    if (stack.at(-1) !== p) {
      turns.set(p, { apart: [], off: [], before: [], on: [], stacks: [[p]] })
      continue
    }
    const way = seen.wayOf(stack)
    turns.set(p, { ...turn(stack, there, way, [], [...spare, ...way]), stacks: stacksIn(model, stack) })
    spare = []
    there = [...there, ...stack]
  }
  for (const p of regulators) {
    const feeding = there.filter((o) => seen.fedBy(o).includes(p))
    const isFed = feeding.some((o) => seen.isOn(o, on) && seen.fedBy(o, on).includes(p))
    const first = isFed ? [] : feeding.slice(0, 1)
    const before = seen.wayOf(first).filter((name) => !on.includes(name))
    const [measured, next] = [regulators.slice(0, regulators.indexOf(p)), regulators.slice(regulators.indexOf(p) + 1)]
    // what it shares with one that is not measured yet waits for that, unless it feeds it
    const not = [...ofPacks, ...on, ...(next.some((r) => seen.fedBy(p).includes(r)) ? [] : seen.wayOf(next))]
    const way = seen.wayOf([p]).filter((name) => !not.includes(name))
    const others = [...there.filter((o) => !feeding.includes(o)), ...measured]
    turns.set(p, { ...turn([p, ...first], others, [], before, way), stacks: [[p]] })
  }
  return turns
}

/** Of packs in series those from each topmost down: two may stand on one. */
function stacksIn({ conductors }: PowerModel, list: readonly Part[]): Part[][] {
  const under = list.map((p) => packsUnder(conductors, p.item).map((e) => e.item))
  return list.flatMap((p, i) => {
    if (under.some((items) => items.includes(p.item))) return []
    return [list.filter((o) => o === p || under[i]!.includes(o.item))]
  })
}

/** Who meets whom while some switches are on. */
class Seen {
  private readonly items: ReadonlyMap<string, number>

  constructor(
    private readonly model: PowerModel,
    private readonly facts: PowerFacts,
    private readonly regulators: readonly Part[],
  ) {
    this.items = new Map(model.parts.map((p) => [idOf(p), p.item]))
  }

  private ways = (p: Part) => this.facts.ways.get(p)!

  /** Switches in the way of one of these, its own too; none behind which other supplies are alone. */
  wayOf(list: readonly Part[]): string[] {
    const there = new Set(
      list.flatMap((p) =>
        onTheWay(this.model, this.ways(p), 'switch').flatMap((by) => (this.ways(p).isOthers(by.item) ? [] : idOf(by))),
      ),
    )
    return [...this.facts.switches.filter((id) => there.has(id)), ...list.flatMap((p) => this.ownOf(p))]
  }

  private ownOf(p: Part): string[] {
    return [...this.facts.ownSwitches].flatMap(([name, of]) => (of === idOf(p) ? [name] : []))
  }

  /** Items of the switches that are off; none where all are on. */
  private open(on?: readonly string[]): ReadonlySet<number> {
    return new Set(on && this.facts.switches.flatMap((id) => (on.includes(id) ? [] : this.items.get(id)!)))
  }

  /** Whether neither a switch of its own nor one in its way back keeps it off. */
  isOn(p: Part, on: readonly string[]): boolean {
    const ways = this.ways(p)
    return this.ownOf(p).every((name) => on.includes(name)) && ![...this.open(on)].some((i) => ways.isBackThrough(i))
  }

  /** Regulators that a supply feeds, through others too. */
  fedBy(p: Part, on?: readonly string[]): Part[] {
    const all = [p]
    for (const a of all)
      all.push(...this.regulators.filter((r) => !all.includes(r) && this.ways(a).feeds(r.item, this.open(on))))
    return all.slice(1)
  }

  /** Whether one that is there, or a regulator that it feeds, gives to where another does. */
  meet(there: Part, other: Part, on: readonly string[]): boolean {
    const open = this.open(on)
    return this.isOn(there, on) && [there, ...this.fedBy(there, on)].some((p) => this.ways(p).meets(other.item, open))
  }
}
