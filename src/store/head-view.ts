/** The heads of a layout for the 3D view and its sliders: their moving parts, what these sweep, and which angles are free. Degrees and mm. */
import { layoutOf, type Placement, type Problem } from '../../solver/index.ts'
import { type HeadReport, headReports } from '../statics/head.ts'
import { type HeadParts, headParts } from '../statics/head-parts.ts'
import { blockedTilts } from '../statics/head-sweep.ts'
import { type Obstacle, obstaclesOf, othersOf } from '../statics/obstacles.ts'
import { type Interval, joined, without } from '../statics/plane.ts'

export interface HeadView {
  /** Index and id of the item. */
  readonly item: number
  readonly id: string
  readonly deck: number
  readonly parts: HeadParts
  readonly report: HeadReport
  /** What stands about it, with stacks as high as asked for. */
  readonly obstacles: readonly Obstacle[]
}

/** `stacked`: how much of the height reserved for stacks is filled, 0 to 1. Only heads that say what they carry. */
export function headsOf(problem: Problem, placements: readonly Placement[], stacked: number): HeadView[] {
  if (!problem.items.some((i) => i.footprint.head)) return []
  const layout = layoutOf(problem, placements)
  const all = obstaclesOf(layout).flatMap((o): Obstacle[] =>
    o.kind !== 'stack' ? [o] : stacked > 0 ? [{ ...o, z: [o.z[0], o.z[0] + (o.z[1] - o.z[0]) * stacked] }] : [],
  )
  const reports = new Map(headReports(problem, placements, { stacked }).map((r) => [r.item, r]))
  return layout.bodies.flatMap((body): HeadView[] => {
    const parts = headParts(problem, body)
    const report = reports.get(body.item.id)
    if (!parts || !report) return []
    return [
      { item: body.index, id: body.item.id, deck: body.deck, parts, report, obstacles: othersOf(all, body.index) },
    ]
  })
}

const clamped = (value: number, [lo, hi]: Interval): number => Math.min(hi, Math.max(lo, value))

export interface HeadPose {
  readonly pan: number
  readonly tilt: number
}

/** The nearest that this head can take. */
export const poseOf = ({ parts }: HeadView, { pan, tilt }: HeadPose): HeadPose => ({
  pan: clamped(pan, parts.pan),
  tilt: clamped(tilt, parts.tilt),
})

/** Tilts that are free at one pan. */
export const freeTiltsAt = ({ parts, obstacles }: HeadView, pan: number): Interval[] =>
  without(parts.tilt, joined(obstacles.flatMap((o) => blockedTilts(parts, o, pan))))

/** Whether a part of the head would be inside something there. */
export const meets = (head: HeadView, pose: HeadPose): boolean =>
  !freeTiltsAt(head, pose.pan).some(([lo, hi]) => pose.tilt >= lo - 1e-9 && pose.tilt <= hi + 1e-9)

/** The range that the sliders need for all heads of a layout; undefined without heads. */
export function sliderRange(heads: readonly HeadView[], which: 'pan' | 'tilt'): Interval | undefined {
  if (heads.length === 0) return undefined
  return [Math.min(...heads.map((h) => h.parts[which][0])), Math.max(...heads.map((h) => h.parts[which][1]))]
}
