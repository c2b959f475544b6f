/**
 * A closed contour as a shape of the project file (contract §1), in mm rounded to 0.001: a circle, a rectangle with its radius
 * where it is one to a micrometre, else a polygon with bulges.
 */
import type { ShapeFile } from '../../footprints/fields.ts'
import { arcOf, lengthOf, pointOn, type Vertex } from './contours.ts'
import { digits } from './words.ts'

/** mm. */
const EXACT = 0.001

export interface Box {
  readonly x0: number
  readonly y0: number
  readonly x1: number
  readonly y1: number
}

/** The smallest box around a closed contour, arcs included, mm. */
export function boxOf(points: readonly Vertex[]): Box {
  const box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity }
  const take = (x: number, y: number): void => {
    box.x0 = Math.min(box.x0, x)
    box.y0 = Math.min(box.y0, y)
    box.x1 = Math.max(box.x1, x)
    box.y1 = Math.max(box.y1, y)
  }
  points.forEach((a, i) => {
    take(a.x, a.y)
    const arc = arcOf(a, points[(i + 1) % points.length]!)
    if (!arc) return
    const from = Math.atan2(a.y - arc.cy, a.x - arc.cx)
    for (let k = -4; k <= 4; k++) {
      const t = ((k * Math.PI) / 2 - from) / arc.sweep
      if (t > 0 && t < 1)
        take(arc.cx + arc.r * Math.cos((k * Math.PI) / 2), arc.cy + arc.r * Math.sin((k * Math.PI) / 2))
    }
  })
  return box
}

export interface Round {
  readonly cx: number
  readonly cy: number
  readonly r: number
}

/** The circle that a contour of arcs alone is, to a micrometre. */
export function circleOf(points: readonly Vertex[]): Round | undefined {
  const arcs = points.map((a, i) => arcOf(a, points[(i + 1) % points.length]!))
  const first = arcs[0]
  if (!first) return undefined
  let turned = 0
  for (const arc of arcs) {
    if (!arc || Math.sign(arc.sweep) !== Math.sign(first.sweep)) return undefined
    turned += arc.sweep
  }
  if (Math.abs(Math.abs(turned) - 2 * Math.PI) > 0.01) return undefined
  const box = boxOf(points)
  const round = { cx: (box.x0 + box.x1) / 2, cy: (box.y0 + box.y1) / 2, r: (box.x1 - box.x0 + box.y1 - box.y0) / 4 }
  const fits = points.every((a, i) =>
    [0, 0.25, 0.5, 0.75].every((t) => {
      const p = pointOn(a, points[(i + 1) % points.length]!, t)
      return Math.abs(Math.hypot(p.x - round.cx, p.y - round.cy) - round.r) <= EXACT
    }),
  )
  return fits ? round : undefined
}

/** A contour, moved by (dx, dy) mm, as a shape. */
export function shapeOf(points: readonly Vertex[], dx: number, dy: number): ShapeFile {
  const moved = points.map((p) => ({ x: p.x + dx, y: p.y + dy, bulge: p.bulge }))
  const round = circleOf(moved)
  if (round) return { circle: [digits(round.cx), digits(round.cy), digits(round.r)] }
  const whole = joinedArcs(moved)
  return rectOf(whole) ?? { polygon: whole.map(corner) }
}

const corner = (p: Vertex): [number, number] | [number, number, number] => {
  const bulge = Math.round(p.bulge * 1e9) / 1e9
  return bulge === 0 ? [digits(p.x), digits(p.y)] : [digits(p.x), digits(p.y), bulge]
}

/** Neighbouring arcs that are one arc, up to half a turn, are one. */
function joinedArcs(points: readonly Vertex[]): Vertex[] {
  let kept = [...points]
  // The first corner may lie within an arc: begin where no arc is joined to the one before.
  for (let i = 0; i < points.length; i++) {
    const before = points[(i + points.length - 1) % points.length]!
    if (oneArc(before, points[i]!, points[(i + 1) % points.length]!) !== undefined) continue
    kept = [...points.slice(i), ...points.slice(0, i)]
    break
  }
  const out: Vertex[] = []
  kept.forEach((p, i) => {
    const last = out.at(-1)
    const bulge = last && oneArc(last, p, kept[(i + 1) % kept.length]!)
    if (bulge === undefined) out.push(p)
    else out[out.length - 1] = { ...last!, bulge }
  })
  return out
}

/** The bulge of the one arc that two neighbouring ones are, to half a micrometre. */
function oneArc(a: Vertex, b: Vertex, c: Vertex): number | undefined {
  const [p, q] = [arcOf(a, b), arcOf(b, c)]
  if (!p || !q || Math.sign(p.sweep) !== Math.sign(q.sweep)) return undefined
  const sweep = p.sweep + q.sweep
  if (Math.abs(sweep) > Math.PI * (1 + 1e-6)) return undefined
  const bulge = Math.tan(sweep / 4)
  const whole = arcOf({ ...a, bulge }, c)
  if (!whole) return undefined
  const near = (s: Vertex, t: Vertex, at: number): boolean => {
    const m = pointOn(s, t, at)
    return Math.abs(Math.hypot(m.x - whole.cx, m.y - whole.cy) - whole.r) <= EXACT / 2
  }
  return near(a, b, 0.5) && near(b, c, 0.5) && near(b, c, 0) ? bulge : undefined
}

/** An upright rectangle, rounded or not, that the contour is to a micrometre. */
function rectOf(points: readonly Vertex[]): ShapeFile | undefined {
  if (points.length > 12) return undefined
  const box = boxOf(points)
  const [w, h] = [box.x1 - box.x0, box.y1 - box.y0]
  const arcs = points.map((a, i) => arcOf(a, points[(i + 1) % points.length]!)).filter((a) => a !== undefined)
  const radius = arcs[0]?.r ?? 0
  if (2 * radius > Math.min(w, h) + 2 * EXACT) return undefined
  const r = Math.min(radius, w / 2, h / 2)
  const inside = (x: number, y: number): number => {
    // Distance from the boundary of the rounded rectangle.
    const qx = Math.abs(x - (box.x0 + box.x1) / 2) - w / 2 + r
    const qy = Math.abs(y - (box.y0 + box.y1) / 2) - h / 2 + r
    return Math.hypot(Math.max(qx, 0), Math.max(qy, 0)) + Math.min(Math.max(qx, qy), 0) - r
  }
  let long = 0
  for (let i = 0; i < points.length; i++) {
    const [a, b] = [points[i]!, points[(i + 1) % points.length]!]
    long += lengthOf(a, b)
    for (const t of [0, 0.25, 0.5, 0.75]) {
      const p = pointOn(a, b, t)
      if (Math.abs(inside(p.x, p.y)) > EXACT) return undefined
    }
  }
  // Once round, and not along half of it and back.
  if (Math.abs(long - (2 * (w + h) - (8 - 2 * Math.PI) * r)) > 0.01) return undefined
  const rect: [number, number, number, number] = [
    digits(box.x0),
    digits(box.y0),
    digits(digits(box.x1) - digits(box.x0)),
    digits(digits(box.y1) - digits(box.y0)),
  ]
  const rounded = Math.min(digits(r), Math.floor(Math.min(rect[2], rect[3]) * 500) / 1000)
  return rounded > 0 ? { rect, radius: rounded } : { rect }
}
