/**
 * The oracle's own plane geometry, in doubles of micrometres. It shares nothing with solver/shapes.ts: every shape is a closed
 * chain of straight and round pieces plus a test for points, and all rules are asked of distances to that chain.
 * An intrusion of up to 0.001 µm counts as touching (solver/README.md, reading 1).
 */
import type { Shape } from '../../../solver/problem.ts'

export const TOL = 0.001
const DEG = Math.PI / 180

export interface Box {
  readonly x: number
  readonly y: number
  readonly w: number
  readonly h: number
}

type Piece =
  | { readonly kind: 'line'; readonly ax: number; readonly ay: number; readonly bx: number; readonly by: number }
  | {
      readonly kind: 'arc'
      readonly cx: number
      readonly cy: number
      readonly r: number
      readonly from: number
      readonly sweep: number
    }

export interface Region {
  readonly pieces: readonly Piece[]
  /** Points well away from the border only: on it either answer may come. */
  readonly holds: (x: number, y: number) => boolean
  readonly box: Box
}

const TAU = 2 * Math.PI
const turnOf = (a: number): number => ((a % TAU) + TAU) % TAU
/** Is the direction within the arc, both ends included? */
const inArc = (p: { from: number; sweep: number }, angle: number): boolean => {
  const d = turnOf(angle - p.from)
  return d <= p.sweep + 1e-12 || d >= TAU - 1e-12
}

const line = (ax: number, ay: number, bx: number, by: number): Piece => ({ kind: 'line', ax, ay, bx, by })
const arc = (cx: number, cy: number, r: number, from: number, sweep: number): Piece => ({
  kind: 'arc',
  cx,
  cy,
  r,
  from,
  sweep,
})
const along = (p: Piece, t: number): [number, number] =>
  p.kind === 'line'
    ? [p.ax + t * (p.bx - p.ax), p.ay + t * (p.by - p.ay)]
    : [p.cx + p.r * Math.cos(p.from + t * p.sweep), p.cy + p.r * Math.sin(p.from + t * p.sweep)]

function boxOf(pieces: readonly Piece[]): Box {
  const xs: number[] = []
  const ys: number[] = []
  for (const p of pieces) {
    for (const t of [0, 1]) {
      const [x, y] = along(p, t)
      xs.push(x)
      ys.push(y)
    }
    if (p.kind !== 'arc') continue
    for (let k = 0; k < 4; k++) {
      if (!inArc(p, (k * Math.PI) / 2)) continue
      xs.push(p.cx + [1, 0, -1, 0][k]! * p.r)
      ys.push(p.cy + [0, 1, 0, -1][k]! * p.r)
    }
  }
  const x = Math.min(...xs)
  const y = Math.min(...ys)
  return { x, y, w: Math.max(...xs) - x, h: Math.max(...ys) - y }
}

/** A rectangle as a region; `r` rounds its corners. */
function rectRegion(b: Box, r = 0): Region {
  const { x, y } = b
  const X = x + b.w
  const Y = y + b.h
  const q = Math.PI / 2
  const straight = [
    line(x + r, y, X - r, y),
    line(X, y + r, X, Y - r),
    line(X - r, Y, x + r, Y),
    line(x, Y - r, x, y + r),
  ]
  const round =
    r > 0
      ? [
          arc(X - r, y + r, r, -q, q),
          arc(X - r, Y - r, r, 0, q),
          arc(x + r, Y - r, r, q, q),
          arc(x + r, y + r, r, 2 * q, q),
        ]
      : []
  const holds = (px: number, py: number): boolean => {
    if (px < x || px > X || py < y || py > Y) return false
    const dx = Math.max(x + r - px, px - (X - r), 0)
    const dy = Math.max(y + r - py, py - (Y - r), 0)
    return dx === 0 || dy === 0 || dx * dx + dy * dy <= r * r
  }
  return { pieces: [...straight, ...round], holds, box: b }
}

export const circleRegion = (cx: number, cy: number, r: number): Region => ({
  pieces: [arc(cx, cy, r, 0, TAU)],
  holds: (x, y) => (x - cx) ** 2 + (y - cy) ** 2 <= r * r,
  box: { x: cx - r, y: cy - r, w: 2 * r, h: 2 * r },
})

/** Degrees anticlockwise from +x; a range of a full turn or more is a circle. */
export function sectorRegion(cx: number, cy: number, r: number, from: number, to: number): Region {
  if (to - from >= 360) return circleRegion(cx, cy, r)
  const sweep = turnOf((to - from) * DEG)
  const a = arc(cx, cy, r, from * DEG, sweep)
  const [sx, sy] = along(a, 0)
  const [ex, ey] = along(a, 1)
  const pieces = [line(cx, cy, sx, sy), a, line(ex, ey, cx, cy)]
  const holds = (x: number, y: number): boolean =>
    (x - cx) ** 2 + (y - cy) ** 2 <= r * r && turnOf(Math.atan2(y - cy, x - cx) - from * DEG) <= sweep
  return { pieces, holds, box: boxOf(pieces) }
}

