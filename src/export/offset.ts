/**
 * Moves a contour sideways by half a kerf, exactly: lines stay lines, arcs stay arcs about the same centre. Corners that
 * open are mitred between lines and rounded elsewhere; corners that close are cut where the moved neighbours meet.
 * A contour that the move would close up, or make cross itself, is refused instead of drawn wrong: where a notch or a neck
 * is narrower than the beam no line can cut it, and a part that quietly lacks it would be found out at the bench.
 */
import {
  along,
  boxOf,
  type Contour,
  circle,
  path,
  reversed,
  type Segment,
  segmentsOf,
  signedArea,
  type Vertex,
} from './contour.ts'
import { crossing, distanceTo, meet, type Xy } from './meet.ts'
import { lengthOf, near } from './near.ts'
import { refused } from './words.ts'

const EPS = 1e-6
/** A mitre longer than this many distances is rounded instead. */
const MITRE = 4
/** Less than this short of half a turn is a cusp, radians: coordinates are rounded to a micrometre. */
const CUSP = 0.003

/** Thrown when a contour has no room for the offset; `message` says so in one sentence. */
export class OffsetError extends Error {}

/** The contour at distance `by` (mm), outwards when positive. Throws OffsetError where nothing sound is left. */
export function offset(contour: Contour, by: number): Contour {
  if (by === 0) return contour
  if (contour.kind === 'circle') {
    if (contour.r + by <= EPS) throw tooWide(by, { x: contour.cx, y: contour.cy })
    return circle(contour.cx, contour.cy, contour.r + by)
  }
  const points = signedArea(contour.points) < 0 ? reversed(contour.points) : contour.points
  const original = segmentsOf(points)
  let kept = original.filter((s) => movedRadius(s, by) > EPS)
  const middle = middleOf(contour)
  for (;;) {
    if (kept.length < 2) throw tooWide(by, middle)
    const joined = join(kept, by)
    // Segments that the corners have eaten up run backwards now: leave out the worst of each place and join again.
    const out = worstOf(joined.left)
    if (out.size === 0) {
      const moved = path(joined.points)
      verify(original, moved.points, by, middle)
      return moved
    }
    kept = kept.filter((_, i) => !out.has(i))
  }
}

/** Of the lengths below nothing the least, and the next ones that are not near to one already taken. */
function worstOf(left: readonly number[]): Set<number> {
  const n = left.length
  const out = new Set<number>()
  const eaten = left.map((_, i) => i).filter((i) => left[i]! < -EPS)
  for (const i of eaten.sort((a, b) => left[a]! - left[b]!)) {
    if (![-2, -1, 1, 2].some((k) => out.has((i + k + n) % n))) out.add(i)
  }
  return out
}

const middleOf = (contour: Contour): Xy => {
  const box = boxOf(contour)
  return { x: (box.x0 + box.x1) / 2, y: (box.y0 + box.y1) / 2 }
}

const tooWide = (by: number, at: Xy): OffsetError => new OffsetError(refused.closesUp(at.x, at.y, Math.abs(by)))

/** Radius after the move; lines count as infinite. Walked anticlockwise, outside is on the right. */
const movedRadius = (s: Segment, by: number): number =>
  s.arc ? s.arc.r + by * Math.sign(s.arc.sweep) : Number.POSITIVE_INFINITY

/** Unit direction of travel at the start or the end. */
function heading(s: Segment, end: 'a' | 'b'): Xy {
  if (!s.arc) {
    const d = Math.hypot(s.b.x - s.a.x, s.b.y - s.a.y)
    return { x: (s.b.x - s.a.x) / d, y: (s.b.y - s.a.y) / d }
  }
  const way = Math.sign(s.arc.sweep)
  return { x: (-way * (s[end].y - s.arc.cy)) / s.arc.r, y: (way * (s[end].x - s.arc.cx)) / s.arc.r }
}

/**
 * Turn from the end of one segment into the start of the next, radians, anticlockwise positive. At a cusp, where the way goes straight back
 * (a rounded opening that touches the plate's edge leaves one), rounding would decide between left and right; the middles of both do.
 */
function turnAt(s: Segment, t: Segment): number {
  const [hs, ht] = [heading(s, 'b'), heading(t, 'a')]
  const turn = Math.atan2(hs.x * ht.y - hs.y * ht.x, hs.x * ht.x + hs.y * ht.y)
  if (Math.abs(turn) < Math.PI - CUSP) return turn
  const [p, q, v] = [along(s, 0.5), along(t, 0.5), s.b]
  const left = (v.x - p.x) * (q.y - v.y) - (v.y - p.y) * (q.x - v.x) > 0
  return left ? Math.PI : -Math.PI
}

const shifted = (s: Segment, end: 'a' | 'b', by: number): Xy => {
  const h = heading(s, end)
  return { x: s[end].x + h.y * by, y: s[end].y - h.x * by }
}

