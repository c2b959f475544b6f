/** Names and lengths of the findings; their words are in ../words.ts. */
import type { Problem } from '../problem.ts'
import { boundaryToRect, bounds, distance, pointDistance, type Region, rectInside, rectOverlaps } from '../shapes.ts'
import { type Rect, um } from '../units.ts'
import { deckCalled, say } from '../words.ts'
import type { Body } from './body.ts'

export const name = (body: Body): string => say(body.item.id)

export const deckName = (problem: Problem, deck: number): string => deckCalled(problem.decks[deck] ?? { id: `${deck}` })

/** Shortfalls are whole micrometres, rounded up: what must be given at least. */
export const short = (v: number): number => Math.max(0, Math.ceil(v - 0.001))

const inset = (r: Rect, s: number): Rect => ({
  x: um(r.x + s),
  y: um(r.y + s),
  w: um(Math.max(0, r.w - 2 * s)),
  h: um(Math.max(0, r.h - 2 * s)),
})

/** The least inset of `r` at which `fine` holds, by bisection to 0.0001 µm; half the smaller side where none does. */
function leastInset(r: Rect, fine: (r: Rect) => boolean): number {
  let lo = 0
  let hi = Math.min(r.w, r.h) / 2
  while (hi - lo > 0.0001) {
    const mid = (lo + hi) / 2
    if (fine(inset(r, mid))) hi = mid
    else lo = mid
  }
  return hi
}

/** How far two intervals reach into each other. */
export const intrusion = (a0: number, a1: number, b0: number, b1: number): number => Math.min(a1, b1) - Math.max(a0, b0)

/** How much a rectangle that overlaps a region (or comes nearer than `clearance`) must give way, Um. */
export function overlapDepth(region: Region, rect: Rect, clearance = 0): number {
  if (!rectOverlaps(region, rect)) return clearance - distance(region, rect)
  const b = bounds(region)
  const push = Math.min(rect.x + rect.w - b.x, b.x + b.w - rect.x, rect.y + rect.h - b.y, b.y + b.h - rect.y)
  return (
    clearance +
    Math.min(
      push,
      leastInset(rect, (r) => !rectOverlaps(region, r)),
    )
  )
}

/** How much a rectangle that is not `clearance` inside a region lacks, Um. */
export function insideShort(region: Region, rect: Rect, clearance = 0): number {
  const b = bounds(region)
  const past = Math.max(b.x - rect.x, b.y - rect.y, rect.x + rect.w - b.x - b.w, rect.y + rect.h - b.y - b.h)
  if (region.kind === 'rect' || past > 0) return clearance + past
  const corners = [
    [rect.x, rect.y],
    [rect.x + rect.w, rect.y],
    [rect.x + rect.w, rect.y + rect.h],
    [rect.x, rect.y + rect.h],
  ] as const
  const out = Math.max(...corners.map(([x, y]) => pointDistance(region, x, y)))
  if (out > 0) return clearance + out
  if (!rectInside(region, rect)) return clearance + leastInset(rect, (r) => rectInside(region, r))
  return clearance - boundaryToRect(region, rect)
}
