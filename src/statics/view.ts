/**
 * What a camera or a range finder sees, and what stands in it. Every obstacle is an upright prism; seen from the lens it is the hull
 * of its corners on a picture plane (pinhole projection), cut to the pyramid of sight. Plates that are not convex are taken as
 * their hull. What is nearer to the lens than `NEAR` is not counted: it is the lens's own rim.
 */
import { type Body, type Layout, layoutOf, type Placement, type Problem, type View } from '../../solver/index.ts'
import type { StaticsFinding } from './finding.ts'
import { headParts } from './head-parts.ts'
import { type Obstacle, obstacleCalled, obstaclesOf, othersOf } from './obstacles.ts'
import { areaOf, convexOf, cutTo, degrees, type Interval, joined, radians, rectangle, without } from './plane.ts'
import type { Point3 } from './weights.ts'
import { found } from './words.ts'

export interface Blocker {
  readonly id: string
  readonly kind: Obstacle['kind']
  /** Degrees from the axis of sight that it covers: to the right, and up. */
  readonly across: Interval
  readonly up: Interval
  /** Of the picture's area. */
  readonly share: number
}

export interface ViewReport {
  readonly item: string
  /** Of a head; 0 of a part that does not move. */
  readonly pan: number
  readonly tilt: number
  readonly width: number
  readonly height: number
  readonly blockers: readonly Blocker[]
  /** Degrees across in which nothing stands, at any height of the picture. */
  readonly clear: readonly Interval[]
  readonly findings: readonly StaticsFinding[]
}

interface Lens {
  readonly at: Point3
  /** Degrees anticlockwise from +y in plan, and up from level. */
  readonly turn: number
  readonly tilt: number
}

export interface Pose {
  readonly pan: number
  readonly tilt: number
}

const NEAR = 1

/** One report for everything placed that looks somewhere; heads straight ahead and level, or as near to it as they go. */
export function viewReports(problem: Problem, placements: readonly Placement[]): ViewReport[] {
  const layout = layoutOf(problem, placements)
  const all = obstaclesOf(layout)
  return layout.bodies.flatMap((b) => viewOf(layout, all, b) ?? [])
}

/** What one item sees at a pose, for a slider. Undefined where it looks nowhere. */
export function viewAt(
  problem: Problem,
  placements: readonly Placement[],
  item: number,
  pose: Pose,
): ViewReport | undefined {
  const layout = layoutOf(problem, placements)
  const body = layout.bodyOf.get(item)
  return body && viewOf(layout, obstaclesOf(layout), body, pose)
}

const clamp = (v: number, [lo, hi]: Interval): number => Math.min(hi, Math.max(lo, v))

function viewOf(layout: Layout, all: readonly Obstacle[], body: Body, pose?: Pose): ViewReport | undefined {
  const f = body.item.footprint
  const h = headParts(layout.problem, body)
  if (h && f.head?.view) {
    const { view } = f.head
    const pan = pose?.pan ?? clamp(0, h.pan)
    const tilt = pose?.tilt ?? clamp(0, h.tilt)
    const [c, s] = [Math.cos(radians(tilt)), Math.sin(radians(tilt))]
    const [y, z] = [view.from.y / 1000, view.from.z / 1000]
    const inPlan = turnBy({ x: view.from.x / 1000, y: h.ahead + y * c - z * s }, pan + h.base)
    const at = { x: h.pivot.x + inPlan.x, y: h.pivot.y + inPlan.y, z: h.height + y * s + z * c }
    return report(layout.problem, all, body, view, { at, turn: pan + h.base, tilt }, { pan, tilt })
  }
  if (!f.view) return undefined
  const w = f.width / 1000
  const d = f.depth / 1000
  const middle = { x: f.view.from.x / 1000 - w / 2, y: f.view.from.y / 1000 - d / 2 }
  const inPlan = turnBy(middle, 90 * body.placement.turn)
  const { rect: r } = body
  const at = {
    x: (r.x + r.w / 2) / 1000 + inPlan.x,
    y: (r.y + r.h / 2) / 1000 + inPlan.y,
    z: (body.bottom + f.view.from.z) / 1000,
  }
  const lens = { at, turn: f.view.towards + 90 * body.placement.turn, tilt: 0 }
  return report(layout.problem, all, body, f.view, lens, { pan: 0, tilt: 0 })
}

function turnBy(p: { x: number; y: number }, deg: number): { x: number; y: number } {
  const c = Math.cos(radians(deg))
  const s = Math.sin(radians(deg))
  return { x: c * p.x - s * p.y, y: s * p.x + c * p.y }
}

