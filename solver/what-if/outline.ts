/** A deck made longer or shorter, wider or narrower, by moving its far edge; whatever else is on it stays where it is. */
import { openingsOf } from '../check/layout.ts'
import type { Problem, Shape } from '../problem.ts'
import { bounds, containsPoint, discInside, prepare, type Region, rectInside } from '../shapes.ts'
import { along } from '../shapes-pieces.ts'
import { type Um, um } from '../units.ts'

/** `length` runs from back to front (y), `width` from left to right (x). */
export type Way = 'length' | 'width'

/**
 * The outline with its front edge moved by `longer` and its right edge by `wider` (negative: shorter, narrower). Of a
 * polygon every corner beyond the middle of the bounding box moves along, so that rounded corners keep their form.
 * Undefined where that leaves no sensible outline, and for circles and sectors.
 */
export function resized(outline: Shape, longer: Um, wider: Um): Shape | undefined {
  if (outline.kind === 'rect') {
    const w = outline.w + wider
    const h = outline.h + longer
    if (w <= 0 || h <= 0 || Math.min(w, h) < 2 * outline.radius) return undefined
    return { ...outline, w: um(w), h: um(h) }
  }
  if (outline.kind !== 'polygon') return undefined
  const xs = moved(
    outline.points.map((p) => p.x),
    wider,
  )
  const ys = moved(
    outline.points.map((p) => p.y),
    longer,
  )
  if (!xs || !ys) return undefined
  return { ...outline, points: outline.points.map((p, i) => ({ ...p, x: um(xs[i]!), y: um(ys[i]!) })) }
}

/** Coordinates beyond the middle move by `by`; undefined where they would meet those that stay. */
function moved(values: readonly number[], by: number): number[] | undefined {
  const middle = (Math.min(...values) + Math.max(...values)) / 2
  const stay = values.filter((v) => v <= middle)
  const go = values.filter((v) => v > middle)
  if (go.length === 0 || Math.min(...go) + by <= Math.max(...stay)) return undefined
  return values.map((v) => (v > middle ? v + by : v))
}

/** Length and width of a deck's bounding box. */
export function sizeOf(outline: Shape): { readonly length: Um; readonly width: Um } {
  const box = bounds(prepare(outline))
  return { length: box.h, width: box.w }
}

/** The problem with another outline on one deck. */
export function withOutline(problem: Problem, deck: number, outline: Shape): Problem {
  return { ...problem, decks: problem.decks.map((d, i) => (i === deck ? { ...d, outline } : d)) }
}

/**
 * What on the deck would no longer lie on it: openings, holes, exits, passes, by id. They are made already or belong to
 * something below, so they stay where they are.
 */
export function lostOn(problem: Problem, deck: number, outline: Shape): string[] {
  const region = prepare(outline)
  const d = problem.decks[deck]!
  const here = (p: { readonly x: number; readonly y: number }) => containsPoint(region, p.x, p.y)
  const lost: string[] = []
  for (const o of openingsOf(problem, deck)) if (!holds(region, o.region)) lost.push(o.id)
  for (const h of d.holes) {
    const r = h.diameter / 2
    if (!holds(region, prepare({ kind: 'circle', cx: h.at.x, cy: h.at.y, r: r as Um }))) lost.push(h.id)
  }
  for (const e of problem.exits) if (e.deck === deck && e.diameter === undefined && !here(e.at)) lost.push(e.id)
  for (const p of problem.passes) if (p.decks.includes(deck) && p.diameter === undefined && !here(p.at)) lost.push(p.id)
  return lost
}

/** Rectangles and discs exactly; other shapes by points along their edges, which is enough for edges that move straight. */
function holds(outline: Region, region: Region): boolean {
  const { shape, box } = region
  if (region.kind === 'empty') return true
  if (region.kind === 'rect') return rectInside(outline, box)
  if (shape.kind === 'circle') return discInside(outline, shape.cx, shape.cy, shape.r)
  return region.pieces.every((p) =>
    [0, 0.25, 0.5, 0.75].every((t) => {
      const at = along(p, t)
      return containsPoint(outline, at.x, at.y)
    }),
  )
}
