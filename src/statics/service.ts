/**
 * The order of service as plain data (point 7 of the work): for each part what must come off first. A part comes off straight up, so
 * whatever lies over it, or over the lands of its screws, comes first: what is plugged into it, bodies above, decks above. A deck comes
 * off with all that is mounted on it. A head that reaches over a part or a plate is turned away where some pan angle frees it, else it
 * comes off first; one that comes off itself is turned so that its arm is under nothing.
 * That parts come off upwards is common practice, no source; leads are taken off first, with every supply disconnected.
 */
import { type Body, type Layout, layoutOf, type Placement, type Problem, runOf } from '../../solver/index.ts'
import { wireRoutes } from '../model/index.ts'
import { coveredBy, type DeckPlan, deckPlans } from './above.ts'
import type { StaticsFinding } from './finding.ts'
import { obstacleCalled, rectOf } from './obstacles.ts'
import { convexOf, type Interval } from './plane.ts'
import {
  aboveBody,
  abovePlate,
  clearPans,
  columnsOf,
  headsOf,
  type Turning,
  underBody,
  underPlate,
} from './service-heads.ts'
import { found } from './words.ts'

/** A placed item or a deck. */
export interface ServiceStep {
  readonly id: string
  readonly kind: 'item' | 'deck'
  /** What must come off right before it can. */
  readonly first: readonly string[]
  /** All that must come off, in an order that works. */
  readonly all: readonly string[]
  /** Wires that end at it; of a deck those that lead from what comes off with it to what stays, and those that come through it. */
  readonly wires: readonly string[]
  /** Heads to turn to one of these pan angles. */
  readonly turn: readonly { readonly head: string; readonly pan: readonly Interval[] }[]
}

export interface ServiceOrder {
  readonly steps: readonly ServiceStep[]
  /** Ids that wait for one another, each list one knot. */
  readonly cycles: readonly (readonly string[])[]
  readonly findings: readonly StaticsFinding[]
}

/** Of one layout, legal or not: a step for each placed item that is not `later`, and each deck. What waits for one another is a cycle, and a finding. */
export function serviceOrder(problem: Problem, placements: readonly Placement[]): ServiceOrder {
  const layout = layoutOf(problem, placements)
  const decks = deckPlans(problem)
  const wires = wiresOf(layout)
  const heads = headsOf(problem, layout)
  const raw: (Omit<ServiceStep, 'all'> & { readonly key: string; readonly later?: boolean })[] = []
  for (const body of layout.bodies) {
    const { id } = body.item
    const { first, turn } = needsOfBody(layout, decks, heads, body)
    const { later } = body.item
    raw.push({ key: itemKey(id), id, kind: 'item', first, wires: wires.get(itemKey(id)) ?? [], turn, later })
  }
  problem.decks.forEach(({ id }, i) => {
    const { first, turn } = needsOfDeck(layout, decks, heads, i)
    raw.push({ key: deckKey(id), id, kind: 'deck', first, wires: wires.get(deckKey(id)) ?? [], turn })
  })
  const { all, cycles } = unpile(new Map(raw.map((r) => [r.key, r.first])))
  // what comes later is in the way of others once it is there; until then there is nothing of it to take off
  const steps = raw.flatMap(({ key, later, ...r }): ServiceStep[] =>
    later ? [] : [{ ...r, first: r.first.map(plain), all: all.get(key)!.map(plain) }],
  )
  const knots = cycles.map((c) => c.map(plain))
  const say = (keys: readonly string[]): string[] =>
    keys.map((key) =>
      key === itemKey(plain(key)) ? plain(key) : obstacleCalled(problem, { id: plain(key), kind: 'deck' }),
    )
  const findings = cycles.map((c): StaticsFinding => {
    return {
      kind: 'service-knot',
      topic: 'service',
      weight: 'stops',
      items: c.map(plain),
      text: found.serviceKnot(say(c)),
    }
  })
  return { steps, cycles: knots, findings: [...findings, ...deep(steps, (id) => say(all.get(itemKey(id))!))] }
}

