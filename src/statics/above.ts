/** What lies over what: plates with their openings, in mm. */
import { openingsOf, type Problem } from '../../solver/index.ts'
import { flat } from './obstacles.ts'
import { areaOf, convexOf, cutTo, type Interval, type Polygon } from './plane.ts'

export interface DeckPlan {
  readonly plan: Polygon
  readonly openings: readonly Polygon[]
  readonly z: Interval
}

export const deckPlans = (problem: Problem): DeckPlan[] =>
  problem.decks.map((d, i) => ({
    plan: flat(d.outline),
    openings: openingsOf(problem, i).map((o) => flat(o.region.shape)),
    z: [(d.z - d.thickness) / 1000, d.z / 1000],
  }))

/** mm²; less is touching. */
const TOUCH = 1e-3

/** Whether a plate lies over a convex area: they overlap, and the area is not wholly under one opening. */
export function coveredBy(plate: Pick<DeckPlan, 'plan' | 'openings'>, area: Polygon): boolean {
  if (areaOf(cutTo(plate.plan, area)) <= TOUCH) return false
  const whole = areaOf(area)
  return !plate.openings.some((o) => areaOf(cutTo(o, area)) >= whole - TOUCH)
}

/** A corridor's shape as a convex area, a little too large where it is not convex. */
export const convexArea = (shape: Parameters<typeof flat>[0]): Polygon => convexOf(flat(shape))
