/**
 * No line is cut twice, nor any part of one: contours that share a stretch (a slot against an opening, an opening on the
 * plate's edge) become the line around what they leave together. Two openings side by side become one; an opening on the
 * edge becomes a notch of the outline. Contours that merely cross or touch in a point stay as they are.
 *
 * Exact for lines and arcs: all segments are split where they meet, and of the pieces those stay that have solid deck on
 * one side alone, once each.
 */
import {
  along,
  type Box,
  boxOf,
  type Contour,
  path,
  type Segment,
  segment,
  segmentsOf,
  signedArea,
  type Vertex,
} from './contour.ts'
import { distanceTo, meetings, type Xy } from './meet.ts'
import { lengthOf, near } from './near.ts'
import { inside } from './order.ts'
import { called, refused } from './words.ts'

/** `solid`: deck lies inside the line, as with an outline; of all others it lies outside. */
export interface Named {
  readonly name: string
  readonly contour: Contour
  readonly solid: boolean
}

/** Thrown when contours that share a stretch cannot be made one; `message` names them. */
export class MergeError extends Error {}

/** Lines this near to one another are one line, mm: files are rounded to 0.001. */
const SAME = 0.0015
/** Shared for less than this is a touch, mm. */
const TOUCH = 0.01
/** How far beside a piece one looks for solid deck, mm. */
const BESIDE = 0.005

/** Groups of indices of contours that share a stretch, directly or through others; contours on their own are left out. */
export function sharing(contours: readonly Contour[]): number[][] {
  const owners: number[] = []
  const segments: Segment[] = []
  const boxes = contours.map(boxOf)
  contours.forEach((c, i) => {
    // Only what reaches into the box of another contour can lie on its line.
    const others = boxes.filter((box, k) => k !== i && meet(box, boxes[i]!))
    if (others.length === 0) return
    for (const s of segmentsFor(c)) {
      const bow = s.arc ? s.arc.r : 0
      const own = {
        x0: Math.min(s.a.x, s.b.x) - bow,
        y0: Math.min(s.a.y, s.b.y) - bow,
        x1: Math.max(s.a.x, s.b.x) + bow,
        y1: Math.max(s.a.y, s.b.y) + bow,
      }
      if (!others.some((box) => meet(box, own))) continue
      segments.push(s)
      owners.push(i)
    }
  })
  const root = contours.map((_, i) => i)
  const find = (i: number): number => (root[i] === i ? i : find(root[i]!))
  near(segments, 0.05).pairs((i, k) => {
    const [a, b] = [find(owners[i]!), find(owners[k]!)]
    if (a !== b && shared(segments[i]!, segments[k]!)) root[Math.max(a, b)] = Math.min(a, b)
  })
  const groups = new Map<number, number[]>()
  contours.forEach((_, i) => {
    groups.set(find(i), [...(groups.get(find(i)) ?? []), i])
  })
  return [...groups.values()].filter((g) => g.length > 1)
}

const meet = (a: Box, b: Box): boolean =>
  a.x0 <= b.x1 + TOUCH && b.x0 <= a.x1 + TOUCH && a.y0 <= b.y1 + TOUCH && b.y0 <= a.y1 + TOUCH

const segmentsFor = (c: Contour): Segment[] =>
  segmentsOf(
    c.kind === 'path'
      ? c.points
      : [
          { x: c.cx + c.r, y: c.cy, bulge: 1 },
          { x: c.cx - c.r, y: c.cy, bulge: 1 },
        ],
  )

/** Whether two segments run along one another. */
function shared(s: Segment, t: Segment): boolean {
  if ((s.arc === undefined) !== (t.arc === undefined)) return false
  if (s.arc && t.arc && Math.abs(s.arc.r - t.arc.r) > 2 * SAME) return false
  return split(s, [t.a, t.b]).some(
    (piece) => lengthOf(piece) > TOUCH && [0.25, 0.5, 0.75].every((k) => distanceTo(t, along(piece, k)) < SAME),
  )
}

/** A segment cut at those of the points that lie on it. */
function split(s: Segment, points: readonly Xy[]): Segment[] {
  const length = lengthOf(s)
  const cuts = points
    .filter((p) => distanceTo(s, p) < SAME)
    .map((p) => ({ p, t: fraction(s, p) }))
    .filter(({ t }) => t * length > SAME && (1 - t) * length > SAME)
    .sort((a, b) => a.t - b.t)
    .filter(({ t }, i, all) => i === 0 || (t - all[i - 1]!.t) * length > SAME)
  const ends = [{ p: s.a as Xy, t: 0 }, ...cuts, { p: s.b as Xy, t: 1 }]
  return ends.slice(1).map((to, i) => {
    const from = ends[i]!
    const bulge = s.arc ? Math.tan((s.arc.sweep * (to.t - from.t)) / 4) : 0
    return segment({ x: from.p.x, y: from.p.y, bulge }, { x: to.p.x, y: to.p.y, bulge: 0 })
  })
}

