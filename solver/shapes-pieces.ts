/**
 * Boundary pieces: straight lines, and arcs cut at quarter turns so that each rises or falls all the way in x and in y.
 * A monotone piece meets a box in one interval, which makes the questions below short, and exact to the doubles' last digits.
 */
import type { Edge } from './shapes-outline.ts'

/** `r` = 0: a line. An arc runs anticlockwise from (x0,y0) to (x1,y1), at most a quarter, in the quadrant (sx,sy) of its centre. */
export interface Piece {
  readonly x0: number
  readonly y0: number
  readonly x1: number
  readonly y1: number
  readonly r: number
  readonly cx: number
  readonly cy: number
  readonly sx: number
  readonly sy: number
  /** Angles of the two ends of an arc, radians, a1 ≥ a0. */
  readonly a0: number
  readonly a1: number
  readonly minX: number
  readonly minY: number
  readonly maxX: number
  readonly maxY: number
}

function make(x0: number, y0: number, x1: number, y1: number, r = 0, cx = 0, cy = 0, a0 = 0, a1 = 0): Piece {
  const mid = (a0 + a1) / 2
  return {
    x0,
    y0,
    x1,
    y1,
    r,
    cx,
    cy,
    sx: Math.cos(mid) < 0 ? -1 : 1,
    sy: Math.sin(mid) < 0 ? -1 : 1,
    a0,
    a1,
    minX: Math.min(x0, x1),
    minY: Math.min(y0, y1),
    maxX: Math.max(x0, x1),
    maxY: Math.max(y0, y1),
  }
}

/** Cuts edges into pieces. Neighbours share their end points bit for bit, so that counting crossings never slips between two. */
export function piecesOf(edges: readonly Edge[]): Piece[] {
  const pieces: Piece[] = []
  for (const e of edges) {
    if (!e.arc) {
      pieces.push(make(e.x0, e.y0, e.x1, e.y1))
      continue
    }
    const { cx, cy, r, sweep } = e.arc
    const back = sweep < 0
    let x = back ? e.x1 : e.x0
    let y = back ? e.y1 : e.y0
    let a = Math.atan2(y - cy, x - cx)
    const end = a + Math.abs(sweep)
    const quarter = Math.PI / 2
    for (let k = Math.floor(a / quarter) + 1; ; k++) {
      const cut = k * quarter
      if (cut >= end - 1e-12) break
      if (cut <= a + 1e-12) continue
      const m = ((k % 4) + 4) % 4
      const nx = m === 0 ? cx + r : m === 2 ? cx - r : cx
      const ny = m === 1 ? cy + r : m === 3 ? cy - r : cy
      pieces.push(make(x, y, nx, ny, r, cx, cy, a, cut))
      x = nx
      y = ny
      a = cut
    }
    pieces.push(make(x, y, back ? e.x0 : e.x1, back ? e.y0 : e.y1, r, cx, cy, a, end))
  }
  return pieces
}

/** y of the piece at `x` within its range (for an upright line its lower end). */
export function yAt(p: Piece, x: number): number {
  if (x === p.x0) return p.y0
  if (x === p.x1) return p.y1
  if (p.r === 0) return p.y0 + ((x - p.x0) / (p.x1 - p.x0)) * (p.y1 - p.y0)
  const d = Math.abs(x - p.cx)
  const y = p.cy + p.sy * Math.sqrt(Math.max(0, (p.r - d) * (p.r + d)))
  return Math.min(p.maxY, Math.max(p.minY, y))
}

/** x of the piece at `y` within its range. */
export function xAt(p: Piece, y: number): number {
  if (y === p.y0) return p.x0
  if (y === p.y1) return p.x1
  if (p.r === 0) return p.x0 + ((y - p.y0) / (p.y1 - p.y0)) * (p.x1 - p.x0)
  const d = Math.abs(y - p.cy)
  const x = p.cx + p.sx * Math.sqrt(Math.max(0, (p.r - d) * (p.r + d)))
  return Math.min(p.maxX, Math.max(p.minX, x))
}

/** Whether a point of the piece lies strictly inside the box. */
export function entersBox(p: Piece, ax: number, ay: number, bx: number, by: number): boolean {
  if (p.maxX <= ax || p.minX >= bx || p.maxY <= ay || p.minY >= by) return false
  if (p.minX === p.maxX || p.minY === p.maxY) return true
  const lo = Math.max(p.minX, ax)
  const hi = Math.min(p.maxX, bx)
  const y0 = yAt(p, lo)
  const y1 = yAt(p, hi)
  const bottom = Math.min(y0, y1)
  const top = Math.max(y0, y1)
  return Math.max(bottom, ay) < Math.min(top, by)
}

/** Distance from a point to the piece. */
export function pointToPiece(p: Piece, x: number, y: number): number {
  if (p.r === 0) {
    const dx = p.x1 - p.x0
    const dy = p.y1 - p.y0
    const t = ((x - p.x0) * dx + (y - p.y0) * dy) / (dx * dx + dy * dy)
    if (t <= 0) return Math.hypot(x - p.x0, y - p.y0)
    if (t >= 1) return Math.hypot(x - p.x1, y - p.y1)
    return Math.abs((x - p.x0) * dy - (y - p.y0) * dx) / Math.sqrt(dx * dx + dy * dy)
  }
  const ux = x - p.cx
  const uy = y - p.cy
  const inCone =
    (p.x0 - p.cx) * uy - (p.y0 - p.cy) * ux >= 0 &&
    ux * (p.y1 - p.cy) - uy * (p.x1 - p.cx) >= 0 &&
    (ux * p.sx >= 0 || uy * p.sy >= 0)
  if (inCone) return Math.abs(Math.hypot(ux, uy) - p.r)
  return Math.min(Math.hypot(x - p.x0, y - p.y0), Math.hypot(x - p.x1, y - p.y1))
}

