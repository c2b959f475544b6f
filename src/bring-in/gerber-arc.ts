/**
 * Circular interpolation (the Gerber layer format's §4.7): I and J lead from the beginning to the centre; with G75 they have
 * signs and equal ends mean a full circle, with the deprecated G74 they have none and the arc is a quarter at most.
 */
import { distance, type Pt } from './board-contour.ts'
import { gerber } from './words-boards.ts'

/** How far the two radii may differ, mm: what rounding to a coarse format (0.001 inch) costs. */
const TOLERANCE = 0.03

export type Arc =
  | { readonly kind: 'circle'; readonly centre: Pt; readonly radius: number }
  | { readonly kind: 'arc'; readonly parts: readonly { readonly from: Pt; readonly to: Pt; readonly bulge: number }[] }

/** The arc, or what is wrong with it in words. mm */
export function arcTo(from: Pt, to: Pt, offset: Pt, anticlockwise: boolean, single: boolean): Arc | string {
  const signs = single ? [1, -1] : [1]
  let best: { centre: Pt; sweep: number; miss: number } | undefined
  for (const sx of signs) {
    for (const sy of signs) {
      const centre = { x: from.x + sx * offset.x, y: from.y + sy * offset.y }
      const miss = Math.abs(distance(centre, from) - distance(centre, to))
      const sweep = sweepOf(centre, from, to, anticlockwise)
      // Half a degree of grace: the ends are rounded.
      if (single && Math.abs(sweep) > Math.PI / 2 + 0.01) continue
      if (best === undefined || miss < best.miss) best = { centre, sweep, miss }
    }
  }
  const radius = Math.hypot(offset.x, offset.y)
  if (radius === 0) return gerber.noRadius
  if (distance(from, to) < 1e-9) {
    return single
      ? { kind: 'arc', parts: [] }
      : { kind: 'circle', centre: { x: from.x + offset.x, y: from.y + offset.y }, radius }
  }
  if (best === undefined) return gerber.noCentre
  if (best.miss > TOLERANCE) return gerber.radiiDiffer(best.miss.toFixed(3))
  const { centre, sweep } = best
  if (Math.abs(sweep) <= Math.PI) return { kind: 'arc', parts: [{ from, to, bulge: Math.tan(sweep / 4) }] }
  // Near a full turn the bulge grows without bound, so a long arc is told in two.
  const half = Math.atan2(from.y - centre.y, from.x - centre.x) + sweep / 2
  const mid = { x: centre.x + radius * Math.cos(half), y: centre.y + radius * Math.sin(half) }
  const bulge = Math.tan(sweep / 8)
  return {
    kind: 'arc',
    parts: [
      { from, to: mid, bulge },
      { from: mid, to, bulge },
    ],
  }
}

function sweepOf(centre: Pt, from: Pt, to: Pt, anticlockwise: boolean): number {
  const turn = Math.atan2(to.y - centre.y, to.x - centre.x) - Math.atan2(from.y - centre.y, from.x - centre.x)
  const ahead = turn - Math.floor(turn / (2 * Math.PI)) * 2 * Math.PI
  return anticlockwise ? ahead : ahead - 2 * Math.PI
}
