/**
 * A third way to see whether two things in a plan overlap: sampled points with plain point-in-shape tests, and where these find nothing,
 * polygon booleans of another library (polyclip-ts) between polygons that surely lie inside, and polygons that surely lie around.
 * Shares no geometry with the solver or with the oracle. All in µm.
 */
import * as polyclip from 'polyclip-ts'
import type { Shape } from '../../solver/problem.ts'

type Ring = [number, number][]

/** A region of the plan. `rings(n)`: one polygon in it and one around it, arcs in about n parts a full turn. */
export interface Form {
  readonly box: readonly [number, number, number, number]
  readonly has: (x: number, y: number) => boolean
  readonly rings: (n: number) => { readonly inner: Ring; readonly outer: Ring }
}

/** Is it so? `undefined`: too close to tell by these means. */
export type Answer = boolean | undefined

/** An arc about (cx, cy) as corners: on it (chords), or outside of it (tangents). Both ends are on the arc. */
function arc(cx: number, cy: number, r: number, from: number, sweep: number, n: number, tangent: boolean): Ring {
  const parts = Math.max(1, Math.ceil((Math.abs(sweep) / (2 * Math.PI)) * n))
  const step = sweep / parts
  const at = (a: number, q: number): [number, number] => [cx + q * Math.cos(a), cy + q * Math.sin(a)]
  const inside = tangent
    ? Array.from({ length: parts }, (_, k) => at(from + step * (k + 0.5), r / Math.cos(step / 2)))
    : Array.from({ length: parts - 1 }, (_, k) => at(from + step * (k + 1), r))
  return [at(from, r), ...inside, at(from + sweep, r)]
}

export function disc(cx: number, cy: number, r: number): Form {
  const ring = (n: number, tangent: boolean): Ring => arc(cx, cy, r, 0, 2 * Math.PI, n, tangent).slice(0, -1)
  return {
    box: [cx - r, cy - r, cx + r, cy + r],
    has: (x, y) => (x - cx) ** 2 + (y - cy) ** 2 < r * r,
    rings: (n) => ({ inner: ring(n, false), outer: ring(n, true) }),
  }
}

interface Box {
  readonly x: number
  readonly y: number
  readonly w: number
  readonly h: number
}

/** A rectangle and everything nearer to it than `round`. */
export function around({ x, y, w, h }: Box, round = 0): Form {
  const corners: [number, number, number][] = [
    [x, y, Math.PI],
    [x + w, y, 1.5 * Math.PI],
    [x + w, y + h, 0],
    [x, y + h, Math.PI / 2],
  ]
  const ring = (n: number, tangent: boolean): Ring =>
    round === 0
      ? corners.map(([cx, cy]) => [cx, cy])
      : corners.flatMap(([cx, cy, a]) => arc(cx, cy, round, a, Math.PI / 2, n, tangent))
  return {
    box: [x - round, y - round, x + w + round, y + h + round],
    has: (px, py) => {
      const dx = Math.max(x - px, px - x - w)
      const dy = Math.max(y - py, py - y - h)
      if (round === 0) return dx < 0 && dy < 0
      return Math.max(dx, 0) ** 2 + Math.max(dy, 0) ** 2 < round * round
    },
    rings: (n) => ({ inner: ring(n, false), outer: ring(n, true) }),
  }
}