/** Distance from a point to a closed box. */
function pointToBox(x: number, y: number, ax: number, ay: number, bx: number, by: number): number {
  const dx = x < ax ? ax - x : x > bx ? x - bx : 0
  const dy = y < ay ? ay - y : y > by ? y - by : 0
  return dx === 0 ? dy : dy === 0 ? dx : Math.hypot(dx, dy)
}

/** Distance between a piece and a closed box; 0 where they meet. */
export function boxToPiece(p: Piece, ax: number, ay: number, bx: number, by: number): number {
  if (entersBox(p, ax, ay, bx, by)) return 0
  // a box without width or height has no inside, but is crossed all the same
  if (ax === bx && p.minX < ax && ax < p.maxX) {
    const y = yAt(p, ax)
    if (y >= ay && y <= by) return 0
  }
  if (ay === by && p.minY < ay && ay < p.maxY) {
    const x = xAt(p, ay)
    if (x >= ax && x <= bx) return 0
  }
  let d = Math.min(pointToBox(p.x0, p.y0, ax, ay, bx, by), pointToBox(p.x1, p.y1, ax, ay, bx, by))
  const look = (x: number, y: number) => {
    const e = pointToPiece(p, x, y)
    if (e < d) d = e
  }
  look(ax, ay)
  look(bx, ay)
  look(bx, by)
  look(ax, by)
  if (p.r > 0) {
    // Nearest points inside an edge and inside an arc lie on the edge's normal through the arc's centre.
    if (p.cx > ax && p.cx < bx) {
      look(p.cx, ay)
      look(p.cx, by)
    }
    if (p.cy > ay && p.cy < by) {
      look(ax, p.cy)
      look(bx, p.cy)
    }
  }
  return d
}

/** A lower bound of `boxToPiece`, cheap: the gap between the piece's own box and the box. */
export function boxGap(p: Piece, ax: number, ay: number, bx: number, by: number): number {
  const dx = p.minX > bx ? p.minX - bx : ax > p.maxX ? ax - p.maxX : 0
  const dy = p.minY > by ? p.minY - by : ay > p.maxY ? ay - p.maxY : 0
  return Math.max(dx, dy)
}

/** Point at `t` in 0…1 along the piece. */
export function along(p: Piece, t: number): { readonly x: number; readonly y: number } {
  if (p.r === 0) return { x: p.x0 + t * (p.x1 - p.x0), y: p.y0 + t * (p.y1 - p.y0) }
  const a = p.a0 + t * (p.a1 - p.a0)
  return { x: p.cx + p.r * Math.cos(a), y: p.cy + p.r * Math.sin(a) }
}

/** Where along `p` (strictly inside 0…1, unsorted) it may meet `q`. A superset: extra cuts cost time, never truth. */
export function cuts(p: Piece, q: Piece): number[] {
  const out: number[] = []
  const keep = (x: number, y: number) => {
    const t = parameter(p, x, y)
    if (t > 0 && t < 1) out.push(t)
  }
  keep(q.x0, q.y0)
  keep(q.x1, q.y1)
  if (p.r === 0 && q.r === 0) {
    const den = (p.x1 - p.x0) * (q.y1 - q.y0) - (p.y1 - p.y0) * (q.x1 - q.x0)
    if (den !== 0) {
      const t = ((q.x0 - p.x0) * (q.y1 - q.y0) - (q.y0 - p.y0) * (q.x1 - q.x0)) / den
      if (t > 0 && t < 1) out.push(t)
    }
  } else if (p.r > 0 && q.r > 0) {
    const dx = q.cx - p.cx
    const dy = q.cy - p.cy
    const d = Math.hypot(dx, dy)
    if (d > 0) {
      const m = (d * d + p.r * p.r - q.r * q.r) / (2 * d)
      const h = Math.sqrt(Math.max(0, p.r * p.r - m * m))
      keep(p.cx + (dx * m - dy * h) / d, p.cy + (dy * m + dx * h) / d)
      keep(p.cx + (dx * m + dy * h) / d, p.cy + (dy * m - dx * h) / d)
    }
  } else {
    const line = p.r === 0 ? p : q
    const arc = p.r === 0 ? q : p
    const dx = line.x1 - line.x0
    const dy = line.y1 - line.y0
    const len = Math.hypot(dx, dy)
    const t = ((arc.cx - line.x0) * dx + (arc.cy - line.y0) * dy) / len
    const off = ((arc.cx - line.x0) * dy - (arc.cy - line.y0) * dx) / len
    const h = Math.sqrt(Math.max(0, arc.r * arc.r - off * off))
    for (const s of [t - h, t + h]) keep(line.x0 + (s * dx) / len, line.y0 + (s * dy) / len)
  }
  return out
}

function parameter(p: Piece, x: number, y: number): number {
  if (p.r === 0) {
    const dx = p.x1 - p.x0
    const dy = p.y1 - p.y0
    return ((x - p.x0) * dx + (y - p.y0) * dy) / (dx * dx + dy * dy)
  }
  let a = Math.atan2(y - p.cy, x - p.cx) - p.a0
  const full = 2 * Math.PI
  a = ((a % full) + full) % full
  return a / (p.a1 - p.a0)
}
