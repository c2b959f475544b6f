/**
 * Is a closed contour of straight and circular segments simple? Every pair of segments is met exactly once:
 * neighbours may share their common corner, others nothing. Plain analytic geometry in doubles on whole micrometres.
 */
export interface Vertex {
  readonly x: number
  readonly y: number
  readonly bulge: number
}

interface Segment {
  readonly a: Vertex
  readonly b: Vertex
  /** Set for an arc: centre, radius, start angle and signed sweep (radians). */
  readonly arc?: {
    readonly x: number
    readonly y: number
    readonly r: number
    readonly from: number
    readonly sweep: number
  }
  readonly box: readonly [number, number, number, number]
}

/** Corners nearer than this (µm) are one point: a rounded bulge puts an arc's end that far off. */
const NEAR = 0.5

/** Pairs that one read may compare; past it a polygon goes unchecked, and its reader says so. */
export interface Budget {
  pairs: number
}

export type Simple =
  | { readonly kind: 'simple' }
  | { readonly kind: 'crosses'; readonly edges: readonly [number, number] }
  | { readonly kind: 'point-twice'; readonly vertex: number }
  | { readonly kind: 'unchecked' }

/** `points` in µm; `bulge` as in the contract (§1). Edge i starts at point i. */
export function simple(points: readonly Vertex[], budget: Budget): Simple {
  const n = points.length
  const segments: Segment[] = []
  for (let i = 0; i < n; i++) {
    const a = points[i]!
    const b = points[(i + 1) % n]!
    if (Math.hypot(a.x - b.x, a.y - b.y) < NEAR) return { kind: 'point-twice', vertex: (i + 1) % n }
    segments.push(segment(a, b))
  }
  const order = segments.map((_, i) => i).sort((i, j) => segments[i]!.box[0] - segments[j]!.box[0])
  for (let k = 0; k < n; k++) {
    const i = order[k]!
    const s = segments[i]!
    for (let m = k + 1; m < n; m++) {
      const j = order[m]!
      const t = segments[j]!
      if (t.box[0] > s.box[2] + NEAR) break
      if (--budget.pairs < 0) return { kind: 'unchecked' }
      if (t.box[1] > s.box[3] + NEAR || s.box[1] > t.box[3] + NEAR) continue
      const shared: Vertex[] = []
      if ((i + 1) % n === j) shared.push(t.a)
      if ((j + 1) % n === i) shared.push(s.a)
      if (meets(s, t, shared)) return { kind: 'crosses', edges: [Math.min(i, j), Math.max(i, j)] }
    }
  }
  return { kind: 'simple' }
}

/** The points that two segments, each from its first vertex to its second, have in common; of a stretch its ends and middles. */
export function meetings(a: Vertex, b: Vertex, c: Vertex, d: Vertex): P[] {
  const [s, t] = [segment(a, b), segment(c, d)]
  return common(s, t).filter((p) => holds(s, p) && holds(t, p))
}

function segment(a: Vertex, b: Vertex): Segment {
  if (a.bulge === 0) {
    return { a, b, box: [Math.min(a.x, b.x), Math.min(a.y, b.y), Math.max(a.x, b.x), Math.max(a.y, b.y)] }
  }
  // Bulge = tan(sweep/4); centre from the chord's middle, (1 − bulge²)/(4·bulge) chords to its left.
  const k = (1 - a.bulge * a.bulge) / (4 * a.bulge)
  const x = (a.x + b.x) / 2 - k * (b.y - a.y)
  const y = (a.y + b.y) / 2 + k * (b.x - a.x)
  const r = Math.hypot(a.x - x, a.y - y)
  const arc = { x, y, r, from: Math.atan2(a.y - y, a.x - x), sweep: 4 * Math.atan(a.bulge) }
  const box: [number, number, number, number] = [
    Math.min(a.x, b.x),
    Math.min(a.y, b.y),
    Math.max(a.x, b.x),
    Math.max(a.y, b.y),
  ]
  const s: Segment = { a, b, arc, box }
  if (holds(s, { x: x - r, y })) box[0] = x - r
  if (holds(s, { x, y: y - r })) box[1] = y - r
  if (holds(s, { x: x + r, y })) box[2] = x + r
  if (holds(s, { x, y: y + r })) box[3] = y + r
  return s
}

