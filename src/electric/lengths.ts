/**
 * How long to cut each lead: for a variant, for all that were solved, and for moves that may come later. A lead cut short for
 * today's layout rules out tomorrow's, and nothing makes it longer again.
 */
import type { FootprintFile } from '../../footprints/schema.ts'
import {
  deckCalled,
  type End,
  endsOf,
  isHost,
  type Layout,
  layoutOf,
  type Placement,
  type Problem,
  type Um,
  um,
  type Wire,
} from '../../solver/index.ts'
import { type Project, toProblem } from '../model/index.ts'
import { isClear, type Routed, routeOf, wayAround } from './routes.ts'
import type { Way } from './routes-graph.ts'
import { type Obstacle, obstaclesOf } from './routes-obstacles.ts'
import { extraOf, limitOf, wiringOf } from './routes-settings.ts'
import type { WireFinding } from './wire-finding.ts'
import { leads as words } from './words.ts'

export interface VariantLayout {
  readonly variant: string
  readonly placements: readonly Placement[]
  /** What is worked out of them already. */
  readonly known?: { readonly problem: Problem; readonly routed: Routed }
}

/** A move of one end that the lead could be kept long enough for. Lengths to cut, Um. */
export interface LaterMove {
  readonly variant: string
  readonly item: string
  /** The breadboard or deck that it would go to. */
  readonly to: string
  /** Below this it reaches none of it. */
  readonly least: Um
  /** From here on it reaches all of it. */
  readonly most: Um
}

export interface LeadLength {
  readonly wire: string
  /** Length to cut for each variant that has the lead; missing where no way is open. */
  readonly variants: readonly { readonly variant: string; readonly cut?: Um }[]
  readonly later: readonly LaterMove[]
  /** Longest of all these, but no longer than what there is of the lead. */
  readonly keep: Um
}

export interface LeadLengths {
  readonly leads: readonly LeadLength[]
  readonly findings: readonly WireFinding[]
}

/** Lengths over the layouts of several variants of one project. Throws a RangeError where one names no variant. */
export function leadLengths(
  project: Project,
  library: ReadonlyMap<string, FootprintFile>,
  layouts: readonly VariantLayout[],
): LeadLengths {
  const leads = new Map<string, { variants: { variant: string; cut?: Um }[]; later: LaterMove[]; limit: number }>()
  for (const { variant, placements, known } of layouts) {
    const problem = known?.problem ?? toProblem(project, variant, library)
    const wiring = wiringOf(project, variant)
    const layout = layoutOf(problem, placements)
    const obstacles = obstaclesOf(layout, wiring)
    const routes = known && new Map([...known.routed.routes, ...known.routed.blocked].map((r) => [r.wire, r]))
    problem.wires.forEach((wire, index) => {
      const route = routes ? routes.get(index) : routeOf(layout, obstacles, wire, index)
      if (route === undefined) return
      const extra = extraOf(wiring, wire)
      const lead = leads.get(wire.id) ?? { variants: [], later: [], limit: 0 }
      leads.set(wire.id, lead)
      lead.limit = Math.max(lead.limit, limitOf(problem.exits, wire))
      lead.variants.push('spots' in route ? { variant, cut: um(route.length + extra) } : { variant })
      lead.later.push(...moves(layout, obstacles, wire, extra, variant))
    })
  }
  const list = [...leads].map(([wire, { variants, later, limit }]): LeadLength => {
    const needed = [...variants.flatMap((v) => v.cut ?? []), ...later.map((m) => m.most)]
    return { wire, variants, later, keep: um(Math.min(limit, Math.max(0, ...needed))) }
  })
  return { leads: list, findings: list.flatMap((lead) => ruledOut(lead, leads.get(lead.wire)!.limit)) }
}

