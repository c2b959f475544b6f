/**
 * Contours: what a machine follows. Millimetres as doubles, y to the front, because a contour moved by half a kerf has
 * corners between the micrometres.
 */
import type { Rect, Shape } from '../../solver/index.ts'

/** `bulge` = tan(sweep/4) of the segment that starts here, 0 for a straight one (contract §1). */
export interface Vertex {
  readonly x: number
  readonly y: number
  readonly bulge: number
}

/** A closed line, without the first point repeated at its end. */
export interface Path {
  readonly kind: 'path'
  readonly points: readonly Vertex[]
}

export interface Circle {
  readonly kind: 'circle'
  readonly cx: number
  readonly cy: number
  readonly r: number
}

export type Contour = Path | Circle

/** A line with two ends; the last point's bulge says nothing. */
export interface Open {
  readonly kind: 'open'
  readonly points: readonly Vertex[]
}

/** What a machine follows: closed, or open where tabs are left standing. */
export type Line = Contour | Open

/** A box in millimetres. */
export interface Box {
  readonly x0: number
  readonly y0: number
  readonly x1: number
  readonly y1: number
}

/** One segment of a path; an arc also has its centre, radius and sweep (radians, anticlockwise positive). */
export interface Segment {
  readonly a: Vertex
  readonly b: Vertex
  readonly arc?: { readonly cx: number; readonly cy: number; readonly r: number; readonly sweep: number }
}

const quarter = Math.tan(Math.PI / 8)

/** A shape of the file, as the contour around it. Lengths of nothing are left out. */
export function contourOf(shape: Shape): Contour {
  switch (shape.kind) {
    case 'circle':
      return circle(shape.cx / 1000, shape.cy / 1000, shape.r / 1000)
    case 'rect':
      return rectContour(shape, shape.radius)
    case 'polygon':
      return path(shape.points.map((p) => ({ x: p.x / 1000, y: p.y / 1000, bulge: p.bulge })))
    case 'sector': {
      const sweep = shape.to - shape.from
      if (sweep >= 360) return circle(shape.cx / 1000, shape.cy / 1000, shape.r / 1000)
      return sector(shape.cx / 1000, shape.cy / 1000, shape.r / 1000, shape.from, sweep)
    }
  }
}

export const circle = (cx: number, cy: number, r: number): Circle => ({ kind: 'circle', cx, cy, r })

/** A rectangle with rounded corners; `radius` in Um, as much of it as the sides have room for. */
export function rectContour(rect: Rect, radius = 0): Contour {
  const [x, y, w, h] = [rect.x / 1000, rect.y / 1000, rect.w / 1000, rect.h / 1000]
  const r = Math.min(radius / 1000, w / 2, h / 2)
  if (r <= 0) {
    return path([
      { x, y, bulge: 0 },
      { x: x + w, y, bulge: 0 },
      { x: x + w, y: y + h, bulge: 0 },
      { x, y: y + h, bulge: 0 },
    ])
  }
  if (2 * r >= w && 2 * r >= h) return circle(x + r, y + r, r)
  return path([
    { x: x + r, y, bulge: 0 },
    { x: x + w - r, y, bulge: quarter },
    { x: x + w, y: y + r, bulge: 0 },
    { x: x + w, y: y + h - r, bulge: quarter },
    { x: x + w - r, y: y + h, bulge: 0 },
    { x: x + r, y: y + h, bulge: quarter },
    { x, y: y + h - r, bulge: 0 },
    { x, y: y + r, bulge: quarter },
  ])
}

/** Degrees; arcs of more than half a turn are written as two, which every reader draws alike. */
function sector(cx: number, cy: number, r: number, from: number, sweep: number): Path {
  const arcs = sweep > 180 ? 2 : 1
  const bulge = Math.tan((sweep / arcs / 4) * (Math.PI / 180))
  const rim: Vertex[] = []
  for (let k = 0; k <= arcs; k++) {
    const angle = (from + (sweep * k) / arcs) * (Math.PI / 180)
    rim.push({ x: cx + r * Math.cos(angle), y: cy + r * Math.sin(angle), bulge: k < arcs ? bulge : 0 })
  }
  return path([{ x: cx, y: cy, bulge: 0 }, ...rim])
}

/** A path without vertices on top of one another. */
export function path(points: readonly Vertex[]): Path {
  const kept = points.filter((p, i) => {
    const next = points[(i + 1) % points.length]!
    return Math.hypot(next.x - p.x, next.y - p.y) > 1e-7
  })
  return { kind: 'path', points: kept }
}

/** The segments of a path, each with its arc worked out. */
export function segmentsOf(points: readonly Vertex[]): Segment[] {
  return points.map((a, i) => segment(a, points[(i + 1) % points.length]!))
}

/** The segments of a line that has two ends. */
export const segmentsOfOpen = (points: readonly Vertex[]): Segment[] =>
  points.slice(0, -1).map((a, i) => segment(a, points[i + 1]!))

