/**
 * The outline of a shape as oriented edges, straight or round, and what follows from edges alone: area, centroid, turned
 * and moved shapes. Doubles in micrometres; vertices of rects, circles and polygons stay whole.
 */
import type { Shape } from './problem.ts'
import { type Point, type Turn, turnPoint, turnRect, type Um, um } from './units.ts'

/** One edge from (x0,y0) to (x1,y1); with `arc` it runs `sweep` radians (positive = anticlockwise) about (cx,cy). */
export interface Edge {
  readonly x0: number
  readonly y0: number
  readonly x1: number
  readonly y1: number
  readonly arc?: { readonly cx: number; readonly cy: number; readonly r: number; readonly sweep: number }
}

/** A sagitta no larger than this (Um) is drawn straight: it is the tolerance of every round test. */
const FLAT = 0.001

/** Sector sweep in degrees, 0–360: 360 and more is the full disc, `from` > `to` wraps. */
export function sectorSweep(from: number, to: number): number {
  const sweep = to - from
  if (sweep >= 360) return 360
  return sweep >= 0 ? sweep : ((sweep % 360) + 360) % 360
}

/** Unit vector at `deg`, exact at quarter turns. */
export function direction(deg: number): { readonly x: number; readonly y: number } {
  const d = ((deg % 360) + 360) % 360
  if (d === 0) return { x: 1, y: 0 }
  if (d === 90) return { x: 0, y: 1 }
  if (d === 180) return { x: -1, y: 0 }
  if (d === 270) return { x: 0, y: -1 }
  return { x: Math.cos((d * Math.PI) / 180), y: Math.sin((d * Math.PI) / 180) }
}

/**
 * Edges in order round the shape; none for a shape without area (zero-sweep sector).
 * Bulge as in DXF: tan(sweep/4) of the edge that starts at the vertex, positive = anticlockwise.
 */
export function outlineOf(shape: Shape): Edge[] {
  switch (shape.kind) {
    case 'rect':
      return rectEdges(shape.x, shape.y, shape.w, shape.h, shape.radius)
    case 'circle':
      return discEdges(shape.cx, shape.cy, shape.r)
    case 'polygon':
      return polygonEdges(shape.points)
    case 'sector':
      return sectorEdges(shape.cx, shape.cy, shape.r, shape.from, shape.to)
  }
}

function rectEdges(x: number, y: number, w: number, h: number, radius: number): Edge[] {
  if (w <= 0 || h <= 0) return []
  const r = Math.max(0, Math.min(radius, w / 2, h / 2))
  const edges: Edge[] = []
  const line = (x0: number, y0: number, x1: number, y1: number) => {
    if (x0 !== x1 || y0 !== y1) edges.push({ x0, y0, x1, y1 })
  }
  const corner = (x0: number, y0: number, x1: number, y1: number, cx: number, cy: number) => {
    if (r > 0) edges.push({ x0, y0, x1, y1, arc: { cx, cy, r, sweep: Math.PI / 2 } })
  }
  const X = x + w
  const Y = y + h
  line(x + r, y, X - r, y)
  corner(X - r, y, X, y + r, X - r, y + r)
  line(X, y + r, X, Y - r)
  corner(X, Y - r, X - r, Y, X - r, Y - r)
  line(X - r, Y, x + r, Y)
  corner(x + r, Y, x, Y - r, x + r, Y - r)
  line(x, Y - r, x, y + r)
  corner(x, y + r, x + r, y, x + r, y + r)
  return edges
}

function discEdges(cx: number, cy: number, r: number): Edge[] {
  if (r <= 0) return []
  const arc = { cx, cy, r, sweep: Math.PI }
  return [
    { x0: cx + r, y0: cy, x1: cx - r, y1: cy, arc },
    { x0: cx - r, y0: cy, x1: cx + r, y1: cy, arc },
  ]
}

function polygonEdges(points: readonly { readonly x: number; readonly y: number; readonly bulge: number }[]): Edge[] {
  const edges: Edge[] = []
  points.forEach((a, i) => {
    const b = points[(i + 1) % points.length]!
    const dx = b.x - a.x
    const dy = b.y - a.y
    const chord = Math.hypot(dx, dy)
    if (chord === 0) return
    const ends = { x0: a.x, y0: a.y, x1: b.x, y1: b.y }
    const k = a.bulge
    if ((Math.abs(k) * chord) / 2 <= FLAT) {
      edges.push(ends)
      return
    }
    // The centre lies on the chord's perpendicular bisector, to its left for a positive bulge below 1.
    const f = (1 - k * k) / (4 * k)
    edges.push({
      ...ends,
      arc: {
        cx: (a.x + b.x) / 2 - dy * f,
        cy: (a.y + b.y) / 2 + dx * f,
        r: (chord * (1 + k * k)) / (4 * Math.abs(k)),
        sweep: 4 * Math.atan(k),
      },
    })
  })
  return edges
}

