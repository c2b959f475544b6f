/**
 * Regions as straight-sided rings, for meshes and pictures: arcs become chords that stay within FLAT of them, and what is
 * cut out of a plate is taken away even where openings run into one another or over the edge. Millimetres.
 */
import { difference } from 'polyclip-ts'
import { along, type Contour, type Segment, segmentsOf, segmentsOfOpen, type Vertex } from './contour.ts'

export type Point2 = readonly [number, number]
/** A closed line without its first point repeated. */
export type Ring = readonly Point2[]

type Polygon = [number, number][][]

/** Outer ring anticlockwise, holes clockwise. */
export interface Area {
  readonly outer: Ring
  readonly holes: readonly Ring[]
}

/** How far a chord may be from its arc, mm. */
export const FLAT = 0.02
/** Points nearer than this are one, mm: a thousandth of what a file can say. */
const SAME = 1e-6

/** Chords for an arc: sagitta r·(1 − cos(θ/2)) ≤ FLAT, and at least eight to a full turn. */
export function chords(r: number, sweep: number): number {
  const most = r > FLAT ? 2 * Math.acos(1 - FLAT / r) : Math.PI / 4
  return Math.max(1, Math.ceil(Math.abs(sweep) / Math.min(most, Math.PI / 4) - 1e-9))
}

/** A contour as an anticlockwise ring; empty where it encloses nothing. */
export function ringOf(contour: Contour): Ring {
  if (contour.kind === 'circle') {
    const { cx, cy, r } = contour
    if (r <= 0) return []
    const n = Math.max(8, chords(r, 2 * Math.PI))
    return Array.from({ length: n }, (_, i): Point2 => {
      const a = (2 * Math.PI * i) / n
      return [cx + r * Math.cos(a), cy + r * Math.sin(a)]
    })
  }
  const points = segmentsOf(contour.points).flatMap(startsOf)
  const ring = tidy(points)
  return ringArea(ring) < 0 ? [...ring].reverse() : ring
}

/** The start of a segment and, on an arc, the ends of all chords but the last. */
function startsOf(s: Segment): Point2[] {
  const n = s.arc ? chords(s.arc.r, s.arc.sweep) : 1
  const points: Point2[] = [[s.a.x, s.a.y]]
  for (let i = 1; i < n; i++) {
    const p = along(s, i / n)
    points.push([p.x, p.y])
  }
  return points
}

/** An open stroke as straight pieces. */
export function lineOf(points: readonly Vertex[]): Point2[] {
  const last = points[points.length - 1]
  if (!last) return []
  return [...segmentsOfOpen(points).flatMap(startsOf), [last.x, last.y]]
}

/** Shoelace; positive for anticlockwise rings, mm². */
export function ringArea(ring: Ring): number {
  let twice = 0
  for (let i = 0; i < ring.length; i++) {
    const [ax, ay] = ring[i]!
    const [bx, by] = ring[(i + 1) % ring.length]!
    twice += ax * by - bx * ay
  }
  return twice / 2
}

/** Without points on top of one another or in the middle of a straight line; empty where nothing is left. */
function tidy(points: readonly Point2[]): Ring {
  let ring = [...points]
  for (let before = -1; before !== ring.length; ) {
    before = ring.length
    ring = ring.filter((p, i) => {
      const a = ring[(i + ring.length - 1) % ring.length]!
      const b = ring[(i + 1) % ring.length]!
      if (Math.hypot(p[0] - a[0], p[1] - a[1]) <= SAME) return false
      const off = (p[0] - a[0]) * (b[1] - a[1]) - (p[1] - a[1]) * (b[0] - a[0])
      return Math.abs(off) > SAME * SAME * 1e3
    })
    if (ring.length < 3) return []
  }
  return ring
}

/** `outline` less `holes`, each anticlockwise as `ringOf` makes them. */
export function areasOf(outline: Ring, holes: readonly Ring[]): Area[] {
  if (outline.length < 3) return []
  const real = holes.filter((h) => h.length >= 3)
  const all = [outline, ...real]
  const boxes = all.map(boxOfRing)
  const crossing = all.some((a, i) => all.some((b, j) => j > i && boxesMeet(boxes[i]!, boxes[j]!) && ringsMeet(a, b)))
  if (crossing) return subtracted(outline, real)
  // Nothing crosses: a hole counts when it lies in the outline and in no other hole; of two that nest, the outer one.
  const counted = real.filter(
    (h, i) =>
      inRing(outline, h[0]!) &&
      !real.some((other, j) => j !== i && boxesMeet(boxes[i + 1]!, boxes[j + 1]!) && inRing(other, h[0]!)),
  )
  return real.some((h) => inRing(h, outline[0]!))
    ? []
    : [{ outer: outline, holes: counted.map((h) => [...h].reverse()) }]
}