/** One end moves at a time: to every other breadboard on the decks, or to the same place on another deck it may stand on. */
function moves(layout: Layout, obstacles: readonly Obstacle[], wire: Wire, extra: Um, variant: string): LaterMove[] {
  const { problem } = layout
  const ends = [
    [wire.from, wire.to],
    [wire.to, wire.from],
  ] as const
  return ends.flatMap(([moving, fixed]) => {
    const stays = endsOf(layout, fixed)[0]
    if (moving.kind !== 'item' || !stays) return []
    const goes = endsOf(layout, moving)[0]
    const body = goes?.item === undefined ? undefined : layout.bodyOf.get(goes.item)
    if (!goes || !body) return []
    const found: LaterMove[] = []
    const add = (to: string, near: End, far: readonly End[]) => {
      const reached = cutsTo(layout, obstacles, stays, near, far)
      if (!reached) return
      found.push({
        variant,
        item: body.item.id,
        to,
        least: um(reached.least + extra),
        most: um(reached.most + extra),
      })
    }
    if (body.host !== undefined) {
      for (const other of layout.bodies) {
        if (!isHost(other.item) || other.index === body.host || other.index === stays.item) continue
        const { x, y, w, h } = other.rect
        const end = (px: number, py: number): End => ({
          deck: other.deck,
          at: { x: um(px), y: um(py) },
          item: other.index,
        })
        const into = (v: number, lo: number, size: number) => Math.min(Math.max(v, lo), lo + size)
        const corners = [end(x, y), end(x + w, y), end(x, y + h), end(x + w, y + h)]
        add(other.item.id, end(into(stays.at.x, x, w), into(stays.at.y, y, h)), corners)
      }
    }
    const carrier = body.host === undefined ? body.item : problem.items[body.host]!
    for (const deck of carrier.decks) {
      if (deck === body.deck) continue
      const there = { deck, at: goes.at, item: body.index }
      add(deckCalled(problem.decks[deck]!), there, [])
    }
    return found
  })
}

/**
 * Lengths along the decks and between them, round what stands there now; straight where that leaves no way. `least` to the near
 * end, `most` to the farthest of all. Undefined where nothing joins the decks.
 */
function cutsTo(
  layout: Layout,
  obstacles: readonly Obstacle[],
  from: End,
  near: End,
  far: readonly End[],
): { least: number; most: number } | undefined {
  const wayTo = (to: End) => wayAround(layout, obstacles, from, to).way
  const straight = (to: End) => wayAround(layout, [], from, to).way
  const open = wayTo(near)
  const first = open ?? straight(near)
  if (!first) return undefined
  const { decks } = layout.problem
  const rise = Math.abs(decks[from.deck]!.z - decks[near.deck]!.z)
  // Where the way to the near end can be led on, the way there is no longer than that: most ends need no search of their own.
  const bounded = far
    .map((to) => ({ to, bound: (open && ledOn(layout, obstacles, open, from, to)) ?? Number.POSITIVE_INFINITY }))
    .sort((a, b) => b.bound - a.bound)
  let most = first.length
  for (const { to, bound } of bounded) {
    if (bound <= most) break
    const bare = straight(to)?.length ?? 0
    most = Math.max(most, bare < bound ? ((wayTo(to) ?? straight(to))?.length ?? 0) : bare)
  }
  return { least: first.length + rise, most: most + rise }
}

/** Length of a way that goes on from its end to another one, with a bend at most, where nothing is in that lead's way; else nothing. */
function ledOn(layout: Layout, obstacles: readonly Obstacle[], way: Way, from: End, to: End): number | undefined {
  const last = way.spots[way.spots.length - 1]!
  const end = { deck: to.deck, x: to.at.x, y: to.at.y }
  const more = Math.abs(end.x - last.x) + Math.abs(end.y - last.y)
  const corners = [
    { ...end, x: last.x },
    { ...end, y: last.y },
  ]
  const led = corners.map((c): Way => ({ length: way.length + more, spots: [...way.spots, c, end] }))
  return led.find((w) => isClear(layout, obstacles, from, to, w))?.length
}

/** A warning where the length for one variant would not do for another, or for a later move that the lead as it is can reach. */
function ruledOut(lead: LeadLength, limit: number): WireFinding[] {
  const cuts = lead.variants.flatMap((v) => (v.cut === undefined ? [] : [{ variant: v.variant, cut: v.cut }]))
  const shortest = cuts.reduce<(typeof cuts)[number] | undefined>((s, v) => (!s || v.cut < s.cut ? v : s), undefined)
  if (!shortest) return []
  const longer = cuts.filter((v) => v.cut > shortest.cut && v.cut <= limit)
  const lost = lead.later.filter((m) => m.least > shortest.cut && m.least <= limit)
  if (longer.length === 0 && lost.length === 0) return []
  const moves = [...new Map(lost.map((m) => [`${m.item} ${m.to}`, m])).values()]
  const text = words.cutTooShort(lead.wire, shortest.cut, shortest.variant, longer, moves, lead.keep)
  const items = [lead.wire, ...new Set(lost.map((m) => m.item))]
  return [{ kind: 'cut-too-short', topic: 'length', weight: 'worth-knowing', items, text }]
}