/** A polygon whose segments may be arcs: a point is inside when it lies in an odd number of {chord polygon, circular segments}. */
function polygonRegion(points: readonly { x: number; y: number; bulge: number }[]): Region {
  const pieces: Piece[] = []
  const segments: ((x: number, y: number) => boolean)[] = []
  points.forEach((p, i) => {
    const q = points[(i + 1) % points.length]!
    if (p.bulge === 0) {
      pieces.push(line(p.x, p.y, q.x, q.y))
      return
    }
    // DXF: bulge = tan(sweep / 4), positive = the arc runs anticlockwise from p to q.
    const chord = Math.hypot(q.x - p.x, q.y - p.y)
    const sweep = 4 * Math.atan(p.bulge)
    const r = chord / 2 / Math.abs(Math.sin(sweep / 2))
    // Centre: from the chord's middle along its left normal, by chord/2 · cot(sweep/2).
    const off = chord / 2 / Math.tan(sweep / 2)
    const cx = (p.x + q.x) / 2 - (off * (q.y - p.y)) / chord
    const cy = (p.y + q.y) / 2 + (off * (q.x - p.x)) / chord
    const a = Math.atan2(p.y - cy, p.x - cx)
    pieces.push(sweep > 0 ? arc(cx, cy, r, a, sweep) : arc(cx, cy, r, a + sweep, -sweep))
    const right = sweep > 0
    segments.push((x, y) => {
      const side = (q.x - p.x) * (y - p.y) - (q.y - p.y) * (x - p.x)
      return (x - cx) ** 2 + (y - cy) ** 2 <= r * r && (right ? side < 0 : side > 0)
    })
  })
  // A chord under an arc is no border, and no point may be taken to lie on it: both tests would miss it.
  const holds = (px: number, py: number): boolean => {
    const x = px + 3.1e-4
    const y = py + 1.7e-4
    let odd = false
    points.forEach((p, i) => {
      const q = points[(i + 1) % points.length]!
      if (p.y > y !== q.y > y && x < p.x + ((y - p.y) / (q.y - p.y)) * (q.x - p.x)) odd = !odd
    })
    for (const s of segments) if (s(x, y)) odd = !odd
    return odd
  }
  return { pieces, holds, box: boxOf(pieces) }
}

export function region(s: Shape): Region {
  switch (s.kind) {
    case 'rect':
      return rectRegion({ x: s.x, y: s.y, w: s.w, h: s.h }, s.radius)
    case 'circle':
      return circleRegion(s.cx, s.cy, s.r)
    case 'sector':
      return sectorRegion(s.cx, s.cy, s.r, s.from, s.to)
    case 'polygon':
      return polygonRegion(s.points)
  }
}

const clamp = (v: number, lo: number, hi: number): number => Math.min(Math.max(v, lo), hi)
const pointToBox = (b: Box, x: number, y: number): number =>
  Math.hypot(x - clamp(x, b.x, b.x + b.w), y - clamp(y, b.y, b.y + b.h))
const pointToLine = (p: Piece & { kind: 'line' }, x: number, y: number): number => {
  const dx = p.bx - p.ax
  const dy = p.by - p.ay
  const len = dx * dx + dy * dy
  const t = len === 0 ? 0 : clamp(((x - p.ax) * dx + (y - p.ay) * dy) / len, 0, 1)
  return Math.hypot(x - p.ax - t * dx, y - p.ay - t * dy)
}
const pointToPiece = (p: Piece, x: number, y: number): number => {
  if (p.kind === 'line') return pointToLine(p, x, y)
  if (inArc(p, Math.atan2(y - p.cy, x - p.cx))) return Math.abs(Math.hypot(x - p.cx, y - p.cy) - p.r)
  const [ax, ay] = along(p, 0)
  const [bx, by] = along(p, 1)
  return Math.min(Math.hypot(x - ax, y - ay), Math.hypot(x - bx, y - by))
}

const cornersOf = (b: Box): [number, number][] => [
  [b.x, b.y],
  [b.x + b.w, b.y],
  [b.x + b.w, b.y + b.h],
  [b.x, b.y + b.h],
]

