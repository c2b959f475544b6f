/**
 * A convex polygon that turns about the origin, and a polygon that stands: at which angles do they overlap? Exact: between
 * two angles at which a corner of one lies on an edge of the other nothing changes, so that one look in each gap will do.
 */
import { areaOf, cut, cutTo, degrees, type Interval, joined, type Polygon, radians, turned } from './plane.ts'
import type { Point2 } from './tip.ts'

/** mm²; less counts as touching. */
const TOUCH = 1e-6

/** Angles from +x at which the circle of radius r about the origin crosses an edge. */
function crossings(p: Point2, q: Point2, r: number): number[] {
  const dx = q.x - p.x
  const dy = q.y - p.y
  const a = dx * dx + dy * dy
  const b = p.x * dx + p.y * dy
  const c = p.x * p.x + p.y * p.y - r * r
  const d = b * b - a * c
  if (a === 0 || d < 0) return []
  const root = Math.sqrt(d)
  return [(-b - root) / a, (-b + root) / a]
    .filter((t) => t >= -1e-9 && t <= 1 + 1e-9)
    .map((t) => Math.atan2(p.y + t * dy, p.x + t * dx))
}

function contacts(moving: Polygon, still: Polygon): number[] {
  const angles: number[] = []
  for (const v of moving) {
    const own = Math.atan2(v.y, v.x)
    const r = Math.hypot(v.x, v.y)
    for (const [i, p] of still.entries()) {
      for (const at of crossings(p, still[(i + 1) % still.length]!, r)) angles.push(at - own)
    }
  }
  return angles
}

const overlapAt = (moving: Polygon, still: Polygon, deg: number): boolean =>
  areaOf(cutTo(still, turned(moving, radians(deg)))) > TOUCH

const heldAt = (moving: Polygon, still: Polygon, deg: number): boolean =>
  areaOf(cutTo(still, turned(moving, radians(deg)))) >= areaOf(moving) - TOUCH

/** Nearest and farthest distance of a polygon's boundary and inside from the origin. */
export function distances(polygon: Polygon): Interval {
  let near = Number.POSITIVE_INFINITY
  let far = 0
  let around = 0
  for (const [i, p] of polygon.entries()) {
    const q = polygon[(i + 1) % polygon.length]!
    const dx = q.x - p.x
    const dy = q.y - p.y
    const t = Math.max(0, Math.min(1, -(p.x * dx + p.y * dy) / (dx * dx + dy * dy || 1)))
    near = Math.min(near, Math.hypot(p.x + t * dx, p.y + t * dy))
    far = Math.max(far, Math.hypot(p.x, p.y))
    if (p.y > 0 !== q.y > 0 && p.x - (p.y * dx) / dy > 0) around += dy > 0 ? 1 : -1
  }
  return [around === 0 ? near : 0, far]
}

/** Degrees within `range` at which they overlap, in order. `moving` runs anticlockwise; a range of one angle is one look. */
export const blockedAngles = (moving: Polygon, still: Polygon, range: Interval): Interval[] =>
  anglesWhere(overlapAt, moving, still, range)

/** Degrees at which the one that turns lies wholly inside the other. */
export const heldAngles = (moving: Polygon, still: Polygon, range: Interval): Interval[] =>
  anglesWhere(heldAt, moving, still, range)

function anglesWhere(holds: typeof overlapAt, moving: Polygon, still: Polygon, range: Interval): Interval[] {
  if (moving.length < 3 || still.length < 3) return []
  const [near, far] = distances(moving)
  const [from, to] = distances(still)
  if (from >= far || to <= near) return []
  const [lo, hi] = range
  if (lo === hi) return holds(moving, still, lo) ? [range] : []
  const stops = [lo, hi]
  for (const rad of [...contacts(moving, still), ...contacts(still, moving).map((a) => -a)]) {
    let deg = degrees(rad)
    deg += 360 * Math.ceil((lo - deg) / 360)
    for (; deg < hi; deg += 360) if (deg > lo) stops.push(deg)
  }
  stops.sort((a, b) => a - b)
  const blocked: Interval[] = []
  for (let i = 1; i < stops.length; i++) {
    const [a, b] = [stops[i - 1]!, stops[i]!]
    if (b - a > 1e-9 && holds(moving, still, (a + b) / 2)) blocked.push([a, b])
  }
  return joined(blocked)
}

/**
 * A rectangle (y ahead, z up, axis at the origin) that tilts over `range` degrees: how far it reaches ahead within the
 * heights `band`. For one tilt that is an interval, and it changes steadily with the tilt, so that each run of tilts
 * for which anything is in the band gives one interval. Its ends lie where a corner is at its farthest, or where a corner or an edge's
 * foot (nearest point to the axis) crosses a height of the band.
 */
export function aheadWithin(part: Polygon, range: Interval, band: Interval): Interval[] {
  const marks: Point2[] = [...part]
  for (const [i, p] of part.entries()) {
    const q = part[(i + 1) % part.length]!
    const dx = q.x - p.x
    const dy = q.y - p.y
    const t = -(p.x * dx + p.y * dy) / (dx * dx + dy * dy)
    marks.push({ x: p.x + t * dx, y: p.y + t * dy })
  }
  const [lo, hi] = range
  const stops = [lo, hi]
  const add = (deg: number) => {
    let d = deg + 360 * Math.ceil((lo - deg) / 360)
    for (; d <= hi; d += 360) stops.push(d)
  }
  for (const m of marks) {
    const r = Math.hypot(m.x, m.y)
    const own = degrees(Math.atan2(m.y, m.x))
    add(-own)
    add(180 - own)
    for (const z of band) {
      if (!Number.isFinite(z) || Math.abs(z) > r || r === 0) continue
      const a = degrees(Math.asin(z / r))
      add(a - own)
      add(180 - a - own)
    }
  }
  stops.sort((a, b) => a - b)
  const at = (deg: number): Interval | undefined => {
    const inBand = cut(cut(turned(part, radians(deg)), 0, 1, band[0]), 0, -1, -band[1])
    if (areaOf(inBand) <= TOUCH * TOUCH) return undefined
    const ys = inBand.map((p) => p.x)
    return [Math.min(...ys), Math.max(...ys)]
  }
  if (lo === hi) return [at(lo) ?? []].filter((i): i is Interval => i.length === 2)
  const runs: [number, number][] = []
  let run: [number, number] | undefined
  for (let i = 1; i < stops.length; i++) {
    const [a, b] = [stops[i - 1]!, stops[i]!]
    if (b - a < 1e-9) continue
    const looks = [a + NUDGE * (b - a), (a + b) / 2, b - NUDGE * (b - a)].map(at)
    if (!looks[1]) {
      run = undefined
      continue
    }
    for (const l of looks) {
      if (!l) continue
      if (run) {
        run[0] = Math.min(run[0], l[0])
        run[1] = Math.max(run[1], l[1])
      } else {
        run = [l[0], l[1]]
        runs.push(run)
      }
    }
  }
  return joined(runs)
}

/** Looks are taken this far (of a gap) beside its ends, where rounding cannot empty the band. */
const NUDGE = 1e-7
