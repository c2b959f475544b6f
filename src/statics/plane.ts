/** Plane geometry in doubles, mm: polygons cut by lines and by each other. */
import { hull, type Point2 } from './tip.ts'

export type Polygon = readonly Point2[]

export type Interval = readonly [number, number]

export const rectangle = (x0: number, y0: number, x1: number, y1: number): Polygon => [
  { x: x0, y: y0 },
  { x: x1, y: y0 },
  { x: x1, y: y1 },
  { x: x0, y: y1 },
]

export const radians = (deg: number): number => (deg * Math.PI) / 180
export const degrees = (rad: number): number => (rad * 180) / Math.PI

/** About the origin, anticlockwise, in radians. */
export function turned(points: Polygon, rad: number): Polygon {
  const c = Math.cos(rad)
  const s = Math.sin(rad)
  return points.map((p) => ({ x: c * p.x - s * p.y, y: s * p.x + c * p.y }))
}

/** The part of a polygon where a·x + b·y ≥ c (Sutherland & Hodgman 1974). */
export function cut(polygon: Polygon, a: number, b: number, c: number): Polygon {
  // most lines pass by: then nothing is made anew
  let passed = true
  for (const p of polygon) if (a * p.x + b * p.y - c < 0) passed = false
  if (passed) return polygon
  const out: Point2[] = []
  for (const [i, p] of polygon.entries()) {
    const q = polygon[(i + 1) % polygon.length]!
    const dp = a * p.x + b * p.y - c
    const dq = a * q.x + b * q.y - c
    if (dp >= 0) out.push(p)
    if ((dp > 0 && dq < 0) || (dp < 0 && dq > 0)) {
      const t = dp / (dp - dq)
      out.push({ x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y) })
    }
  }
  return out
}

/** The part of any simple polygon inside a convex one that runs anticlockwise. */
export function cutTo(polygon: Polygon, convex: Polygon): Polygon {
  let left = polygon
  for (const [i, p] of convex.entries()) {
    if (left.length === 0) return left
    const q = convex[(i + 1) % convex.length]!
    const a = p.y - q.y
    const b = q.x - p.x
    left = cut(left, a, b, a * p.x + b * p.y)
  }
  return left
}

/** Positive for either direction. */
export function areaOf(polygon: Polygon): number {
  let twice = 0
  for (const [i, p] of polygon.entries()) {
    const q = polygon[(i + 1) % polygon.length]!
    twice += p.x * q.y - q.x * p.y
  }
  return Math.abs(twice) / 2
}

export const convexOf = (points: readonly Point2[]): Polygon => hull(points)

/** Overlapping or touching intervals joined, in order. */
export function joined(intervals: readonly Interval[]): Interval[] {
  const out: [number, number][] = []
  for (const [lo, hi] of [...intervals].sort((a, b) => a[0] - b[0])) {
    const last = out[out.length - 1]
    if (last && lo <= last[1] + 1e-9) last[1] = Math.max(last[1], hi)
    else out.push([lo, hi])
  }
  return out
}

/** What is left of a range; a range of one point is left whole or not at all. */
export function without(range: Interval, taken: readonly Interval[]): Interval[] {
  if (range[0] === range[1]) return taken.some(([lo, hi]) => lo <= range[0] && hi >= range[0]) ? [] : [range]
  const out: Interval[] = []
  let at = range[0]
  for (const [lo, hi] of joined(taken)) {
    if (lo > at) out.push([at, Math.min(lo, range[1])])
    at = Math.max(at, hi)
  }
  if (at < range[1]) out.push([at, range[1]])
  return out
}