function sector({ cx, cy, r, from, to }: Extract<Shape, { kind: 'sector' }>): Form {
  let degrees = to - from
  if (degrees < 0) degrees = ((degrees % 360) + 360) % 360
  if (degrees >= 360) return disc(cx, cy, r)
  const start = (from * Math.PI) / 180
  const sweep = (degrees * Math.PI) / 180
  return {
    box: [cx - r, cy - r, cx + r, cy + r],
    has: (x, y) => {
      if ((x - cx) ** 2 + (y - cy) ** 2 >= r * r) return false
      const a = (((Math.atan2(y - cy, x - cx) - start) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI)
      return a > 0 && a < sweep
    },
    rings: (n) => ({
      inner: [[cx, cy], ...arc(cx, cy, r, start, sweep, n, false)],
      outer: [[cx, cy], ...arc(cx, cy, r, start, sweep, n, true)],
    }),
  }
}

function polygon({ points }: Extract<Shape, { kind: 'polygon' }>): Form {
  const edges = points.map((p, i) => {
    const q = points[(i + 1) % points.length]!
    if (p.bulge === 0) return { p, q, bulge: 0, cx: 0, cy: 0, r: 0, from: 0, sweep: 0 }
    // the centre lies left of the chord by half of it times (1 − b²)/2b, b = tan(sweep/4)
    const k = (1 - p.bulge ** 2) / (4 * p.bulge)
    const cx = (p.x + q.x) / 2 - (q.y - p.y) * k
    const cy = (p.y + q.y) / 2 + (q.x - p.x) * k
    const r = Math.hypot(p.x - cx, p.y - cy)
    return { p, q, bulge: p.bulge, cx, cy, r, from: Math.atan2(p.y - cy, p.x - cx), sweep: 4 * Math.atan(p.bulge) }
  })
  const anticlockwise = points.reduce((s, p, i) => s + cross(p, points[(i + 1) % points.length]!), 0) > 0
  const ring = (n: number, large: boolean): Ring =>
    edges.flatMap((e): Ring => {
      if (e.bulge === 0) return [[e.p.x, e.p.y]]
      const out = e.bulge > 0 === anticlockwise
      return arc(e.cx, e.cy, e.r, e.from, e.sweep, n, out === large).slice(0, -1)
    })
  const corners = [...edges.map((e) => e.p), ...edges.flatMap((e) => (e.bulge === 0 ? [] : [near(e, -1), near(e, 1)]))]
  return {
    box: [
      Math.min(...corners.map((c) => c.x)),
      Math.min(...corners.map((c) => c.y)),
      Math.max(...corners.map((c) => c.x)),
      Math.max(...corners.map((c) => c.y)),
    ],
    has: (x, y) => {
      let odd = false
      for (const e of edges) {
        const { p, q } = e
        if (p.y > y !== q.y > y && x < p.x + ((y - p.y) / (q.y - p.y)) * (q.x - p.x)) odd = !odd
        if (e.bulge === 0 || (x - e.cx) ** 2 + (y - e.cy) ** 2 >= e.r * e.r) continue
        // between chord and arc: on the arc's side of the chord, which is the right one of an anticlockwise arc
        const left = (q.x - p.x) * (y - p.y) - (q.y - p.y) * (x - p.x) > 0
        if (left !== e.bulge > 0) odd = !odd
      }
      return odd
    },
    rings: (n) => ({ inner: ring(n, false), outer: ring(n, true) }),
  }
}

const cross = (p: { x: number; y: number }, q: { x: number; y: number }): number => p.x * q.y - q.x * p.y
const near = (e: { cx: number; cy: number; r: number }, s: number) => ({ x: e.cx + s * e.r, y: e.cy + s * e.r })

export function form(shape: Shape): Form {
  switch (shape.kind) {
    case 'circle':
      return disc(shape.cx, shape.cy, shape.r)
    case 'sector':
      return sector(shape)
    case 'polygon':
      return polygon(shape)
    case 'rect': {
      const { x, y, w, h, radius: q } = shape
      return around({ x: x + q, y: y + q, w: w - 2 * q, h: h - 2 * q }, q)
    }
  }
}

/** The same region after a quarter turn or more of its `w` × `d` footprint (contract §1) and a shift. */
export function placed(f: Form, w: number, d: number, turn: number, dx: number, dy: number): Form {
  const there = (u: number, v: number): [number, number] =>
    turn === 0
      ? [u + dx, v + dy]
      : turn === 1
        ? [d - v + dx, u + dy]
        : turn === 2
          ? [w - u + dx, d - v + dy]
          : [v + dx, w - u + dy]
  const back = (x: number, y: number): [number, number] =>
    turn === 0
      ? [x - dx, y - dy]
      : turn === 1
        ? [y - dy, d - x + dx]
        : turn === 2
          ? [w - x + dx, d - y + dy]
          : [w - y + dy, x - dx]
  const [a, b] = [there(f.box[0], f.box[1]), there(f.box[2], f.box[3])]
  return {
    box: [Math.min(a[0], b[0]), Math.min(a[1], b[1]), Math.max(a[0], b[0]), Math.max(a[1], b[1])],
    has: (x, y) => f.has(...back(x, y)),
    rings: (n) => {
      const { inner, outer } = f.rings(n)
      return { inner: inner.map(([u, v]) => there(u, v)), outer: outer.map(([u, v]) => there(u, v)) }
    },
  }
}

const areaOf = (polygons: [number, number][][][]): number => {
  let sum = 0
  for (const rings of polygons)
    for (const [k, ring] of rings.entries()) {
      let s = 0
      for (let i = 1; i < ring.length; i++) s += ring[i - 1]![0] * ring[i]![1] - ring[i]![0] * ring[i - 1]![1]
      sum += (k === 0 ? 1 : -1) * Math.abs(s / 2)
    }
  return sum
}

/** µm²: less is none, more is some. Between the two lie slivers thinner than what the rules call touching. */
const NOTHING = 1e-6
const SOMETHING = 0.01
const SAMPLES = 9
const PARTS = [24, 192]

/** Points spread over a box, off its middle lines and off whole numbers. */
function* samples([x0, y0, x1, y1]: readonly [number, number, number, number]): Generator<[number, number]> {
  for (let i = 0; i < SAMPLES; i++)
    for (let j = 0; j < SAMPLES; j++)
      yield [
        x0 + ((i + 0.137 + 0.7 * ((j * 0.618) % 1)) / SAMPLES) * (x1 - x0),
        y0 + ((j + 0.211 + 0.7 * ((i * 0.618) % 1)) / SAMPLES) * (y1 - y0),
      ]
}

/** Do their insides meet? */
export function overlap(a: Form, b: Form): Answer {
  const box = [
    Math.max(a.box[0], b.box[0]),
    Math.max(a.box[1], b.box[1]),
    Math.min(a.box[2], b.box[2]),
    Math.min(a.box[3], b.box[3]),
  ] as const
  if (box[0] >= box[2] || box[1] >= box[3]) return false
  for (const [x, y] of samples(box)) if (a.has(x, y) && b.has(x, y)) return true
  return byArea((n, k) => {
    const [p, q] = [a.rings(n)[k], b.rings(n)[k]]
    return polyclip.intersection([[...p, p[0]!]], [[...q, q[0]!]])
  })
}

/** Does a part of `a` stick out of `b`? */
export function sticksOut(a: Form, b: Form): Answer {
  for (const [x, y] of samples(a.box)) if (a.has(x, y) && !b.has(x, y)) return true
  return byArea((n, k) => {
    const p = a.rings(n)[k]
    const q = b.rings(n)[k === 'inner' ? 'outer' : 'inner']
    return polyclip.difference([[...p, p[0]!]], [[...q, q[0]!]])
  })
}

function byArea(meet: (n: number, k: 'inner' | 'outer') => [number, number][][][]): Answer {
  for (const n of PARTS) {
    if (areaOf(meet(n, 'outer')) < NOTHING) return false
    if (areaOf(meet(n, 'inner')) > SOMETHING) return true
  }
  return undefined
}
