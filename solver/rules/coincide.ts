/** When a new hole or cut-out is one that is there already (contract R5, R1). */
import type { Rect } from '../units.ts'
import type { DeckShapes } from './deck.ts'

const NEAR = 100

/** A cut-out (relative to the corner at x, y) within 0.1 mm of a rectangular opening, side by side. */
export function coincides(cut: Rect, x: number, y: number, opening: Rect): boolean {
  return (
    Math.abs(x + cut.x - opening.x) <= NEAR &&
    Math.abs(y + cut.y - opening.y) <= NEAR &&
    Math.abs(x + cut.x + cut.w - opening.x - opening.w) <= NEAR &&
    Math.abs(y + cut.y + cut.h - opening.y - opening.h) <= NEAR
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
