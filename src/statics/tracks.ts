/**
 * What each track carries: two lines of contact, the hull's left and right edge, and the lever rule between them. Along
 * the tracks the same rule says how much rests on their front and rear ends. Grams as shares, newtons by the standard
 * acceleration 9.80665 m/s² (3rd CGPM 1901). On a slope only the part of the weight across the surface presses, ×cos.
 */
import type { Degree, Newton } from '../model/quantities.ts'
import { type HullEdge, onSlope, type Point2 } from './tip.ts'
import type { Gravity } from './weights.ts'

export const GRAVITY = 9.80665

export interface TrackLoad {
  /** Shares of what presses on the ground; they add up to 1, and one below 0 means that the track lifts. */
  readonly left: number
  readonly right: number
  readonly front: number
  readonly back: number
  readonly leftForce: Newton
  readonly rightForce: Newton
}

export interface Ground {
  readonly slope: Degree
  /** Downhill in plan, length 1. */
  readonly towards: Point2
}

export const LEVEL: Ground = { slope: 0, towards: { x: 0, y: 1 } }

export interface Span {
  readonly left: number
  readonly right: number
  readonly back: number
  readonly front: number
}

/** mm. `edges` not empty. */
export function spanOf(edges: readonly HullEdge[]): Span {
  const xs = edges.map((e) => e.from.x)
  const ys = edges.map((e) => e.from.y)
  return { left: Math.min(...xs), right: Math.max(...xs), back: Math.min(...ys), front: Math.max(...ys) }
}

/** `edges` not empty. */
export function trackLoad(edges: readonly HullEdge[], g: Gravity, ground: Ground = LEVEL): TrackLoad {
  const s = spanOf(edges)
  const p = onSlope(g.centre, ground.slope, ground.towards)
  const right = (p.x - s.left) / (s.right - s.left)
  const front = (p.y - s.back) / (s.front - s.back)
  const force = (g.mass / 1000) * GRAVITY * Math.cos((ground.slope * Math.PI) / 180)
  return { left: 1 - right, right, front, back: 1 - front, leftForce: (1 - right) * force, rightForce: right * force }
}
