/** Measuring between two points: state of the tool, and its strokes. Coordinates are those of one deck, Um. */
import type { Placement, Problem } from '../../solver/index.ts'
import { turnPoint } from '../../solver/index.ts'
import { between, bodyBox, type Spot } from '../store/measure.ts'
import { boxOf } from '../store/outline.ts'
import { inMm } from '../store/sentences.ts'
import { words } from '../words/index.ts'
import { OverLine } from './over-line.tsx'

export interface Measuring {
  readonly deck: number
  /** Where the cross is. */
  readonly at: Spot
  /** None, the first, or both. */
  readonly points: readonly Spot[]
}

/** Corners and middles of bodies and of the deck, and middles of holes: what a measurer means when it points near them. */
export function marksOf(problem: Problem, placements: readonly Placement[], deck: number): Spot[] {
  const plate = problem.decks[deck]
  if (!plate) return []
  const boxes = [boxOf(plate.outline), ...placements.filter((p) => p.deck === deck).map((p) => bodyBox(problem, p))]
  const corners = boxes.flatMap(({ x, y, w, h }) => [
    { x, y },
    { x: x + w, y },
    { x, y: y + h },
    { x: x + w, y: y + h },
    { x: x + w / 2, y: y + h / 2 },
  ])
  const drilled = placements
    .filter((p) => p.deck === deck)
    .flatMap((p) => {
      const footprint = problem.items[p.item]?.footprint
      if (!footprint || (footprint.mount.kind !== 'screw' && footprint.mount.kind !== 'drop-in')) return []
      return footprint.mount.holes.map((hole) => {
        const at = turnPoint(hole.at, footprint.width, footprint.depth, p.turn)
        return { x: p.at.x + at.x, y: p.at.y + at.y }
      })
    })
  return [...corners, ...drilled, ...plate.holes.map((h) => ({ x: h.at.x, y: h.at.y }))]
}

/** The mark within reach, or the point itself. */
export function pulledTo(marks: readonly Spot[], at: Spot, reach: number): Spot {
  let best = at
  let far = reach
  for (const mark of marks) {
    const d = Math.hypot(mark.x - at.x, mark.y - at.y)
    if (d <= far) {
      far = d
      best = mark
    }
  }
  return best
}

/** With another point: a third begins anew. */
export const pointSet = (now: Measuring, deck: number, at: Spot): Measuring => ({
  deck,
  at,
  points: now.points.length === 1 && now.deck === deck ? [...now.points, at] : [at],
})

/** What there is to say, from the last point set. */
export function measuredText({ points, at }: Measuring): string {
  const [a, b] = points
  if (a && b) {
    const { length, dx, dy } = between(a, b)
    return words.plan.measured(inMm(length), inMm(dx), inMm(dy))
  }
  if (a) return words.plan.firstPoint(inMm(a.x), inMm(a.y))
  return words.plan.cross(inMm(at.x), inMm(at.y))
}

export function MeasureStrokes({ measuring, scale }: { readonly measuring: Measuring; readonly scale: number }) {
  const { points, at } = measuring
  const a = points[0]
  const b = points[1] ?? (a && at)
  const n = (v: number): number => v / 1000
  const c = 9 * scale
  const cross = (p: Spot): string => `M${n(p.x) - c} ${n(p.y)}h${2 * c}M${n(p.x)} ${n(p.y) - c}v${2 * c}`
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus
    <g className="measuring" aria-hidden="true">
      {points.length < 2 && <path className="cross" d={cross(at)} />}
      {points.map((p) => (
        <path key={`${p.x} ${p.y}`} className="cross set" d={cross(p)} />
      ))}
      {a && b && (
        <>
          <path className="legs" d={`M${n(a.x)} ${n(a.y)}H${n(b.x)}V${n(b.y)}`} />
          <path className="length" d={`M${n(a.x)} ${n(a.y)}L${n(b.x)} ${n(b.y)}`} />
          <OverLine
            text={inMm(between(a, b).length)}
            size={12 * scale}
            transform={`translate(${n(a.x + b.x) / 2} ${n(a.y + b.y) / 2 + 5 * scale}) scale(1 -1)`}
          />
        </>
      )}
    </g>
  )
}