/** Does the segment meet the closed box? (Liang & Barsky 1984, ACM Trans. Graph. 3(1).) */
function lineMeetsBox(p: Piece & { kind: 'line' }, b: Box): boolean {
  let lo = 0
  let hi = 1
  for (const [a, d, min, max] of [
    [p.ax, p.bx - p.ax, b.x, b.x + b.w],
    [p.ay, p.by - p.ay, b.y, b.y + b.h],
  ] as const) {
    if (d === 0) {
      if (a < min || a > max) return false
      continue
    }
    lo = Math.max(lo, Math.min((min - a) / d, (max - a) / d))
    hi = Math.min(hi, Math.max((min - a) / d, (max - a) / d))
  }
  return lo <= hi
}

function boxToPiece(b: Box, p: Piece): number {
  const corners = cornersOf(b)
  if (p.kind === 'line') {
    if (lineMeetsBox(p, b)) return 0
    return Math.min(
      pointToBox(b, p.ax, p.ay),
      pointToBox(b, p.bx, p.by),
      ...corners.map(([x, y]) => pointToLine(p, x, y)),
    )
  }
  let best = Math.min(pointToBox(b, ...along(p, 0)), pointToBox(b, ...along(p, 1)))
  for (const [x, y] of corners) best = Math.min(best, pointToPiece(p, x, y))
  corners.forEach(([ax, ay], i) => {
    const [bx, by] = corners[(i + 1) % 4]!
    // Where the edge crosses the circle, and where it comes nearest to its centre.
    if (ax === bx) {
      best = Math.min(best, axisToArc(p.cx, p.cy, p, ax, Math.min(ay, by), Math.max(ay, by), true))
    } else {
      best = Math.min(best, axisToArc(p.cy, p.cx, p, ay, Math.min(ax, bx), Math.max(ax, bx), false))
    }
  })
  return best
}

/** An axis-parallel edge at `at`, from `lo` to `hi` along the other axis, against an arc; `c` = centre across, `d` = centre along. */
function axisToArc(
  c: number,
  d: number,
  p: Piece & { kind: 'arc' },
  at: number,
  lo: number,
  hi: number,
  upright: boolean,
): number {
  const off = at - c
  const angle = (s: number): number => (upright ? Math.atan2(s, off) : Math.atan2(off, s))
  if (Math.abs(off) <= p.r) {
    const s = Math.sqrt(p.r * p.r - off * off)
    for (const v of [s, -s]) if (d + v >= lo && d + v <= hi && inArc(p, angle(v))) return 0
  }
  if (d < lo || d > hi || off === 0 || !inArc(p, angle(0))) return Number.POSITIVE_INFINITY
  return Math.abs(Math.abs(off) - p.r)
}

export const pointToBorder = (r: Region, x: number, y: number): number =>
  r.pieces.reduce((m, p) => Math.min(m, pointToPiece(p, x, y)), Number.POSITIVE_INFINITY)
export const boxToBorder = (r: Region, b: Box): number =>
  r.pieces.reduce((m, p) => Math.min(m, boxToPiece(b, p)), Number.POSITIVE_INFINITY)

const shrink = (b: Box, by: number): Box => ({ x: b.x + by, y: b.y + by, w: b.w - 2 * by, h: b.h - 2 * by })
const farApart = (a: Box, b: Box, gap: number): boolean =>
  a.x > b.x + b.w + gap || b.x > a.x + a.w + gap || a.y > b.y + b.h + gap || b.y > a.y + a.h + gap

/** The box lies in the region and keeps `clearance` (Euclidean) from its border. */
export function boxInside(r: Region, b: Box, clearance: number): boolean {
  if (clearance > 0 && boxToBorder(r, b) < clearance - TOL) return false
  const s = shrink(b, TOL)
  return boxToBorder(r, s) > 0 && r.holds(b.x + b.w / 2, b.y + b.h / 2)
}

/** Do the interiors of box and region meet? */
export function boxOverlaps(r: Region, b: Box): boolean {
  if (farApart(r.box, b, 0)) return false
  const s = shrink(b, TOL)
  return boxToBorder(r, s) === 0 || r.holds(b.x + b.w / 2, b.y + b.h / 2)
}

/** The box lies outside the region, `clearance` from it. */
export const boxClear = (r: Region, b: Box, clearance: number): boolean =>
  farApart(r.box, b, clearance) || (!boxOverlaps(r, b) && (clearance === 0 || boxToBorder(r, b) >= clearance - TOL))

/** A disc in the region, `web` of solid between its edge and the border. */
export const discInside = (r: Region, x: number, y: number, radius: number, web: number): boolean =>
  r.holds(x, y) && pointToBorder(r, x, y) - radius >= web - TOL

