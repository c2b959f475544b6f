/**
 * How long to cut each lead: for a variant, for all that were solved, and for moves that may come later. A lead cut short for
 * today's layout rules out tomorrow's, and nothing makes it longer again.
 */
import type { FootprintFile } from '../../footprints/schema.ts'
import {
  deckCalled,
  type End,
  isHost,
  type Layout,
  layoutOf,
  type Placement,
  type Problem,
  runOf,
  type Um,
  um,
  type Wire,
} from '../../solver/index.ts'
import { type Project, toProblem } from '../model/index.ts'
import { type Blocked, type Route, type Routed, routeOf, wayAround } from './routes.ts'
import { type Obstacle, obstaclesOf } from './routes-obstacles.ts'
import { type Reach, waysOver } from './routes-over.ts'
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
      lead.later.push(...moves(layout, obstacles, joinedBy(layout, wire, route), extra, variant))
    })
  }
  const list = [...leads].map(([wire, { variants, later, limit }]): LeadLength => {
    const needed = [...variants.flatMap((v) => v.cut ?? []), ...later.map((m) => m.most)]
    return { wire, variants, later, keep: um(Math.min(limit, Math.max(0, ...needed))) }
  })
  return { leads: list, findings: list.flatMap((lead) => ruledOut(lead, leads.get(lead.wire)!.limit)) }
}

/** The ends that a lead joins as it lies: of a counted item, at the copy that it runs to; where no way is open, as R7 measures. */
function joinedBy(layout: Layout, wire: Wire, route: Route | Blocked): readonly End[] {
  const { from, to } = 'spots' in route ? route : (runOf(layout, wire) ?? {})
  return from && to ? [from, to] : []
}

/** One end moves at a time: to any place on every other breadboard on the decks, or to the same place on another deck it may stand on. */
function moves(
  layout: Layout,
  obstacles: readonly Obstacle[],
  joined: readonly End[],
  extra: Um,
  variant: string,
): LaterMove[] {
  const { problem } = layout
  const [from, to] = joined
  if (!from || !to) return []
  const ends = [
    [from, to],
    [to, from],
  ] as const
  return ends.flatMap(([goes, stays]) => {
    const body = goes.item === undefined ? undefined : layout.bodyOf.get(goes.item)
    if (!body) return []
    const found: LaterMove[] = []
    const add = (to: string, deck: number, reached: Reach | undefined) => {
      if (!reached) return
      const { decks } = problem
      const more = Math.abs(decks[stays.deck]!.z - decks[deck]!.z) + extra
      const [least, most] = [um(reached.least + more), um(reached.most + more)]
      found.push({ variant, item: body.item.id, to, least, most })
    }
    if (body.host !== undefined) {
      for (const { item, index, deck, rect } of layout.bodies) {
        if (!isHost(item) || index === body.host || index === stays.item) continue
        const box = { x0: rect.x, y0: rect.y, x1: rect.x + rect.w, y1: rect.y + rect.h }
        add(item.id, deck, waysOver(layout, obstacles, stays, { deck, item: index, box }))
      }
    }
    const carrier = body.host === undefined ? body.item : problem.items[body.host]!
    for (const deck of carrier.decks) {
      if (deck === body.deck) continue
      const there = { deck, at: goes.at, item: body.index }
      const way = wayAround(layout, obstacles, stays, there).way ?? wayAround(layout, [], stays, there).way
      add(deckCalled(problem.decks[deck]!), deck, way && { least: way.length, most: way.length })
    }
    return found
  })
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
