/** Leads as the plan draws them: their ways on the decks, and how much of each is to spare. Lengths are Um. */

import { type Figures, layoutOf, type Placement, type Problem, toMm } from '../../solver/index.ts'
import { routesOf } from '../electric/routes.ts'
import { extraOf, limitOf, WIRING, type Wiring, wiringOf } from '../electric/routes-settings.ts'
import { type Project, strokesOf, variantsOf, type WireRoute, wireRoutes } from '../model/index.ts'
import { placesOfNeed, roundDown, roundUp } from '../model/rounding.ts'
import { words } from '../words/index.ts'
import { inMm } from './sentences.ts'

export interface Lead extends WireRoute {
  /** Limit less cut length; undefined where nothing limits it, or it has no way. Negative: too short. */
  readonly spare: number | undefined
  /** What to cut it to, laid so; undefined where it has no way. */
  readonly cut: number | undefined
  /** `round`: as it has to be laid, round what is in its way; `straight`: as the rules measure it; `barred`: no way on the deck. */
  readonly way: 'round' | 'straight' | 'barred'
}

/** Less than this to spare is tight, Um: common practice, no source. */
export const TIGHT = 10_000

export const isTight = (lead: Pick<Lead, 'spare'>): boolean => lead.spare !== undefined && lead.spare < TIGHT

/** Leads that come within 10 mm of what there is of them, as they have to be laid. One that does not reach, or is barred, is the inspection's to tell. */
export const tightTexts = (problem: Problem, leads: readonly Lead[]): string[] =>
  leads.flatMap(({ wire, way, cut, spare }) => {
    if (way !== 'round' || cut === undefined || spare === undefined || spare < 0 || spare >= TIGHT) return []
    const there = (cut + spare) / 1000
    const n = placesOfNeed(cut / 1000, there)
    const [needs, has] = [roundUp(cut / 1000, n), roundDown(there, n)].map(String) as [string, string]
    return [words.solves.tight(wire + 1, problem.wires[wire]!.id, needs, has, inMm(spare - (spare % 100)))]
  })

/** Um, rounded up. */
export const cutMm = (um: number): string => String(roundUp(um / 1000, 1))

/** The wiring of a sheet; what stands for it where the project has no such variant (any more). */
export function wiringFor(project: Project | undefined, variant: string): Wiring {
  const there = project && variantsOf(project).some((v) => v.id === variant)
  return there ? wiringOf(project, variant) : WIRING
}

const cutOf = (problem: Problem, wiring: Wiring, index: number, length: number | undefined): number | undefined =>
  length === undefined ? undefined : length + extraOf(wiring, problem.wires[index]!)

const spareOf = (problem: Problem, wiring: Wiring, index: number, length: number): number | undefined => {
  const wire = problem.wires[index]!
  const limit = limitOf(problem.exits, wire)
  return Number.isFinite(limit) ? limit - length - extraOf(wiring, wire) : undefined
}

/** At once, while something is on its way: straight from end to end. */
export function straightLeads(
  problem: Problem,
  placements: readonly Placement[],
  wiring: Wiring,
  figures: Figures | undefined,
): Lead[] {
  const lengths = new Map(figures?.wires.map((w) => [w.wire, w.length]))
  return wireRoutes(layoutOf(problem, placements)).map((route): Lead => {
    const length = lengths.get(route.wire)
    return {
      ...route,
      way: 'straight',
      spare: length === undefined ? undefined : spareOf(problem, wiring, route.wire, length),
      cut: cutOf(problem, wiring, route.wire, length),
    }
  })
}

/** Round what is in their way, once a layout stands. */
export function routedLeads(
  problem: Problem,
  placements: readonly Placement[],
  wiring: Wiring,
  figures: Figures | undefined,
): Lead[] {
  const routed = new Map(routesOf(problem, placements, wiring).routes.map((r) => [r.wire, r]))
  return straightLeads(problem, placements, wiring, figures).map((straight): Lead => {
    const route = routed.get(straight.wire)
    // What is to spare on a way that is not open would be read as if it could be laid.
    if (!route) return { ...straight, cut: undefined, spare: undefined, way: 'barred', barred: true }
    return {
      wire: straight.wire,
      from: route.from,
      to: route.to,
      way: 'round',
      spare: spareOf(problem, wiring, straight.wire, route.length),
      cut: cutOf(problem, wiring, straight.wire, route.length),
      strokes: strokesOf(route.spots),
    }
  })
}

/** What is to spare, for a badge: whole millimetres, towards too little; what is missing to a tenth, as the findings say it. */
export const spareMm = (spare: number): number =>
  spare < 0 ? -roundUp(-spare / 1000, 1) : Math.floor(toMm(spare as Parameters<typeof toMm>[0]))