export function segment(a: Vertex, b: Vertex): Segment {
  const chord = Math.hypot(b.x - a.x, b.y - a.y)
  // Within 10 nm of its chord an arc is straight: a radius beyond all measure would put its points anywhere.
  if (Math.abs(a.bulge) * chord < 2e-5) return { a, b }
  const sweep = 4 * Math.atan(a.bulge)
  const r = chord / (2 * Math.abs(Math.sin(sweep / 2)))
  // The centre lies on the chord's perpendicular, left of a → b for an anticlockwise arc of less than half a turn.
  const off = (1 - a.bulge * a.bulge) / (4 * a.bulge)
  const cx = (a.x + b.x) / 2 - (b.y - a.y) * off
  const cy = (a.y + b.y) / 2 + (b.x - a.x) * off
  return { a, b, arc: { cx, cy, r, sweep } }
}

/** The point at fraction `t` of a segment. */
export function along(s: Segment, t: number): { x: number; y: number } {
  if (!s.arc) return { x: s.a.x + (s.b.x - s.a.x) * t, y: s.a.y + (s.b.y - s.a.y) * t }
  const angle = Math.atan2(s.a.y - s.arc.cy, s.a.x - s.arc.cx) + s.arc.sweep * t
  return { x: s.arc.cx + s.arc.r * Math.cos(angle), y: s.arc.cy + s.arc.r * Math.sin(angle) }
}

/** Enclosed area in mm², positive for anticlockwise paths; arcs count as arcs. */
export function signedArea(points: readonly Vertex[]): number {
  let twice = 0
  for (const s of segmentsOf(points)) {
    twice += s.a.x * s.b.y - s.b.x * s.a.y
    if (s.arc) twice += s.arc.r * s.arc.r * (s.arc.sweep - Math.sin(s.arc.sweep))
  }
  return twice / 2
}

/** The same line, walked the other way. */
export function reversed(points: readonly Vertex[]): Vertex[] {
  return points.map((_, i) => {
    const p = points[points.length - 1 - i]!
    const before = points[(2 * points.length - 2 - i) % points.length]!
    return { x: p.x, y: p.y, bulge: before.bulge === 0 ? 0 : -before.bulge }
  })
}

/** A line with two ends, walked the other way. */
function openReversed(points: readonly Vertex[]): Vertex[] {
  return points.map((_, i) => {
    const p = points[points.length - 1 - i]!
    const bulge = points[points.length - 2 - i]?.bulge ?? 0
    return { x: p.x, y: p.y, bulge: bulge === 0 ? 0 : -bulge }
  })
}

/** The smallest box around a line, bulging arcs included. */
export function boxOf(contour: Line): Box {
  if (contour.kind === 'circle') {
    const { cx, cy, r } = contour
    return { x0: cx - r, y0: cy - r, x1: cx + r, y1: cy + r }
  }
  const box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity }
  const take = (p: { readonly x: number; readonly y: number }): void => {
    box.x0 = Math.min(box.x0, p.x)
    box.y0 = Math.min(box.y0, p.y)
    box.x1 = Math.max(box.x1, p.x)
    box.y1 = Math.max(box.y1, p.y)
  }
  for (const s of contour.kind === 'open' ? segmentsOfOpen(contour.points) : segmentsOf(contour.points)) {
    take(s.a)
    take(s.b)
    if (!s.arc) continue
    const from = Math.atan2(s.a.y - s.arc.cy, s.a.x - s.arc.cx)
    for (let k = -4; k <= 4; k++) {
      const t = ((k * Math.PI) / 2 - from) / s.arc.sweep
      if (t <= 0 || t >= 1) continue
      take(along(s, t))
    }
  }
  return box
}

/** Equal for lines that are the same to 0.001 mm, wherever they start and whichever way they run. */
export function contourKey(contour: Line): string {
  const fixed = (v: number): string => (Math.round(v * 1000) / 1000 || 0).toFixed(3)
  if (contour.kind === 'circle') return `circle ${fixed(contour.cx)} ${fixed(contour.cy)} ${fixed(contour.r)}`
  const key = (points: readonly Vertex[]): string => {
    const parts = points.map((p) => `${fixed(p.x)} ${fixed(p.y)} ${fixed(p.bulge)}`)
    let first = 0
    parts.forEach((part, i) => {
      if (part < parts[first]!) first = i
    })
    return [...parts.slice(first), ...parts.slice(0, first)].join(', ')
  }
  if (contour.kind === 'open') {
    const ways = [contour.points, openReversed(contour.points)].map((points) =>
      points.map((p, i) => `${fixed(p.x)} ${fixed(p.y)} ${i < points.length - 1 ? fixed(p.bulge) : ''}`).join(', '),
    )
    return `open ${ways.sort()[0]!}`
  }
  const ccw = signedArea(contour.points) >= 0
  return `path ${key(ccw ? contour.points : reversed(contour.points))}`
}
