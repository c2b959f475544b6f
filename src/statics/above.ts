/** What lies over what: plates with their openings, in mm. */
import { openingsOf, type Problem } from '../../solver/index.ts'
import { flat } from './obstacles.ts'
import { areaOf, convexOf, cutTo, type Interval, type Polygon } from './plane.ts'

export interface DeckPlan {
  readonly plan: Polygon
  readonly openings: readonly Polygon[]
  readonly z: Interval
  /** Round `plan`. */
  readonly box: Box
}

interface Box {
  readonly x0: number
  readonly y0: number
  readonly x1: number
  readonly y1: number
}

export const deckPlans = (problem: Problem): DeckPlan[] =>
  problem.decks.map((d, i) => {
    const plan = flat(d.outline)
    return {
      plan,
      openings: openingsOf(problem, i).map((o) => flat(o.region.shape)),
      z: [(d.z - d.thickness) / 1000, d.z / 1000],
      box: boxOf(plan),
    }
  })

/** mm²; less is touching. */
const TOUCH = 1e-3

/** Whether boxes round them do not meet: most pairs, and quickly said. */
function apart(p: Box, q: Box): boolean {
  return p.x1 <= q.x0 || q.x1 <= p.x0 || p.y1 <= q.y0 || q.y1 <= p.y0
}

function boxOf(a: Polygon): Box {
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
export function coveredBy(plate: Pick<DeckPlan, 'plan' | 'openings'> & { box?: Box }, area: Polygon): boolean {
  if (apart(plate.box ?? boxOf(plate.plan), boxOf(area)) || areaOf(cutTo(plate.plan, area)) <= TOUCH) return false
  const whole = areaOf(area)
  return !plate.openings.some((o) => areaOf(cutTo(o, area)) >= whole - TOUCH)
}

/** A corridor's shape as a convex area, a little too large where it is not convex. */
export const convexArea = (shape: Parameters<typeof flat>[0]): Polygon => convexOf(flat(shape))
