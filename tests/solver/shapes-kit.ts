/** Shapes for the geometry's tests: by hand, at random, and as rings for other libraries. */
import * as polyclip from 'polyclip-ts'
import type { Shape } from '../../solver/problem.ts'
import { outlineOf } from '../../solver/shapes.ts'
import { type Rect, um } from '../../solver/units.ts'

/** Seeded generator (mulberry32, public domain), so that a failure can be run again. */
export function random(seed: number): () => number {
  let s = seed >>> 0
  return () => {
    s = (s + 0x6d2b79f5) >>> 0
    let t = s
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}

export const rect = (x: number, y: number, w: number, h: number): Rect => ({ x: um(x), y: um(y), w: um(w), h: um(h) })
export const plain = (x: number, y: number, w: number, h: number, radius = 0): Shape => ({
  kind: 'rect',
  x: um(x),
  y: um(y),
  w: um(w),
  h: um(h),
  radius: um(radius),
})
export const poly = (...points: [number, number, number?][]): Shape => ({
  kind: 'polygon',
  points: points.map(([x, y, bulge]) => ({ x: um(x), y: um(y), bulge: bulge ?? 0 })),
})
export const circle = (cx: number, cy: number, r: number): Shape => ({
  kind: 'circle',
  cx: um(cx),
  cy: um(cy),
  r: um(r),
})
export const sector = (cx: number, cy: number, r: number, from: number, to: number): Shape => ({
  kind: 'sector',
  cx: um(cx),
  cy: um(cy),
  r: um(r),
  from,
  to,
})

/** A star-shaped polygon (always simple), some of its edges bulged so little that it stays simple; either direction. */
export function randomStar(rnd: () => number, bulges: boolean): Shape {
  const n = 3 + Math.floor(rnd() * 7)
  const points: [number, number, number][] = []
  for (let i = 0; i < n; i++) {
    const a = (2 * Math.PI * (i + 0.6 * rnd())) / n
    const r = 8000 + rnd() * 40000
    points.push([
      Math.round(r * Math.cos(a)),
      Math.round(r * Math.sin(a)),
      bulges && rnd() < 0.5 ? (rnd() - 0.5) * 0.2 : 0,
    ])
  }
  if (rnd() < 0.5) {
    // The other way round an edge starts at its other end, and its bulge changes sign.
    const back = points.map((p, i): [number, number, number] => [p[0], p[1], -points[(i + n - 1) % n]![2]]).reverse()
    return poly(...back)
  }
  return poly(...points)
}

export function randomShape(rnd: () => number, k: number): Shape {
  const i = (v: number) => Math.round((rnd() - 0.5) * v)
  switch (k % 5) {
    case 0:
      return plain(
        i(40000),
        i(40000),
        10000 + Math.round(rnd() * 40000),
        10000 + Math.round(rnd() * 40000),
        Math.round(rnd() * 8000),
      )
    case 1:
      return circle(i(40000), i(40000), 5000 + Math.round(rnd() * 30000))
    case 2:
      return sector(
        i(20000),
        i(20000),
        10000 + Math.round(rnd() * 40000),
        Math.round(rnd() * 720 - 360),
        Math.round(rnd() * 720 - 360),
      )
    case 3:
      return randomStar(rnd, true)
    default:
      return randomStar(rnd, false)
  }
}

/** The outline as a fine chain of points: an approximation of its own, from the edges alone. */
export function chain(shape: Shape, perArc = 400): [number, number][] {
  return outlineOf(shape).flatMap((e): [number, number][] => {
    if (!e.arc) return [[e.x0, e.y0]]
    const { cx, cy, r, sweep } = e.arc
    const a = Math.atan2(e.y0 - cy, e.x0 - cx)
    return Array.from({ length: perArc }, (_, i): [number, number] => [
      cx + r * Math.cos(a + (sweep * i) / perArc),
      cy + r * Math.sin(a + (sweep * i) / perArc),
    ])
  })
}

export const overlapArea = (a: [number, number][], b: [number, number][]): number => {
  const out = polyclip.intersection([[a]], [[b]])
  let sum = 0
  for (const polygon of out)
    for (const ring of polygon) {
      let s = 0
      for (let i = 1; i < ring.length; i++) s += ring[i - 1]![0] * ring[i]![1] - ring[i]![0] * ring[i - 1]![1]
      sum += s / 2
    }
  return Math.abs(sum)
}
