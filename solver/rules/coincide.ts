/** When a new hole or cut-out is one that is there already (contract R5, R1). */
import type { Shape } from '../problem.ts'
import type { Rect } from '../units.ts'
import type { DeckShapes } from './deck.ts'

/** How far sides and centres may be from those that are there, and how much of a corner may be rounded off, µm. */
export const NEAR = 100

/** The four sides of an opening that may be a cut-out, each as the least and the greatest coordinate of its two ends. */
export interface Sides {
  readonly left: readonly [number, number]
  readonly right: readonly [number, number]
  readonly back: readonly [number, number]
  readonly front: readonly [number, number]
}

/** Undefined for what is no four-sided opening, or has its corners rounded off by more than is near. */
export function sidesOf(shape: Shape): Sides | undefined {
  if (shape.kind === 'rect') {
    if (shape.radius * (Math.SQRT2 - 1) > NEAR) return undefined
    const { x, y, w, h } = shape
    return { left: [x, x], right: [x + w, x + w], back: [y, y], front: [y + h, y + h] }
  }
  if (shape.kind !== 'polygon' || shape.points.length !== 4 || shape.points.some((p) => p.bulge !== 0)) return undefined
  const along = (axis: 'x' | 'y') => [...shape.points].sort((a, b) => a[axis] - b[axis])
  const xs = along('x')
  const ys = along('y')
  // one corner where left and back meet: else it is no rectangle that is a little askew
  if (xs.slice(0, 2).filter((p) => ys.indexOf(p) < 2).length !== 1) return undefined
  return {
    left: [xs[0]!.x, xs[1]!.x],
    right: [xs[2]!.x, xs[3]!.x],
    back: [ys[0]!.y, ys[1]!.y],
    front: [ys[2]!.y, ys[3]!.y],
  }
}

/** A cut-out (relative to the corner at x, y) within 0.1 mm of an opening, side by side. */
export function coincides(cut: Rect, x: number, y: number, { left, right, back, front }: Sides): boolean {
  const near = (at: number, [lo, hi]: readonly [number, number]) => at >= hi - NEAR && at <= lo + NEAR
  return (
    near(x + cut.x, left) && near(y + cut.y, back) && near(x + cut.x + cut.w, right) && near(y + cut.y + cut.h, front)
  )
}

/** A hole within 0.1 mm of an existing one that is as wide, or up to 0.5 mm wider. */
export function reuses(x: number, y: number, diameter: number, deck: DeckShapes): boolean {
  return deck.holes.some(
    (h) =>
      h.diameter >= diameter &&
      h.diameter <= diameter + 500 &&
      (h.x - x) * (h.x - x) + (h.y - y) * (h.y - y) <= NEAR * NEAR,
  )
}

/** Could a hole of this diameter be an existing one somewhere? */
export const mayReuse = (diameter: number, deck: DeckShapes): boolean =>
  deck.holes.some((h) => h.diameter >= diameter && h.diameter <= diameter + 500)