function sectorEdges(cx: number, cy: number, r: number, from: number, to: number): Edge[] {
  const sweep = sectorSweep(from, to)
  if (r <= 0 || sweep === 0) return []
  if (sweep === 360) return discEdges(cx, cy, r)
  const at = (deg: number) => {
    const d = direction(deg)
    return { x: cx + r * d.x, y: cy + r * d.y }
  }
  const a = at(from)
  const m = at(from + sweep / 2)
  const b = at(from + sweep)
  const arc = { cx, cy, r, sweep: (sweep * Math.PI) / 360 }
  return [
    { x0: cx, y0: cy, x1: a.x, y1: a.y },
    { x0: a.x, y0: a.y, x1: m.x, y1: m.y, arc },
    { x0: m.x, y0: m.y, x1: b.x, y1: b.y, arc },
    { x0: b.x, y0: b.y, x1: cx, y1: cy },
  ]
}

/** Signed area (Um²) and first moments of edges by Green's theorem, about the first vertex so that big offsets cost no digits. */
function moments(edges: readonly Edge[]): { readonly a: number; readonly mx: number; readonly my: number } {
  const ox = edges[0]?.x0 ?? 0
  const oy = edges[0]?.y0 ?? 0
  let a = 0
  let mx = 0
  let my = 0
  for (const e of edges) {
    const x0 = e.x0 - ox
    const y0 = e.y0 - oy
    const x1 = e.x1 - ox
    const y1 = e.y1 - oy
    const tri = (x0 * y1 - x1 * y0) / 2
    a += tri
    mx += (tri * (x0 + x1)) / 3
    my += (tri * (y0 + y1)) / 3
    if (!e.arc) continue
    // The circular segment between chord and arc; its centroid lies on the bisector, 4 r sin³(θ/2) / 3(θ − sin θ) from the centre.
    const { cx, cy, r, sweep } = e.arc
    const excess = sweep - Math.sin(sweep)
    const seg = (r * r * excess) / 2
    const reach = Math.abs(excess) < 1e-15 ? r : (4 * r * Math.sin(sweep / 2) ** 3) / (3 * excess)
    const mid = Math.atan2(e.y0 - cy, e.x0 - cx) + sweep / 2
    a += seg
    mx += seg * (cx - ox + reach * Math.cos(mid))
    my += seg * (cy - oy + reach * Math.sin(mid))
  }
  return { a, mx, my }
}

/** Area in Um² (positive for either direction). */
export const area = (shape: Shape): number => Math.abs(moments(outlineOf(shape)).a)

/** Centroid of the area, in Um, not rounded; the mean of the vertices where there is no area. */
export function centroid(shape: Shape): { readonly x: number; readonly y: number } {
  return centroidOfEdges(outlineOf(shape))
}

function centroidOfEdges(edges: readonly Edge[]): { readonly x: number; readonly y: number } {
  const first = edges[0]
  if (!first) return { x: 0, y: 0 }
  const { a, mx, my } = moments(edges)
  if (Math.abs(a) < 1e-9) {
    const n = edges.length
    return { x: edges.reduce((s, e) => s + e.x0, 0) / n, y: edges.reduce((s, e) => s + e.y0, 0) / n }
  }
  return { x: first.x0 + mx / a, y: first.y0 + my / a }
}

/** Area centroid of a straight-sided polygon in either direction, in Um, not rounded; the mean of the points where there is no area. */
export function polygonCentroid(points: readonly Point[]): { readonly x: number; readonly y: number } {
  const only = points[0]
  if (points.length === 1 && only) return { x: only.x, y: only.y }
  return centroidOfEdges(polygonEdges(points.map((p) => ({ x: p.x, y: p.y, bulge: 0 }))))
}

/** A shape of a `w` × `d` footprint after `turn`, in the frame whose origin is the turned body's lower left (contract §1). */
export function turnShape(shape: Shape, w: Um, d: Um, turn: Turn): Shape {
  if (turn === 0) return shape
  switch (shape.kind) {
    case 'rect':
      return { kind: 'rect', ...turnRect(shape, w, d, turn), radius: shape.radius }
    case 'circle': {
      const c = turnPoint({ x: shape.cx, y: shape.cy }, w, d, turn)
      return { kind: 'circle', cx: c.x, cy: c.y, r: shape.r }
    }
    case 'polygon':
      return { kind: 'polygon', points: shape.points.map((p) => ({ ...turnPoint(p, w, d, turn), bulge: p.bulge })) }
    case 'sector': {
      const c = turnPoint({ x: shape.cx, y: shape.cy }, w, d, turn)
      return { ...shape, cx: c.x, cy: c.y, from: shape.from + 90 * turn, to: shape.to + 90 * turn }
    }
  }
}

/** The shape moved by whole micrometres. */
export function moveShape(shape: Shape, dx: Um, dy: Um): Shape {
  switch (shape.kind) {
    case 'rect':
      return { ...shape, x: um(shape.x + dx), y: um(shape.y + dy) }
    case 'polygon':
      return {
        kind: 'polygon',
        points: shape.points.map((p) => ({ x: um(p.x + dx), y: um(p.y + dy), bulge: p.bulge })),
      }
    case 'circle':
    case 'sector':
      return { ...shape, cx: um(shape.cx + dx), cy: um(shape.cy + dy) }
  }
}