interface Joined {
  readonly points: Vertex[]
  /** Length that each segment has left, below nothing where its ends have passed one another. */
  readonly left: number[]
}

/** Moves every segment and joins the neighbours. */
function join(kept: readonly Segment[], by: number): Joined {
  const n = kept.length
  const moved = kept.map((s) => movedSegment(s, by))
  // Per joint i (between segment i and i+1): where i ends, where i+1 starts, and a vertex that rounds the way between.
  const ends: Xy[] = []
  const starts: Xy[] = []
  const round: number[] = []
  for (let i = 0; i < n; i++) {
    const s = kept[i]!
    const t = kept[(i + 1) % n]!
    const m = moved[i]!
    const next = moved[(i + 1) % n]!
    const gap = Math.hypot(next.a.x - m.b.x, next.a.y - m.b.y)
    let end: Xy = m.b
    let start: Xy = next.a
    let bulge = 0
    if (gap > EPS) {
      const touching = Math.hypot(t.a.x - s.b.x, t.a.y - s.b.y) < EPS
      const turn = turnAt(s, t)
      const opens = touching && turn * by > 0
      const mitred = !s.arc && !t.arc && 1 / Math.cos(turn / 2) <= MITRE
      if (opens && !mitred) {
        bulge = Math.tan(turn / 4)
      } else {
        const at = meet(m, next, touching ? s.b : { x: (m.b.x + next.a.x) / 2, y: (m.b.y + next.a.y) / 2 })
        if (!at) throw tooWide(by, s.b)
        end = at
        start = at
      }
    }
    ends.push(end)
    starts.push(start)
    round.push(bulge)
  }
  const points: Vertex[] = []
  const left: number[] = []
  for (let i = 0; i < n; i++) {
    const m = moved[i]!
    const start = starts[(i + n - 1) % n]!
    const end = ends[i]!
    left.push(remaining(m, start, end))
    points.push({ ...start, bulge: m.arc ? bulgeBetween(m, start, end) : 0 })
    if (round[i]! !== 0) points.push({ ...end, bulge: round[i]! })
  }
  return { points, left }
}

function movedSegment(s: Segment, by: number): Segment {
  const a = { ...shifted(s, 'a', by), bulge: s.a.bulge }
  const b = { ...shifted(s, 'b', by), bulge: 0 }
  if (!s.arc) return { a, b }
  return { a, b, arc: { ...s.arc, r: movedRadius(s, by) } }
}

/** Length of a moved segment between its new ends, negative when they have passed one another. */
function remaining(m: Segment, start: Xy, end: Xy): number {
  if (!m.arc) {
    const h = heading(m, 'a')
    return (end.x - start.x) * h.x + (end.y - start.y) * h.y
  }
  const way = Math.sign(m.arc.sweep)
  return m.arc.r * way * sweepBetween(m, start, end)
}

/** Signed sweep from `start` to `end` along the arc, the turn that is nearest to what the arc had. */
function sweepBetween(m: Segment, start: Xy, end: Xy): number {
  const arc = m.arc!
  const raw = Math.atan2(end.y - arc.cy, end.x - arc.cx) - Math.atan2(start.y - arc.cy, start.x - arc.cx)
  return raw + 2 * Math.PI * Math.round((arc.sweep - raw) / (2 * Math.PI))
}

const bulgeBetween = (m: Segment, start: Xy, end: Xy): number => Math.tan(sweepBetween(m, start, end) / 4)

/**
 * The result must keep its distance from the whole original, not go farther than a mitre may, and not cross itself:
 * these together are what an offset is, whatever way it was made.
 */
function verify(original: readonly Segment[], points: readonly Vertex[], by: number, middle: Xy): void {
  if (points.length < 2) throw tooWide(by, middle)
  const area = signedArea(points)
  const before = signedArea(original.map((s) => s.a))
  if (area <= EPS || (area - before) * by <= 0) throw tooWide(by, middle)
  const segments = segmentsOf(points)
  const d = Math.abs(by)
  const there = near(original, d / 4)
  const least = (p: Xy, reach: number): number =>
    there.around(p, reach).reduce((best, i) => Math.min(best, distanceTo(original[i]!, p)), Number.POSITIVE_INFINITY)
  for (const s of segments) {
    const samples = Math.max(1, Math.min(8, Math.ceil((8 * lengthOf(s)) / d)))
    for (let k = 0; k < samples; k++) {
      const p = along(s, k / samples)
      let from = least(p, d * 1.01)
      if (from > d * 1.01) from = least(p, d * MITRE + 1e-5)
      if (from < d - 1e-5 || from > d * MITRE + 1e-5) throw tooWide(by, p)
    }
  }
  const last = segments.length - 1
  near(segments, d / 4).pairs((i, k) => {
    if (k - i < 2 || (i === 0 && k === last)) return
    if (crossing(segments[i]!, segments[k]!)) throw tooWide(by, segments[i]!.a)
  })
}
