/**
 * The order of service as plain data (point 7 of the work): for each part what must come off first. A part comes off straight up, so
 * whatever lies over it, or over the lands of its screws, comes first: what is plugged into it, bodies above, decks above. A deck comes
 * off with all that is mounted on it. A head that reaches over a part is turned away where some pan angle frees it, else it comes off.
 * That parts come off upwards is common practice, no source; leads are taken off first, with every supply disconnected.
 */
import { type Body, holesOn, type Layout, layoutOf, type Placement, type Problem, runOf } from '../../solver/index.ts'
import { coveredBy, type DeckPlan, deckPlans } from './above.ts'
import type { StaticsFinding } from './finding.ts'
import { type HeadParts, headParts } from './head-parts.ts'
import { blockedPans } from './head-sweep.ts'
import { type Obstacle, obstacleCalled } from './obstacles.ts'
import { convexOf, type Interval, type Polygon, rectangle, without } from './plane.ts'
import { found } from './words.ts'

/** A placed item or a deck. */
export interface ServiceStep {
  readonly id: string
  readonly kind: 'item' | 'deck'
  /** What must come off right before it can. */
  readonly first: readonly string[]
  /** All that must come off, in an order that works. */
  readonly all: readonly string[]
  /** Wires that end at it. */
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

/** Of one layout, legal or not: a step for each placed item and each deck. What waits for one another is a cycle, and a finding. */
export function serviceOrder(problem: Problem, placements: readonly Placement[]): ServiceOrder {
  const layout = layoutOf(problem, placements)
  const decks = deckPlans(problem)
  const wires = wiresOf(layout)
  const heads = layout.bodies.flatMap((body): Turning[] => {
    const parts = headParts(problem, body)
    return parts ? [{ body, parts }] : []
  })
  const plans = new Map(layout.bodies.map((b) => [b, rectOf(b)]))
  const raw: (Omit<ServiceStep, 'all'> & { readonly key: string })[] = []
  for (const body of layout.bodies) {
    const { id } = body.item
    const { first, turn } = needsOfBody(layout, decks, plans, heads, body)
    raw.push({ key: itemKey(id), id, kind: 'item', first, wires: wires.get(itemKey(id)) ?? [], turn })
  }
  problem.decks.forEach(({ id }, i) => {
    const first = needsOfDeck(layout, decks, i)
    raw.push({ key: deckKey(id), id, kind: 'deck', first, wires: wires.get(deckKey(id)) ?? [], turn: [] })
  })
  const { all, cycles } = unpile(new Map(raw.map((r) => [r.key, r.first])))
  const steps = raw.map(
    ({ key, ...r }): ServiceStep => ({ ...r, first: r.first.map(plain), all: all.get(key)!.map(plain) }),
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
  for (const wire of problem.wires) {
    const run = runOf(layout, wire)
    if (!run) continue
    const ends = [run.from, run.to]
    for (const e of ends) if (e.item !== undefined) add(itemKey(problem.items[e.item]!.id), wire.id)
    if (ends[0]!.deck !== ends[1]!.deck) for (const e of ends) add(deckKey(problem.decks[e.deck]!.id), wire.id)
  }
  return at
}

const rectOf = ({ rect: r }: Body): Polygon => rectangle(r.x / 1000, r.y / 1000, (r.x + r.w) / 1000, (r.y + r.h) / 1000)

/** The body in plan, then the lands of its screws. */
function columnsOf(body: Body): Polygon[] {
  const lands = holesOn(body.item.footprint, body.placement).map(({ hole, at }) => {
    const r = Math.max(hole.land, hole.diameter) / 2000
    const [x, y] = [at.x / 1000, at.y / 1000]
    return rectangle(x - r, y - r, x + r, y + r)
  })
  return [rectOf(body), ...lands]
}

interface Turning {
  readonly body: Body
  readonly parts: HeadParts
}

function needsOfBody(
  layout: Layout,
  decks: readonly DeckPlan[],
  plans: ReadonlyMap<Body, Polygon>,
  heads: readonly Turning[],
  body: Body,
): Pick<ServiceStep, 'first' | 'turn'> {
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
    if (lifted.has(other.deck) || !columns.some((c) => coveredBy({ plan: plans.get(other)!, openings: [] }, c)))
      continue
    first.push(itemKey(other.item.id))
  }
  const turn = headsOver(heads, body, columns[0]!).flatMap(({ head, pan }) => {
    if (pan.length > 0) return [{ head: head.item.id, pan }]
    const key = itemKey(head.item.id)
    if (!first.includes(key) && !lifted.has(head.deck)) first.push(key)
    return []
  })
  return { first, turn }
}

/** Heads that reach over a body at some pan angle, with the angles at which they do not, at any tilt. */
function headsOver(heads: readonly Turning[], body: Body, plan: Polygon): { head: Body; pan: readonly Interval[] }[] {
  return heads.flatMap(({ body: head, parts: h }) => {
    if (head === body) return []
    const column: Obstacle = {
      id: body.item.id,
      kind: 'body',
      index: body.index,
      plan,
      hull: plan,
      z: [body.bottom / 1000, FAR],
    }
    const over = blockedPans(h, column)
    return over.length === 0 ? [] : [{ head, pan: without(h.pan, over) }]
  })
}

const FAR = 1e6

/** Decks above that cover it, and bodies of other decks that stand over it. */
function needsOfDeck(layout: Layout, decks: readonly DeckPlan[], index: number): string[] {
  const { problem } = layout
  const deck = decks[index]!
  const plan = convexOf(deck.plan)
  const first: string[] = []
  const lifted = new Set<number>([index])
  decks.forEach((d, i) => {
    if (i === index || d.z[0] < deck.z[1] || !coveredBy(d, plan)) return
    lifted.add(i)
    first.push(deckKey(problem.decks[i]!.id))
  })
  const mine = layout.bodies.filter((b) => b.deck === index)
  for (const other of layout.bodies) {
    if (lifted.has(other.deck)) continue
    const over = { plan: rectOf(other), openings: [] }
    // a body in an opening of this deck lets it pass; one over the plate, or over what stands on it, does not
    const onPlate = other.bottom / 1000 >= deck.z[1] && coveredBy(deck, rectOf(other))
    if (onPlate || mine.some((b) => other.bottom >= b.top && coveredBy(over, rectOf(b))))
      first.push(itemKey(other.item.id))
  }
  return first
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