/** A disc outside the region, `web` from it. */
export const discClear = (r: Region, x: number, y: number, radius: number, web: number): boolean =>
  !r.holds(x, y) && pointToBorder(r, x, y) - radius >= web - TOL

/** Axis-parallel boxes: do their interiors meet? Exact. */
export const boxesOverlap = (a: Box, b: Box): boolean =>
  a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h
export const boxDistance = (a: Box, b: Box): number =>
  Math.hypot(Math.max(0, a.x - b.x - b.w, b.x - a.x - a.w), Math.max(0, a.y - b.y - b.h, b.y - a.y - a.h))
export const discToBox = (b: Box, x: number, y: number, radius: number): number => pointToBox(b, x, y) - radius

/** Parameters at which a piece crosses another. */
function crossings(p: Piece, q: Piece): number[] {
  const ts: number[] = []
  if (p.kind === 'line' && q.kind === 'line') {
    const dx = p.bx - p.ax
    const dy = p.by - p.ay
    const ex = q.bx - q.ax
    const ey = q.by - q.ay
    const det = dx * ey - dy * ex
    if (det !== 0) ts.push(((q.ax - p.ax) * ey - (q.ay - p.ay) * ex) / det)
  } else if (p.kind === 'line' && q.kind === 'arc') {
    const dx = p.bx - p.ax
    const dy = p.by - p.ay
    const a = dx * dx + dy * dy
    const b = dx * (p.ax - q.cx) + dy * (p.ay - q.cy)
    const disc = b * b - a * ((p.ax - q.cx) ** 2 + (p.ay - q.cy) ** 2 - q.r * q.r)
    if (disc >= 0) ts.push((-b - Math.sqrt(disc)) / a, (-b + Math.sqrt(disc)) / a)
  } else if (p.kind === 'arc') {
    // Directions from p's centre at which its circle meets q's line or circle.
    const angles: number[] = []
    if (q.kind === 'line') {
      for (const t of crossings(q, { ...p, from: 0, sweep: TAU })) {
        const [x, y] = along(q, t)
        angles.push(Math.atan2(y - p.cy, x - p.cx))
      }
    } else {
      const d = Math.hypot(q.cx - p.cx, q.cy - p.cy)
      const cos = (d * d + p.r * p.r - q.r * q.r) / (2 * d * p.r)
      const base = Math.atan2(q.cy - p.cy, q.cx - p.cx)
      if (d > 0 && Math.abs(cos) <= 1) angles.push(base + Math.acos(cos), base - Math.acos(cos))
    }
    for (const a of angles) ts.push(turnOf(a - p.from) / p.sweep)
  }
  return ts.filter((t) => t > 0 && t < 1)
}

/** Does some stretch of a's border run through the inside of b? Stretches are tried at their middles. */
function borderEnters(a: Region, b: Region): boolean {
  for (const p of a.pieces) {
    const ts = [0, 1, ...b.pieces.flatMap((q) => crossings(p, q))].sort((x, y) => x - y)
    for (let i = 0; i + 1 < ts.length; i++) {
      const [x, y] = along(p, (ts[i]! + ts[i + 1]!) / 2)
      if (b.holds(x, y) && pointToBorder(b, x, y) > TOL) return true
    }
  }
  return false
}

/** A point well inside: the deepest of a lattice over the box. */
function innerPoint(r: Region): [number, number] {
  let best: [number, number] = [r.box.x + r.box.w / 2, r.box.y + r.box.h / 2]
  let depth = -1
  for (let i = 1; i < 24; i++)
    for (let j = 1; j < 24; j++) {
      const x = r.box.x + (r.box.w * i) / 24
      const y = r.box.y + (r.box.h * j) / 24
      if (!r.holds(x, y)) continue
      const d = pointToBorder(r, x, y)
      if (d > depth) {
        depth = d
        best = [x, y]
      }
    }
  return best
}

/** Do the interiors of two regions meet? */
export function regionsOverlap(a: Region, b: Region): boolean {
  if (farApart(a.box, b.box, 0)) return false
  if (borderEnters(a, b) || borderEnters(b, a)) return true
  return b.holds(...innerPoint(a)) || a.holds(...innerPoint(b))
}

/** The same region, moved. */
export function movedRegion(r: Region, dx: number, dy: number): Region {
  const pieces = r.pieces.map(
    (p): Piece =>
      p.kind === 'line'
        ? { ...p, ax: p.ax + dx, ay: p.ay + dy, bx: p.bx + dx, by: p.by + dy }
        : { ...p, cx: p.cx + dx, cy: p.cy + dy },
  )
  return { pieces, holds: (x, y) => r.holds(x - dx, y - dy), box: { ...r.box, x: r.box.x + dx, y: r.box.y + dy } }
}
