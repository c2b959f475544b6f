/**
 * How long to cut each lead: for a variant, for all that were solved, and for moves that may come later. A lead cut short for
 * today's layout rules out tomorrow's, and nothing makes it longer again.
 */
import type { FootprintFile } from '../../footprints/schema.ts'
import { layoutOf, type Placement, type Problem, type Um, um } from '../../solver/index.ts'
import { type Project, toProblem } from '../model/index.ts'
import { keptFor, type LaterMove, laterMoves } from './later-moves.ts'
import { type Routed, routeOf } from './routes.ts'
import { obstaclesOf } from './routes-obstacles.ts'
import { extraOf, limitOf, wiringOf } from './routes-settings.ts'
import type { WireFinding } from './wire-finding.ts'
import { leads as words } from './words.ts'

export interface VariantLayout {
  readonly variant: string
  readonly placements: readonly Placement[]
  /** What is worked out of them already. */
  readonly known?: { readonly problem: Problem; readonly routed: Routed }
}

export interface LeadLength {
  readonly wire: string
  /** Length to cut for each variant that has the lead; missing where no way is open. */
  readonly variants: readonly { readonly variant: string; readonly cut?: Um }[]
  readonly later: readonly LaterMove[]
  /** Longest of all these, but in no variant longer than what there is of the lead. */
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
  type Known = { variants: { variant: string; cut?: Um }[]; later: LaterMove[]; limit: number; keep: Um }
  const leads = new Map<string, Known>()
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
      const lead = leads.get(wire.id) ?? { variants: [], later: [], limit: 0, keep: um(0) }
      leads.set(wire.id, lead)
      const limit = limitOf(problem.exits, wire)
      const cut = 'spots' in route ? um(route.length + extra) : undefined
      const later = laterMoves(layout, obstacles, wire, route, extra)
      lead.limit = Math.max(lead.limit, limit)
      lead.keep = um(Math.max(lead.keep, keptFor(cut, later, limit)))
      lead.variants.push(cut === undefined ? { variant } : { variant, cut })
      lead.later.push(...later)
    })
  }
  const list = [...leads].map(([wire, { variants, later, keep }]): LeadLength => ({ wire, variants, later, keep }))
  return { leads: list, findings: list.flatMap((lead) => ruledOut(lead, leads.get(lead.wire)!.limit)) }
}

/** A warning where the length for one variant would not do for another, or for a later move that the lead as it is can reach. */
function ruledOut(lead: LeadLength, limit: number): WireFinding[] {
  const cuts = lead.variants.flatMap((v) => (v.cut === undefined ? [] : [{ variant: v.variant, cut: v.cut }]))
  const shortest = cuts.reduce<(typeof cuts)[number] | undefined>((s, v) => (!s || v.cut < s.cut ? v : s), undefined)
  if (!shortest) return []
  const longer = cuts.filter((v) => v.cut > shortest.cut && v.cut <= limit)
  const lost = lead.later.filter((m) => m.least > shortest.cut && m.least <= limit)
  if (longer.length === 0 && lost.length === 0) return []
  const moves = foremost(lost, shortest.variant).map((m) =>
    cuts.length > 1 ? m : { item: m.item, to: m.to, least: m.least },
  )
  const text = words.cutTooShort(lead.wire, shortest.cut, shortest.variant, longer, moves, lead.keep)
  const items = [lead.wire, ...new Set(lost.map((m) => m.item))]
  return [{ kind: 'cut-too-short', topic: 'length', weight: 'worth-knowing', items, text }]
}

/** Each move once: as it is in the variant that is cut for, else where it asks for least. */
function foremost(lost: readonly LaterMove[], variant: string): LaterMove[] {
  const found = new Map<string, LaterMove>()
  for (const m of lost) {
    const before = found.get(`${m.item} ${m.to}`)
    const sooner = !before || (before.variant !== variant && (m.variant === variant || m.least < before.least))
    if (sooner) found.set(`${m.item} ${m.to}`, m)
  }
  return [...found.values()]
}
