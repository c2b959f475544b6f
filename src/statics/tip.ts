/**
 * Where the robot stands and when it tips. Its tracks touch the ground over the hull of the contact polygon; a rigid body
 * tips about an edge of it once the vertical through the centre of gravity passes that edge: atan(distance / height), the
 * distance being to the edge and not the whole base. Sources: any statics textbook, tests/fixtures/statics-values.json
 * (`tip-box-tall`, `ssf-definition`, `stability-margin-definition`). Quasi-static: no braking, no bumps, no soft ground,
 * suspension or tyres, so the real robot tips sooner. mm and degrees.
 */

import { type Point, toMm } from '../../solver/index.ts'
import type { Degree, Millimetre } from '../model/quantities.ts'
import { SAME } from '../model/rounding.ts'
import type { Gravity, Point3 } from './weights.ts'

export interface Point2 {
  readonly x: Millimetre
  readonly y: Millimetre
}

/** An edge of the hull as a half-plane: `n·p + c` is the distance inside it, mm. `n` has length 1 and points inwards. */
export interface HullEdge {
  readonly from: Point2
  readonly to: Point2
  readonly n: Point2
  readonly c: number
}

/** Convex hull anticlockwise, without points on its edges (Andrew 1979, monotone chain). */
export function hull(points: readonly Point2[]): Point2[] {
  const sorted = [...points].sort((a, b) => a.x - b.x || a.y - b.y)
  const half = (list: readonly Point2[]): Point2[] => {
    const chain: Point2[] = []
    for (const p of list) {
      while (chain.length > 1 && cross(chain[chain.length - 2]!, chain[chain.length - 1]!, p) <= 0) chain.pop()
      chain.push(p)
    }
    return chain.slice(0, -1)
  }
  return [...half(sorted), ...half(sorted.reverse())]
}

const cross = (a: Point2, b: Point2, c: Point2): number => (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)

/** The edges that the robot can tip about. Empty where the contact has no area. */
export function standsOn(contact: readonly Point[]): HullEdge[] {
  const corners = hull(contact.map((p) => ({ x: toMm(p.x), y: toMm(p.y) })))
  if (corners.length < 3) return []
  return corners.map((from, i) => {
    const to = corners[(i + 1) % corners.length]!
    const length = Math.hypot(to.x - from.x, to.y - from.y)
    const n = { x: -(to.y - from.y) / length, y: (to.x - from.x) / length }
    return { from, to, n, c: -(n.x * from.x + n.y * from.y) }
  })
}

/** Distance of a point inside an edge, mm; negative outside. */
export const inside = (edge: HullEdge, p: Point2): Millimetre => edge.n.x * p.x + edge.n.y * p.y + edge.c

/** Smallest distance inside all edges (McGhee & Frank 1968), mm; negative where the robot does not stand. */
export const margin = (edges: readonly HullEdge[], p: Point2): Millimetre =>
  edges.reduce((least, e) => Math.min(least, inside(e, p)), Number.POSITIVE_INFINITY)

/** Whether it tips with such a margin; less is an error of arithmetic. */
export const tipsBy = (away: Millimetre): boolean => away < -SAME

/** The largest that `margin` is anywhere, mm: the radius of the largest circle inside. `edges` not empty. */
export function inradius(edges: readonly HullEdge[]): Millimetre {
  const span = (pick: (p: Point2) => number): [number, number] => {
    const all = edges.map((e) => pick(e.from))
    return [Math.min(...all), Math.max(...all)]
  }
  // the least of distances is concave, so thirds close in on its top
  const top = ([lo, hi]: [number, number], f: (t: number) => number): number => {
    let [a, b] = [lo, hi]
    for (let i = 0; i < 80; i++) {
      const third = (b - a) / 3
      if (f(a + third) < f(b - third)) a += third
      else b -= third
    }
    return f((a + b) / 2)
  }
  const ys = span((p) => p.y)
  return top(
    span((p) => p.x),
    (x) => top(ys, (y) => margin(edges, { x, y })),
  )
}

export const DIRECTIONS = {
  forward: { x: 0, y: 1 },
  back: { x: 0, y: -1 },
  left: { x: -1, y: 0 },
  right: { x: 1, y: 0 },
} as const
export type Direction = keyof typeof DIRECTIONS

const degrees = (rad: number): Degree => (rad * 180) / Math.PI

/** mm that the vertical may move towards `u` (length 1) before it passes an edge; negative where it is past one already. */
function marginTowards(edges: readonly HullEdge[], p: Point2, u: Point2, spread: Millimetre = 0): Millimetre {
  let least = Number.POSITIVE_INFINITY
  for (const e of edges) {
    const towards = -(e.n.x * u.x + e.n.y * u.y)
    const d = inside(e, p) - spread
    // an edge that runs along u is never reached, unless it is passed already
    if (towards > 1e-12) least = Math.min(least, d / towards)
    else if (d < 0) return d
  }
  return least
}

/** Angle for a margin and the height of the centre of gravity over the ground; 90 where there is no height to tip from. */
export const tipAngle = (away: Millimetre, height: Millimetre): Degree =>
  height <= 0 ? (away < 0 ? -90 : 90) : degrees(Math.atan(away / height))

/** The slope, downhill towards `u`, on which the robot tips; negative: it does not stand on level ground. */
export const tipTowards = (edges: readonly HullEdge[], g: Gravity, u: Point2): Degree =>
  tipAngle(marginTowards(edges, g.centre, u, g.spread), g.centre.z)

/** The direction in which the least slope tips it, and that slope. */
export function worstTip(edges: readonly HullEdge[], g: Gravity): { angle: Degree; towards: Point2 } | undefined {
  let worst: { angle: Degree; towards: Point2 } | undefined
  for (const e of edges) {
    const angle = tipAngle(inside(e, g.centre) - g.spread, g.centre.z)
    if (!worst || angle < worst.angle) worst = { angle, towards: { x: -e.n.x + 0, y: -e.n.y + 0 } }
  }
  return worst
}

/** Where the vertical through a centre of gravity meets a slope of `angle` degrees, downhill towards `u`: moved by h·tan. */
export function onSlope(centre: Point3, angle: Degree, u: Point2): Point2 {
  const shift = centre.z * Math.tan((angle * Math.PI) / 180)
  return { x: centre.x + u.x * shift, y: centre.y + u.y * shift }
}