/** A deck and an item may have the same id. */
const itemKey = (id: string): string => `i:${id}`
const deckKey = (id: string): string => `d:${id}`
const plain = (key: string): string => key.slice(2)

/** More than this much above a part is worth a sentence. */
const MANY = 3

const deep = (steps: readonly ServiceStep[], allOf: (item: string) => readonly string[]): StaticsFinding[] =>
  steps
    .filter((s) => s.kind === 'item' && s.all.length > MANY)
    .map((s) => ({
      kind: 'service-deep',
      topic: 'service',
      weight: 'worth-knowing',
      items: [s.id, ...s.all],
      text: found.serviceDeep(s.id, allOf(s.id)),
    }))

function wiresOf(layout: Layout): Map<string, string[]> {
  const at = new Map<string, string[]>()
  const add = (key: string, wire: string) => {
    const list = at.get(key) ?? []
    if (!list.includes(wire)) list.push(wire)
    at.set(key, list)
  }
  const { problem } = layout
  const routes = new Map(wireRoutes(layout).map((r) => [r.wire, r]))
  problem.wires.forEach((wire, index) => {
    const run = runOf(layout, wire)
    if (!run) return
    const ends = [run.from, run.to]
    for (const e of ends) if (e.item !== undefined) add(itemKey(problem.items[e.item]!.id), wire.id)
    const strokes = routes.get(index)?.strokes ?? []
    const met = new Set([...ends, ...strokes].map((e) => e.deck))
    // on one deck alone it comes off with that; what comes out of an exit came through its deck
    const held = met.size > 1 ? met : new Set(ends.flatMap((e) => (e.exit === undefined ? [] : [e.deck])))
    for (const deck of held) add(deckKey(problem.decks[deck]!.id), wire.id)
  })
  return at
}

/** What comes off before it, and heads to turn. */
type Needs = Pick<ServiceStep, 'first' | 'turn'>

function needsOfBody(layout: Layout, decks: readonly DeckPlan[], heads: readonly Turning[], body: Body): Needs {
  const { problem } = layout
  const columns = columnsOf(body)
  const first: string[] = []
  const lifted = new Set<number>()
  decks.forEach((d, i) => {
    // its own deck it stands on; one that hangs into it from below is no lid either
    if (i === body.deck || d.z[1] <= body.bottom / 1000) return
    if (!columns.some((c) => coveredBy(d, c))) return
    lifted.add(i)
    first.push(deckKey(problem.decks[i]!.id))
  })
  for (const other of layout.bodies) {
    if (other === body || other.bottom < body.top) continue
    if (lifted.has(other.deck) || !columns.some((c) => coveredBy({ plan: rectOf(other), openings: [] }, c))) continue
    first.push(itemKey(other.item.id))
  }
  return withHeads(layout, decks, heads, first, { bodies: [body], decks: lifted, stoodOn: body.deck })
}

/** Decks above that cover it, and bodies of other decks that stand over it. */
function needsOfDeck(layout: Layout, decks: readonly DeckPlan[], heads: readonly Turning[], index: number): Needs {
  const { problem } = layout
  const deck = decks[index]!
  const mine = layout.bodies.filter((b) => b.deck === index)
  const plans = [convexOf(deck.plan), ...mine.map(rectOf)]
  const first: string[] = []
  const lifted = new Set<number>([index])
  decks.forEach((d, i) => {
    if (i === index || d.z[0] < deck.z[1] || !plans.some((plan) => coveredBy(d, plan))) return
    lifted.add(i)
    first.push(deckKey(problem.decks[i]!.id))
  })
  for (const other of layout.bodies) {
    if (lifted.has(other.deck)) continue
    const over = { plan: rectOf(other), openings: [] }
    // a body in an opening of this deck lets it pass; one over the plate, or over what stands on it, does not
    const onPlate = other.bottom / 1000 >= deck.z[1] && coveredBy(deck, rectOf(other))
    if (onPlate || mine.some((b) => other.bottom >= b.top && coveredBy(over, rectOf(b))))
      first.push(itemKey(other.item.id))
  }
  return withHeads(layout, decks, heads, first, { bodies: mine, plate: deck, decks: lifted })
}