function subtracted(outline: Ring, holes: readonly Ring[]): Area[] {
  const poly = (r: Ring): Polygon => [r.map(([x, y]): [number, number] => [fixed(x), fixed(y)])]
  const open = (r: readonly [number, number][]): Ring => tidy(r.slice(0, -1))
  const rings = difference(poly(outline), ...holes.map((h) => poly(h))).flatMap((area) =>
    area.map((r, k) => {
      const ring = open(r)
      return ringArea(ring) > 0 === (k === 0) ? ring : [...ring].reverse()
    }),
  )
  const joined = relinked(knotted(rings.filter((r) => r.length >= 3)))
  const inner = joined.filter((r) => ringArea(r) < 0)
  return joined
    .filter((r) => ringArea(r) > 0)
    .sort((a, b) => ringArea(a) - ringArea(b))
    .map((outer) => {
      const mine = inner.filter((h) => inRing(outer, h[0]!))
      for (const h of mine) inner.splice(inner.indexOf(h), 1)
      return { outer, holes: mine }
    })
}

/** Rings with a point of their own wherever a point of theirs or of another lies on a side. */
function knotted(rings: readonly Ring[]): Ring[] {
  const all = rings.flat()
  return rings.map((ring) =>
    ring.flatMap((a, i) => {
      const b = ring[(i + 1) % ring.length]!
      const [dx, dy] = [b[0] - a[0], b[1] - a[1]]
      const length = Math.hypot(dx, dy)
      const on = all
        .map((p) => ({ p, t: ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / length }))
        .filter(
          ({ p, t }) =>
            t > SAME && t < length - SAME && Math.abs((p[0] - a[0]) * dy - (p[1] - a[1]) * dx) / length < SAME / 10,
        )
        .sort((u, v) => u.t - v.t)
        .filter(({ t }, k, sorted) => k === 0 || t - sorted[k - 1]!.t > SAME)
      return [a, ...on.map(({ p }) => p)]
    }),
  )
}

/**
 * Rings that touch at a point, walked so that every corner bounds one piece of the inside: where two holes touch they
 * become one ring, where the plate hangs together by a point alone it becomes two. A mesh over such rings closes.
 */
function relinked(rings: readonly Ring[]): Ring[] {
  interface Side {
    readonly from: Point2
    readonly to: Point2
    done: boolean
  }
  const sides = rings.flatMap((r) => r.map((from, i): Side => ({ from, to: r[(i + 1) % r.length]!, done: false })))
  const leaving = new Map<string, Side[]>()
  for (const side of sides) {
    const there = leaving.get(String(side.from))
    if (there) there.push(side)
    else leaving.set(String(side.from), [side])
  }
  const angle = (a: Point2, b: Point2): number => Math.atan2(b[1] - a[1], b[0] - a[0])
  const turn = (v: number): number => ((v % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI)
  const out: Ring[] = []
  for (const start of sides) {
    const ring: Point2[] = []
    for (let side = start; !side.done; ) {
      side.done = true
      ring.push(side.from)
      // The inside lies left of both: the next side is the first one clockwise from where this one came from.
      const back = angle(side.to, side.from)
      const ways = (leaving.get(String(side.to)) ?? []).filter((s) => !s.done || s === start)
      const next = ways.sort((a, b) => turn(back - angle(a.from, a.to)) - turn(back - angle(b.from, b.to)))[0]
      if (!next) break
      side = next
    }
    if (ring.length >= 3) out.push(ring)
  }
  return out
}

const fixed = (v: number): number => Math.round(v * 1e6) / 1e6

interface Box {
  readonly x0: number
  readonly y0: number
  readonly x1: number
  readonly y1: number
}

function boxOfRing(ring: Ring): Box {
  const box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity }
  for (const [x, y] of ring) {
    box.x0 = Math.min(box.x0, x)
    box.y0 = Math.min(box.y0, y)
    box.x1 = Math.max(box.x1, x)
    box.y1 = Math.max(box.y1, y)
  }
  return box
}

const boxesMeet = (a: Box, b: Box): boolean =>
  a.x0 <= b.x1 + SAME && b.x0 <= a.x1 + SAME && a.y0 <= b.y1 + SAME && b.y0 <= a.y1 + SAME

/** Whether two rings cross or touch. */
function ringsMeet(a: Ring, b: Ring): boolean {
  const around = boxOfRing(b)
  return a.some((p, i) => {
    const q = a[(i + 1) % a.length]!
    const box = boxOfRing([p, q])
    if (!boxesMeet(box, around)) return false
    return b.some((r, j) => {
      const s = b[(j + 1) % b.length]!
      return boxesMeet(box, boxOfRing([r, s])) && segmentsMeet(p, q, r, s)
    })
  })
}

function segmentsMeet(p: Point2, q: Point2, r: Point2, s: Point2): boolean {
  const side = (a: Point2, b: Point2, c: Point2): number =>
    ((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])) / Math.hypot(b[0] - a[0], b[1] - a[1])
  const [d1, d2, d3, d4] = [side(p, q, r), side(p, q, s), side(r, s, p), side(r, s, q)]
  const apart = (a: number, b: number): boolean => (a > SAME && b > SAME) || (a < -SAME && b < -SAME)
  return !apart(d1, d2) && !apart(d3, d4)
}

/** Even-odd; on the line itself either answer. */
export function inRing(ring: Ring, [x, y]: Point2): boolean {
  let inside = false
  for (let i = 0; i < ring.length; i++) {
    const [ax, ay] = ring[i]!
    const [bx, by] = ring[(i + 1) % ring.length]!
    if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) inside = !inside
  }
  return inside
}