/** How far along a segment a point of it lies, 0–1. */
function fraction(s: Segment, p: Xy): number {
  if (!s.arc) {
    const [dx, dy] = [s.b.x - s.a.x, s.b.y - s.a.y]
    return ((p.x - s.a.x) * dx + (p.y - s.a.y) * dy) / (dx * dx + dy * dy)
  }
  const turn = Math.atan2(p.y - s.arc.cy, p.x - s.arc.cx) - Math.atan2(s.a.y - s.arc.cy, s.a.x - s.arc.cx)
  const way = (((turn * Math.sign(s.arc.sweep)) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI)
  // A hair before the start is the start, not a whole turn.
  return (2 * Math.PI - way) * s.arc.r < SAME ? 0 : way / Math.abs(s.arc.sweep)
}

/**
 * The lines around what a group of contours leaves solid: every outline, less everything that is cut out of it. Throws
 * MergeError where they come so near to one another, at a slant, that no clean line is left.
 */
export function merged(group: readonly Named[]): Named[] {
  const name = called.merged(group.map((c) => c.name))
  const outlines = group.filter((c) => c.solid)
  const voids = group.filter((c) => !c.solid)
  const solid = (p: Xy): boolean =>
    (outlines.length === 0 || outlines.some((o) => inside(o.contour, p))) && !voids.some((v) => inside(v.contour, p))
  const pieces: Segment[] = []
  const doubled: Segment[] = []
  const all = group.map((c) => segmentsFor(c.contour))
  all.forEach((own, i) => {
    const others = all.filter((_, k) => k !== i).flat()
    const there = near(others, 0.05)
    let sides = [false, false]
    own.forEach((s, first) => {
      const reach = lengthOf(s) / 2 + (s.arc ? s.arc.r : 0) + 0.01
      const close = [...new Set(there.around(along(s, 0.5), reach))].map((k) => others[k]!)
      const parts = split(
        s,
        close.flatMap((t) => [t.a, t.b, ...meetings(s, t)]),
      )
      parts.forEach((piece, k) => {
        const m = along(piece, 0.5)
        const meets = close.some((t) => distanceTo(t, piece.a) < 2 * SAME)
        // What lies beside a contour changes only where another one meets it.
        if (meets || (first === 0 && k === 0)) {
          const n = leftOf(piece)
          sides = [1, -1].map((side) => solid({ x: m.x + side * n.x * BESIDE, y: m.y + side * n.y * BESIDE }))
        }
        if (sides[0] === sides[1]) return
        const kept = sides[0] ? piece : turned(piece)
        if (meets) {
          const again = (p: Segment): boolean =>
            Math.hypot(p.a.x - kept.a.x, p.a.y - kept.a.y) < 2 * SAME &&
            Math.hypot(p.b.x - kept.b.x, p.b.y - kept.b.y) < 2 * SAME &&
            distanceTo(p, m) < 2 * SAME
          if (doubled.some(again)) return
          doubled.push(kept)
        }
        pieces.push(kept)
      })
    })
  })
  // What is shorter than the gap that a chain may bridge would close it at once.
  const loops = chained(pieces.filter((p) => lengthOf(p) > 2 * SAME))
  if (!loops) throw new MergeError(refused.alongOneAnother(name))
  const left = loops.filter((points) => !sliver(points))
  if (left.length === 0) throw new MergeError(refused.nothingLeft(name))
  return left.map((points) => ({ name, contour: simplified(points), solid: signedArea(points) > 0 }))
}

/** Narrower than anyone looks beside a line. */
function sliver(points: readonly Vertex[]): boolean {
  if (points.length < 2) return true
  const around = segmentsOf(points).reduce((sum, s) => sum + lengthOf(s), 0)
  return Math.abs(signedArea(points)) < (around * BESIDE) / 2
}

/** Unit vector to the left of the way, at the middle. */
function leftOf(s: Segment): Xy {
  if (!s.arc) {
    const d = lengthOf(s)
    return { x: -(s.b.y - s.a.y) / d, y: (s.b.x - s.a.x) / d }
  }
  const m = along(s, 0.5)
  const way = Math.sign(s.arc.sweep)
  return { x: (way * (s.arc.cx - m.x)) / s.arc.r, y: (way * (s.arc.cy - m.y)) / s.arc.r }
}

const turned = (s: Segment): Segment =>
  segment({ x: s.b.x, y: s.b.y, bulge: s.a.bulge === 0 ? 0 : -s.a.bulge }, { x: s.a.x, y: s.a.y, bulge: 0 })

/** Pieces with solid deck at their left, end to end. Where several go on, the one most to the right, around one void. */
function chained(pieces: readonly Segment[]): Vertex[][] | undefined {
  const gap = 4 * SAME
  const cell = (v: number): number => Math.round(v / 0.05)
  const starts = new Map<string, Segment[]>()
  for (const p of pieces) {
    for (const x of new Set([cell(p.a.x - gap), cell(p.a.x + gap)])) {
      for (const y of new Set([cell(p.a.y - gap), cell(p.a.y + gap)])) {
        starts.set(`${x} ${y}`, [...(starts.get(`${x} ${y}`) ?? []), p])
      }
    }
  }
  const open = new Set(pieces)
  const loops: Vertex[][] = []
  for (const first of pieces) {
    if (!open.delete(first)) continue
    const loop = [first]
    for (;;) {
      const last = loop[loop.length - 1]!
      if (Math.hypot(last.b.x - first.a.x, last.b.y - first.a.y) < gap) break
      const next = (starts.get(`${cell(last.b.x)} ${cell(last.b.y)}`) ?? [])
        .filter((p) => open.has(p) && Math.hypot(p.a.x - last.b.x, p.a.y - last.b.y) < gap)
        .sort((p, q) => bend(last, p) - bend(last, q))[0]
      if (!next) return undefined
      open.delete(next)
      loop.push(next)
    }
    loops.push(loop.map((s) => s.a))
  }
  return loops
}

/** Turn from the end of one piece into the start of another, negative to the right. */
function bend(s: Segment, t: Segment): number {
  const [h, g] = [direction(s, 1), direction(t, 0)]
  return Math.atan2(h.x * g.y - h.y * g.x, h.x * g.x + h.y * g.y)
}

function direction(s: Segment, end: 0 | 1): Xy {
  if (!s.arc) return { x: s.b.x - s.a.x, y: s.b.y - s.a.y }
  const p = end === 0 ? s.a : s.b
  const way = Math.sign(s.arc.sweep)
  return { x: -way * (p.y - s.arc.cy), y: way * (p.x - s.arc.cx) }
}

/** Without corners between two pieces of one line or one arc. */
function simplified(points: readonly Vertex[]): Contour {
  let kept = segmentsOf(path(points).points)
  for (let i = 0; kept.length > 2 && i < kept.length; ) {
    const [s, t] = [kept[i]!, kept[(i + 1) % kept.length]!]
    const joined = joinedUp(s, t)
    if (!joined) {
      i++
      continue
    }
    kept = i + 1 < kept.length ? [...kept.slice(0, i), joined, ...kept.slice(i + 2)] : [joined, ...kept.slice(1, i)]
  }
  return path(kept.map((s) => s.a))
}

/** Two segments as one, where they are one line, or one arc of no more than half a turn. */
function joinedUp(s: Segment, t: Segment): Segment | undefined {
  if (!s.arc && !t.arc) {
    const one = segment(s.a, t.b)
    const straight = Math.abs(bend(s, t)) < Math.PI / 2
    return straight && lengthOf(one) > 0 && distanceTo(one, s.b) < 1e-4 ? one : undefined
  }
  if (!s.arc || !t.arc) return undefined
  const sweep = s.arc.sweep + t.arc.sweep
  const same = Math.hypot(s.arc.cx - t.arc.cx, s.arc.cy - t.arc.cy) < 1e-4 && Math.abs(s.arc.r - t.arc.r) < 1e-4
  if (!same || s.arc.sweep * t.arc.sweep < 0 || Math.abs(sweep) > Math.PI * 1.0001) return undefined
  return segment({ x: s.a.x, y: s.a.y, bulge: Math.tan(sweep / 4) }, t.b)
}

/** Contours that share no stretch any more, each merged one at the place of its group's first. Throws MergeError. */
export const apart = (contours: readonly Named[]): Named[] =>
  mergeGroups(contours, sharing(contours.map((c) => c.contour)))

/** The list with each group replaced by what it leaves, at the place of its first. */
export function mergeGroups(contours: readonly Named[], groups: readonly (readonly number[])[]): Named[] {
  return contours.flatMap((c, i) => {
    const group = groups.find((g) => g.includes(i))
    if (!group) return [c]
    return group[0] === i ? merged(group.map((k) => contours[k]!)) : []
  })
}
