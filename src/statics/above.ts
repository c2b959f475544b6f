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

/** Whether boxes round them do not meet: most pairs, and quickly said. */
function apart(a: Polygon, b: Polygon): boolean {
  const p = boxOf(a)
  const q = boxOf(b)
  return p.x1 <= q.x0 || q.x1 <= p.x0 || p.y1 <= q.y0 || q.y1 <= p.y0
}

function boxOf(a: Polygon): { x0: number; y0: number; x1: number; y1: number } {
  let [x0, y0] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]
  let [x1, y1] = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY]
  for (const { x, y } of a) {
    x0 = Math.min(x0, x)
    y0 = Math.min(y0, y)
    x1 = Math.max(x1, x)
    y1 = Math.max(y1, y)
  }
  return { x0, y0, x1, y1 }
}

/** Whether a plate lies over a convex area: they overlap, and the area is not wholly under one opening. */
export function coveredBy(plate: Pick<DeckPlan, 'plan' | 'openings'>, area: Polygon): boolean {
  if (apart(plate.plan, area) || areaOf(cutTo(plate.plan, area)) <= TOUCH) return false
  const whole = areaOf(area)
  return !plate.openings.some((o) => areaOf(cutTo(o, area)) >= whole - TOUCH)
}

/** A corridor's shape as a convex area, a little too large where it is not convex. */
export const convexArea = (shape: Parameters<typeof flat>[0]): Polygon => convexOf(flat(shape))