interface P {
  readonly x: number
  readonly y: number
}

/** Does `p`, known to lie on the segment's line or circle, lie on the segment itself, its ends included? */
function holds(s: Segment, p: P): boolean {
  if (Math.hypot(p.x - s.a.x, p.y - s.a.y) < NEAR || Math.hypot(p.x - s.b.x, p.y - s.b.y) < NEAR) return true
  if (s.arc === undefined) {
    const dx = s.b.x - s.a.x
    const dy = s.b.y - s.a.y
    const t = (p.x - s.a.x) * dx + (p.y - s.a.y) * dy
    return t >= 0 && t <= dx * dx + dy * dy
  }
  const turn = 2 * Math.PI
  const along = (Math.atan2(p.y - s.arc.y, p.x - s.arc.x) - s.arc.from) * Math.sign(s.arc.sweep)
  return ((along % turn) + turn) % turn <= Math.abs(s.arc.sweep)
}

function meets(s: Segment, t: Segment, shared: readonly P[]): boolean {
  const own = (p: P) => shared.some((c) => Math.hypot(c.x - p.x, c.y - p.y) < 2 * NEAR)
  return common(s, t).some((p) => !own(p) && holds(s, p) && holds(t, p))
}

/** The points that the two lines or circles share; of two that lie on each other, the ends and middles. */
function common(s: Segment, t: Segment): P[] {
  if (s.arc === undefined && t.arc === undefined) {
    const [ax, ay] = [s.b.x - s.a.x, s.b.y - s.a.y]
    const [bx, by] = [t.b.x - t.a.x, t.b.y - t.a.y]
    const cross = ax * by - ay * bx
    const off = (t.a.x - s.a.x) * ay - (t.a.y - s.a.y) * ax
    if (cross === 0) return off === 0 ? [s.a, s.b, t.a, t.b] : []
    const u = ((t.a.x - s.a.x) * by - (t.a.y - s.a.y) * bx) / cross
    return [{ x: s.a.x + u * ax, y: s.a.y + u * ay }]
  }
  if (s.arc === undefined) return common(t, s)
  const c = s.arc
  if (t.arc === undefined) {
    const dx = t.b.x - t.a.x
    const dy = t.b.y - t.a.y
    const l = Math.hypot(dx, dy)
    const along = ((c.x - t.a.x) * dx + (c.y - t.a.y) * dy) / l
    const away = Math.abs((c.x - t.a.x) * dy - (c.y - t.a.y) * dx) / l
    if (away > c.r) return []
    const half = Math.sqrt(c.r * c.r - away * away)
    return [along - half, along + half].map((k) => ({ x: t.a.x + (k * dx) / l, y: t.a.y + (k * dy) / l }))
  }
  const d = t.arc
  const apart = Math.hypot(d.x - c.x, d.y - c.y)
  if (apart < NEAR) return Math.abs(c.r - d.r) < NEAR ? [s.a, s.b, t.a, t.b, middle(s), middle(t)] : []
  const along = (apart * apart + c.r * c.r - d.r * d.r) / (2 * apart)
  if (Math.abs(along) > c.r) return []
  const half = Math.sqrt(c.r * c.r - along * along)
  const [ux, uy] = [(d.x - c.x) / apart, (d.y - c.y) / apart]
  return [-half, half].map((k) => ({ x: c.x + along * ux - k * uy, y: c.y + along * uy + k * ux }))
}

function middle(s: Segment): P {
  const { x, y, r, from, sweep } = s.arc!
  return { x: x + r * Math.cos(from + sweep / 2), y: y + r * Math.sin(from + sweep / 2) }
}
