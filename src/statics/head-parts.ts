/**
 * A head's moving parts as boxes in mm. The payload pans about the pivot and tilts about an axis across it; a bracket pans only.
 * Since the tilt axis runs across, a payload box keeps its left and right side while it tilts: what it sweeps is that width times
 * what its side view sweeps, and everything below works on side views (turning.ts).
 */
import { type Body, type Problem, pointOn, type Solid } from '../../solver/index.ts'
import { type Interval, type Polygon, rectangle } from './plane.ts'
import type { Point2 } from './tip.ts'

export interface MovingPart {
  readonly id: string
  readonly tilts: boolean
  /** Left and right of the pivot, mm. */
  readonly across: Interval
  /** Side view (ahead, up), about the tilt axis. */
  readonly side: Polygon
}

export interface HeadParts {
  readonly pivot: Point2
  /** Degrees anticlockwise of the frame "right, ahead" at pan 0: pan angles and these add up. */
  readonly base: number
  readonly pan: Interval
  readonly tilt: Interval
  /** How far ahead of the pivot the tilt axis is, and how high over the ground, mm. */
  readonly ahead: number
  readonly height: number
  readonly parts: readonly MovingPart[]
}

/** Undefined for what is no head, or says nothing of what it carries: then the rules' sweep is all that is known. */
export function headParts(problem: Problem, body: Body): HeadParts | undefined {
  const f = body.item.footprint
  const { head } = f
  if (!head || ((head.payload ?? []).length === 0 && (head.bracket ?? []).length === 0)) return undefined
  const pivot = pointOn(f, body.placement, head.pivot)
  const deck = problem.decks[body.deck]!.z / 1000
  const ahead = (head.tiltAxis?.ahead ?? 0) / 1000
  const axis = head.tiltAxis ? head.tiltAxis.z / 1000 : (head.z[0] + head.z[1]) / 2000
  const part = (s: Solid, tilts: boolean): MovingPart => {
    const [y, z] = tilts ? [s.at.y / 1000, s.at.z / 1000] : [s.at.y / 1000 - ahead, s.at.z / 1000 - axis]
    return {
      id: s.id,
      tilts,
      across: [s.at.x / 1000, (s.at.x + s.width) / 1000],
      side: rectangle(y, z, y + s.depth / 1000, z + s.height / 1000),
    }
  }
  return {
    pivot: { x: pivot.x / 1000, y: pivot.y / 1000 },
    base: 90 * body.placement.turn,
    pan: [head.pan[0], head.pan[1]],
    tilt: head.tilt ? [head.tilt[0], head.tilt[1]] : [0, 0],
    ahead,
    height: deck + axis,
    parts: [...(head.payload ?? []).map((s) => part(s, true)), ...(head.bracket ?? []).map((s) => part(s, false))],
  }
}