function report(
  problem: Problem,
  all: readonly Obstacle[],
  body: Body,
  view: View,
  lens: Lens,
  pose: Pose,
): ViewReport {
  const frame = lensFrame(lens)
  const blockers = othersOf(all, body.index).flatMap((o) => seen(o, view, frame) ?? [])
  const half = view.width / 2
  const clear = without([-half, half], joined(blockers.map((b) => b.across)))
  const item = body.item.id
  const findings = blockers
    .filter((b) => b.share >= LEAST_SHARE)
    .map((b): StaticsFinding => {
      const hidden = { across: b.across[1] - b.across[0], up: b.up[1] - b.up[0], share: b.share }
      const text = found.viewHidden(
        { ...b, called: obstacleCalled(problem, b) },
        hidden,
        view,
        item,
        body.item.footprint.head ? pose : undefined,
      )
      return { kind: 'view-hidden', topic: 'view', weight: 'worth-knowing', items: [item, b.id], text }
    })
  return { item, ...pose, width: view.width, height: view.height, blockers, clear, findings }
}

/** Of the picture; less is not worth a sentence. */
const LEAST_SHARE = 0.001

/** Corners in the lens's frame: x right, y ahead, z up. */
function lensFrame(lens: Lens): (x: number, y: number, z: number) => Point3 {
  const [ct, st] = [Math.cos(radians(lens.turn)), Math.sin(radians(lens.turn))]
  const [c, s] = [Math.cos(radians(lens.tilt)), Math.sin(radians(lens.tilt))]
  return (x, y, z) => {
    const [dx, dy, up] = [x - lens.at.x, y - lens.at.y, z - lens.at.z]
    const ahead = ct * dy - st * dx
    return { x: ct * dx + st * dy, y: ahead * c + up * s, z: up * c - ahead * s }
  }
}

function seen(o: Obstacle, view: View, toLens: (x: number, y: number, z: number) => Point3): Blocker | undefined {
  const plan = o.hull
  if (plan.length < 3) return undefined
  const low = plan.map((p) => toLens(p.x, p.y, o.z[0]))
  const top = plan.map((p) => toLens(p.x, p.y, o.z[1]))
  const x = Math.tan(radians(view.width / 2))
  const y = Math.tan(radians(view.height / 2))
  const all = [...low, ...top]
  const outside = (beyond: (p: Point3) => boolean): boolean => all.every(beyond)
  if (outside((p) => p.y <= NEAR)) return undefined
  // wholly beyond one side of the pyramid; each of these planes goes through the lens
  if (outside((p) => p.x >= x * p.y) || outside((p) => -p.x >= x * p.y)) return undefined
  if (outside((p) => p.z >= y * p.y) || outside((p) => -p.z >= y * p.y)) return undefined
  const sides = plan.map((_, i) => {
    const j = (i + 1) % plan.length
    return [low[i]!, low[j]!, top[j]!, top[i]!]
  })
  const far = view.range === undefined ? Number.POSITIVE_INFINITY : view.range / 1000
  // The corners of what lies between two planes across the axis are on its faces, so that faces are enough to cut.
  const corners = [low, top, ...sides].flatMap((face) => between(face, NEAR, far))
  const picture = convexOf(corners.map((p) => ({ x: p.x / p.y, y: p.z / p.y })))
  if (picture.length < 3) return undefined
  const hidden = cutTo(picture, rectangle(-x, -y, x, y))
  const share = areaOf(hidden) / (4 * x * y)
  if (share < 1e-9) return undefined
  const angles = (of: (p: { x: number; y: number }) => number): Interval => {
    const all = hidden.map((p) => degrees(Math.atan(of(p))))
    return [Math.min(...all), Math.max(...all)]
  }
  return { id: o.id, kind: o.kind, across: angles((p) => p.x), up: angles((p) => p.y), share }
}

/** The part of a face between two distances ahead. */
function between(face: readonly Point3[], near: number, far: number): Point3[] {
  const ahead = clip(face, (p) => p.y - near)
  return Number.isFinite(far) ? clip(ahead, (p) => far - p.y) : ahead
}

function clip(face: readonly Point3[], keep: (p: Point3) => number): Point3[] {
  const out: Point3[] = []
  for (const [i, p] of face.entries()) {
    const q = face[(i + 1) % face.length]!
    const dp = keep(p)
    const dq = keep(q)
    if (dp >= 0) out.push(p)
    if ((dp > 0 && dq < 0) || (dp < 0 && dq > 0)) {
      const t = dp / (dp - dq)
      out.push({ x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y), z: p.z + t * (q.z - p.z) })
    }
  }
  return out
}
