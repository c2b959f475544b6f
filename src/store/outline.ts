/** Bounding boxes of shapes, in micrometres, for drawing and for words; no rule depends on them. */
import type { Shape } from '../../solver/index.ts'

export interface Box {
  readonly x: number
  readonly y: number
  readonly w: number
  readonly h: number
}

const spanning = (points: readonly (readonly [number, number])[]): Box => {
  const xs = points.map((p) => p[0])
  const ys = points.map((p) => p[1])
  const x = Math.min(...xs)
  const y = Math.min(...ys)
  return { x, y, w: Math.max(...xs) - x, h: Math.max(...ys) - y }
}

const RAD = Math.PI / 180

/** Points of an arc that can be extreme: its ends, and where it crosses the axes. */
function arcExtremes(cx: number, cy: number, r: number, from: number, to: number): (readonly [number, number])[] {
  const at = (deg: number): readonly [number, number] => [cx + r * Math.cos(deg * RAD), cy + r * Math.sin(deg * RAD)]
  const end = to < from ? to + 360 : to
  const out = [at(from), at(end)]
  for (let q = Math.ceil(from / 90) * 90; q <= end; q += 90) out.push(at(q))
  return out
}

/** Centre, radius and angles (degrees) of the arc from a to b with that bulge. */
export function arcOf(a: { x: number; y: number }, b: { x: number; y: number }, bulge: number) {
  const chord = Math.hypot(b.x - a.x, b.y - a.y)
  const r = (chord * (1 + bulge * bulge)) / (4 * Math.abs(bulge))
  const off = (1 - bulge * bulge) / (4 * bulge)
  const cx = (a.x + b.x) / 2 - (b.y - a.y) * off
  const cy = (a.y + b.y) / 2 + (b.x - a.x) * off
  const from = Math.atan2(a.y - cy, a.x - cx) / RAD
  const to = Math.atan2(b.y - cy, b.x - cx) / RAD
  return { cx, cy, r, from, to }
}

/** The bounding box, Um; along arcs to their extremes, not rounded. */
export function boxOf(shape: Shape): Box {
  switch (shape.kind) {
    case 'rect':
      return { x: shape.x, y: shape.y, w: shape.w, h: shape.h }
    case 'circle':
      return { x: shape.cx - shape.r, y: shape.cy - shape.r, w: 2 * shape.r, h: 2 * shape.r }
    case 'sector':
      return spanning([[shape.cx, shape.cy], ...arcExtremes(shape.cx, shape.cy, shape.r, shape.from, shape.to)])
    case 'polygon':
      return spanning(
        shape.points.flatMap((a, i) => {
          const b = shape.points[(i + 1) % shape.points.length]
          if (!b || a.bulge === 0) return [[a.x, a.y] as const]
          const { cx, cy, r, from, to } = arcOf(a, b, a.bulge)
          return [
            [a.x, a.y] as const,
            ...(a.bulge > 0 ? arcExtremes(cx, cy, r, from, to) : arcExtremes(cx, cy, r, to, from)),
          ]
        }),
      )
  }
}
