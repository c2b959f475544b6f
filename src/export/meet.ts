/** Where lines and arcs meet, and how far a point is from them. Millimetres. */
import type { Segment } from './contour.ts'

export interface Xy {
  readonly x: number
  readonly y: number
}

/** Intersections of the whole line or circle of one segment with that of another. */
function carriersMeet(s: Segment, t: Segment): Xy[] {
  if (!s.arc && !t.arc) {
    const [dx, dy, ex, ey] = [s.b.x - s.a.x, s.b.y - s.a.y, t.b.x - t.a.x, t.b.y - t.a.y]
    const cross = dx * ey - dy * ex
    if (Math.abs(cross) < 1e-12 * Math.hypot(dx, dy) * Math.hypot(ex, ey)) return []
    const k = ((t.a.x - s.a.x) * ey - (t.a.y - s.a.y) * ex) / cross
    return [{ x: s.a.x + k * dx, y: s.a.y + k * dy }]
  }
  if (s.arc && t.arc) return circlesMeet(s.arc, t.arc)
  const [line, arc] = s.arc ? [t, s.arc] : [s, t.arc!]
  return lineMeetsCircle(line, arc)
}

interface Round {
  readonly cx: number
  readonly cy: number
  readonly r: number
}

function lineMeetsCircle(line: Segment, c: Round): Xy[] {
  const d = Math.hypot(line.b.x - line.a.x, line.b.y - line.a.y)
  const [ux, uy] = [(line.b.x - line.a.x) / d, (line.b.y - line.a.y) / d]
  const foot = (c.cx - line.a.x) * ux + (c.cy - line.a.y) * uy
  const off = (c.cx - line.a.x) * uy - (c.cy - line.a.y) * ux
  const square = c.r * c.r - off * off
  // A line that touches may come out a hair's breadth outside.
  if (square < -1e-9 * c.r) return []
  const half = Math.sqrt(Math.max(0, square))
  return [foot - half, foot + half].map((k) => ({ x: line.a.x + k * ux, y: line.a.y + k * uy }))
}

function circlesMeet(p: Round, q: Round): Xy[] {
  const d = Math.hypot(q.cx - p.cx, q.cy - p.cy)
  if (d < 1e-9) return []
  const along = (d * d + p.r * p.r - q.r * q.r) / (2 * d)
  const square = p.r * p.r - along * along
  if (square < -1e-9 * p.r) return []
  const half = Math.sqrt(Math.max(0, square))
  const [ux, uy] = [(q.cx - p.cx) / d, (q.cy - p.cy) / d]
  return [-half, half].map((k) => ({ x: p.cx + along * ux - k * uy, y: p.cy + along * uy + k * ux }))
}

/** The meeting point of two carriers that is nearest to `to`. */
export function meet(s: Segment, t: Segment, to: Xy): Xy | undefined {
  let best: Xy | undefined
  let least = Number.POSITIVE_INFINITY
  for (const p of carriersMeet(s, t)) {
    const d = Math.hypot(p.x - to.x, p.y - to.y)
    if (d < least) {
      least = d
      best = p
    }
  }
  return best
}

/** Whether a point of the carrier lies on the segment itself. */
function within(s: Segment, p: Xy): boolean {
  return distanceTo(s, p) < 1e-9
}

/** Points where two segments cross or touch; of two that lie on one line or circle, none. */
export const meetings = (s: Segment, t: Segment): Xy[] =>
  carriersMeet(s, t).filter((p) => distanceTo(s, p) < 1e-6 && distanceTo(t, p) < 1e-6)

/** Whether two segments share a point. */
export const crossing = (s: Segment, t: Segment): boolean =>
  carriersMeet(s, t).some((p) => within(s, p) && within(t, p))

/** Distance from a point to a segment. */
export function distanceTo(s: Segment, p: Xy): number {
  const ends = Math.min(Math.hypot(p.x - s.a.x, p.y - s.a.y), Math.hypot(p.x - s.b.x, p.y - s.b.y))
  if (!s.arc) {
    const [dx, dy] = [s.b.x - s.a.x, s.b.y - s.a.y]
    const k = ((p.x - s.a.x) * dx + (p.y - s.a.y) * dy) / (dx * dx + dy * dy)
    if (k <= 0 || k >= 1) return ends
    return Math.hypot(p.x - s.a.x - k * dx, p.y - s.a.y - k * dy)
  }
  const { cx, cy, r, sweep } = s.arc
  const turned = Math.atan2(p.y - cy, p.x - cx) - Math.atan2(s.a.y - cy, s.a.x - cx)
  const way = Math.sign(sweep)
  const forward = (((turned * way) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI)
  if (forward > Math.abs(sweep)) return ends
  return Math.abs(Math.hypot(p.x - cx, p.y - cy) - r)
}