/** What comes off in one piece; `decks`: plates that are off by then, or come along. */
interface Lifted {
  readonly bodies: readonly Body[]
  readonly plate?: DeckPlan
  readonly decks: ReadonlySet<number>
  /** The deck that a single body stands on, which stays and does not hold it down. */
  readonly stoodOn?: number
}

/** The same with heads: each is turned away where it can be, else it comes off first, or what holds its arm down does. */
function withHeads(
  layout: Layout,
  decks: readonly DeckPlan[],
  heads: readonly Turning[],
  before: readonly string[],
  lift: Lifted,
): Needs {
  const first = [...before]
  const turn: { head: string; pan: readonly Interval[] }[] = []
  const there = (b: Body): boolean => !lift.decks.has(b.deck) && !first.includes(itemKey(b.item.id))
  const passed = [...lift.bodies.flatMap(aboveBody), ...(lift.plate ? [abovePlate(lift.plate)] : [])]
  for (const head of heads) {
    const { id } = head.body.item
    const own = lift.bodies.includes(head.body)
    if (!own && !there(head.body)) continue
    const things = own
      ? [
          ...decks.flatMap((d, i) =>
            lift.decks.has(i) || i === lift.stoodOn
              ? []
              : [{ key: deckKey(layout.problem.decks[i]!.id), at: underPlate(d) }],
          ),
          ...layout.bodies.flatMap((b) =>
            lift.bodies.includes(b) || !there(b) ? [] : [{ key: itemKey(b.item.id), at: underBody(b) }],
          ),
        ]
      : passed.map((at) => ({ key: itemKey(id), at }))
    const pan = clearPans(
      head,
      things.map((t) => t.at),
    )
    if (pan === undefined) continue
    if (pan.length > 0) turn.push({ head: id, pan })
    else
      for (const { key, at } of things) if (!first.includes(key) && clearPans(head, [at]) !== undefined) first.push(key)
  }
  return { first, turn }
}

/** For each what must come off, in an order that works, and the knots. `needs`: what each waits for. */
export function unpile(needs: ReadonlyMap<string, readonly string[]>): {
  readonly all: ReadonlyMap<string, readonly string[]>
  readonly cycles: readonly (readonly string[])[]
} {
  const cycles = knots(needs)
  const all = new Map<string, string[]>()
  for (const id of needs.keys()) {
    const list: string[] = []
    const seen = new Set<string>([id])
    const visit = (k: string): void => {
      for (const n of needs.get(k) ?? []) {
        if (seen.has(n)) continue
        seen.add(n)
        visit(n)
        list.push(n)
      }
    }
    visit(id)
    all.set(id, list)
  }
  return { all, cycles }
}

/** Strongly connected components of more than one (Tarjan 1972). */
function knots(needs: ReadonlyMap<string, readonly string[]>): string[][] {
  const order = new Map<string, number>()
  const low = new Map<string, number>()
  const stack: string[] = []
  const out: string[][] = []
  const visit = (id: string): void => {
    order.set(id, order.size)
    low.set(id, order.get(id)!)
    stack.push(id)
    for (const n of needs.get(id) ?? []) {
      if (!order.has(n)) visit(n)
      if (stack.includes(n)) low.set(id, Math.min(low.get(id)!, low.get(n)!))
    }
    if (low.get(id) !== order.get(id)) return
    const knot = stack.splice(stack.indexOf(id))
    if (knot.length > 1 || (needs.get(id) ?? []).includes(id)) out.push(knot)
  }
  for (const id of needs.keys()) if (!order.has(id)) visit(id)
  return out
}
