/**
 * What is turned on with each supply as it comes to power, and what has to be off for it: step by step, with the packs that are connected
 * and the switches that are on. Of supplies that would meet only one is on at a time, and none goes on to where what it feeds gives. Common
 * practice, no source.
 */
import { idOf, type Part, type PowerModel, packsUnder } from '../electric/index.ts'
import type { PowerFacts } from './facts.ts'
import { Meetings } from './meetings.ts'

/** Switches by name. */
export interface Turn {
  /** Packs that no switch keeps from what is turned on: they are disconnected again. */
  readonly apart: readonly string[]
  /** Off again before it is connected or measured, of what is on. */
  readonly off: readonly string[]
  /** Packs that are connected again, and switches that are on again, so that a regulator has what feeds it. */
  readonly again: readonly string[]
  readonly before: readonly string[]
  /** Turned on with a pack, or once a regulator is measured. */
  readonly on: readonly string[]
  /** What can be measured then, each of packs in series if it is the last of them to be connected; else it alone. */
  readonly stacks: readonly (readonly Part[])[]
}

/** What turns on what: switches by name, `before` it gives and `after`. `others`: who gives already, if it is on. */
interface Turning {
  readonly giving: readonly Part[]
  readonly others: readonly Part[]
  readonly feeding?: readonly Part[]
  readonly own?: readonly string[]
  readonly before?: readonly string[]
  readonly after: readonly string[]
}

/** Packs in series are turned on as one: nothing flows until the last of them is there. What is in nobody's way goes with the first. */
export function turnsOf(
  model: PowerModel,
  facts: PowerFacts,
  packs: readonly Part[],
  regulators: readonly Part[],
): ReadonlyMap<Part, Turn> {
  const { switches } = facts
  const seen = new Meetings(model, facts, packs, regulators)
  const [ofPacks, ofAll] = [seen.wayOf(packs), seen.wayOf([...packs, ...regulators])]
  const turns = new Map<Part, Turn>()
  let spare = switches.filter((id) => !ofAll.includes(id))
  let on: readonly string[] = []
  /** Packs that are connected and can give: of those in series, all. */
  let there: readonly Part[] = []
  /** What is on of `own` is off while those that give are connected. What feeds them stays on: nothing goes on to where that gives. */
  const turn = ({ giving, others, feeding = [], own = [], before = [], after }: Turning) => {
    const meeting = (now: readonly string[]) => others.filter((o) => giving.some((p) => seen.meet(o, p, now)))
    const kept = [...own, ...seen.wayOf(meeting([...on, ...before, ...after]).filter((o) => !feeding.includes(o)))]
    const off = on.filter((name) => kept.includes(name) && !before.includes(name))
    const needed = before.filter((name) => !on.includes(name))
    const rest = [...on.filter((name) => !off.includes(name)), ...needed]
    const isApart = (o: Part) => there.includes(o) && !feeding.includes(o)
    const turned = meeting([...rest, ...after]).every(isApart) ? seen.apartFromFed(giving, rest, after) : []
    on = [...rest, ...turned]
    const apart = meeting(on).filter(isApart)
    there = there.filter((o) => !apart.includes(o))
    return { apart: apart.map(idOf), off, before: needed, on: turned }
  }
  for (const p of packs) {
    const stack = seen.stackOf(p)
    if (stack.at(-1) !== p) {
      turns.set(p, { apart: [], off: [], again: [], before: [], on: [], stacks: [[p]] })
      continue
    }
    const way = seen.wayOf(stack)
    turns.set(p, {
      ...turn({ giving: stack, others: there, own: way, after: [...spare, ...way] }),
      again: [],
      stacks: stacksIn(model, stack),
    })
    spare = []
    there = [...there, ...stack]
  }
  for (const p of regulators) {
    const feeding = packs.filter((o) => seen.fedBy(o).includes(p))
    const near = feeding.filter((o) => there.includes(o))
    const isFed = near.some((o) => seen.isOn(o, on) && seen.fedBy(o, on).includes(p))
    const first = isFed ? [] : [...near, ...feeding].slice(0, 1).flatMap((o) => seen.stackOf(o))
    const again = first.filter((o) => !there.includes(o))
    there = [...there, ...again]
    const before = seen.apartFromFed(first, on, seen.wayOf(first))
    const [measured, next] = [regulators.slice(0, regulators.indexOf(p)), regulators.slice(regulators.indexOf(p) + 1)]
    // what it shares with one that is not measured yet waits for that, unless it feeds it
    const not = [...ofPacks, ...on, ...(next.some((r) => seen.fedBy(p).includes(r)) ? [] : seen.wayOf(next))]
    const way = seen.wayOf([p]).filter((name) => !not.includes(name))
    const over = measured.filter((r) => seen.fedBy(r).includes(p))
    turns.set(p, {
      ...turn({
        giving: [p, ...first],
        others: [...there, ...measured],
        feeding: [...(isFed ? near : first), ...over],
        before,
        after: way,
      }),
      again: again.map(idOf),
      stacks: [[p]],
    })
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
