/** A deck made longer or shorter, wider or narrower, by moving its far edge; whatever else is on it stays where it is. */
import { openingsOf } from '../check/layout.ts'
import type { Problem, Shape } from '../problem.ts'
import { bounds, containsPoint, discInside, type Edge, outlineOf, prepare, type Region, rectInside } from '../shapes.ts'
import { meetings, simple } from '../shapes-simple.ts'
import { type Um, um } from '../units.ts'

/** `length` runs from back to front (y), `width` from left to right (x). */
export type Way = 'length' | 'width'

/** No length in a file is larger (contract §1). */
export const LONGEST = 10_000_000
/** Pairs of edges of a contour that are compared for crossings. */
const MOST_PAIRS = 1_000_000

/**
 * The outline with its front edge moved by `longer` and its right edge by `wider` (negative: shorter, narrower). Of a
 * polygon whatever lies beyond the middle of the bounding box moves along, so that arcs keep their form; of an arc across the middle
 * both parts do, with a straight piece between. Undefined where that leaves no simple outline, or one over 10 m, and for circles and
 * sectors.
 */
export function resized(outline: Shape, longer: Um, wider: Um): Shape | undefined {
  const made = outline.kind === 'polygon' ? polygonResized(outline, longer, wider) : rectResized(outline, longer, wider)
  if (!made) return undefined
  const { length, width } = sizeOf(made)
  const far = made.kind === 'polygon' && made.points.some((p) => Math.max(Math.abs(p.x), Math.abs(p.y)) > LONGEST)
  return far || Math.max(length, width) > LONGEST ? undefined : made
}

function rectResized(outline: Shape, longer: Um, wider: Um): Shape | undefined {
  if (outline.kind !== 'rect') return undefined
  const w = outline.w + wider
  const h = outline.h + longer
  if (w <= 0 || h <= 0 || Math.min(w, h) < 2 * outline.radius) return undefined
  return { ...outline, w: um(w), h: um(h) }
}

type Polygon = Extract<Shape, { kind: 'polygon' }>

function polygonResized(outline: Polygon, longer: Um, wider: Um): Polygon | undefined {
  const wide = stretched(outline, 'x', wider)
  const made = wide && stretched(wide, 'y', longer)
  if (!made || (longer === 0 && wider === 0)) return made
  return simple(made.points, { pairs: MOST_PAIRS }).kind === 'simple' ? made : undefined
}

/** A stretch of the contour that stays or moves as one, or, straight, with ends of which one may do either. */
interface Part {
  readonly from: { readonly x: number; readonly y: number }
  readonly to: { readonly x: number; readonly y: number }
  readonly bulge: number
}

/** Undefined where the size does not change by as much. */
function stretched(outline: Polygon, axis: 'x' | 'y', by: number): Polygon | undefined {
  if (by === 0) return outline
  const { points } = outline
  const box = bounds(prepare(outline))
  const middle = axis === 'x' ? box.x + box.w / 2 : box.y + box.h / 2
  const shift = (p: Part['from'], far: boolean) => ({ ...p, [axis]: far ? p[axis] + by : p[axis] })
  let cut = false
  const parts = points.flatMap((a, i): Part[] => {
    const b = points[(i + 1) % points.length]!
    const [edge] = outlineOf({ ...outline, points: [a, b] })
    if (!edge?.arc) return [{ from: shift(a, a[axis] > middle), to: shift(b, b[axis] > middle), bulge: 0 }]
    const pieces = cutAt(edge, axis, middle)
    if (pieces.length > 1) cut = true
    return pieces.map(({ from, to, bulge, at }) => {
      const far = at > middle
      return { from: shift(from, far), to: shift(to, far), bulge: pieces.length > 1 ? bulge : a.bulge }
    })
  })
  // shorter, the parts of such an arc would lie over each other
  if (cut && by < 0) return undefined
  const made: Polygon = {
    ...outline,
    points: parts.flatMap(({ from, to, bulge }, i) => {
      const next = parts[(i + 1) % parts.length]!.from
      const start = { x: um(Math.round(from.x)), y: um(Math.round(from.y)), bulge }
      const apart = Math.hypot(next.x - to.x, next.y - to.y) > 0.5
      return apart ? [start, { x: um(Math.round(to.x)), y: um(Math.round(to.y)), bulge: 0 }] : [start]
    }),
  }
  const stay = points.filter((p) => p[axis] <= middle).map((p) => p[axis])
  const go = points.filter((p) => p[axis] > middle).map((p) => p[axis])
  if (by < 0 && Math.min(...go) + by <= Math.max(...stay)) return undefined
  const now = bounds(prepare(made))
  // corners are whole micrometres, and bounds are rounded outwards
  return Math.abs((axis === 'x' ? now.w - box.w : now.h - box.h) - by) <= 3 ? made : undefined
}

/** An arc in pieces that do not cross the middle; `at`: where each lies. */
function cutAt(e: Edge, axis: 'x' | 'y', middle: number): (Part & { readonly at: number })[] {
  const { cx, cy, r, sweep } = e.arc!
  const [c, turn] = [axis === 'x' ? cx : cy, axis === 'x' ? 0 : Math.PI / 2]
  const a = Math.acos(Math.min(1, Math.max(-1, (middle - c) / r)))
  const at = (angle: number) => shareOf(e, { x: cx + r * Math.cos(angle), y: cy + r * Math.sin(angle) })
  const EPS = 1e-9
  const crossings = Math.abs(middle - c) < r ? [at(turn + a), at(turn - a)] : []
  const cuts = [0, ...crossings.filter((t) => t > EPS && t < 1 - EPS).sort((p, q) => p - q), 1]
  const point = (t: number) => (t === 0 ? { x: e.x0, y: e.y0 } : t === 1 ? { x: e.x1, y: e.y1 } : pointOf(e, t))
  return cuts.slice(1).map((t, i) => {
    const from = cuts[i]!
    return {
      from: point(from),
      to: point(t),
      bulge: Math.tan((sweep * (t - from)) / 4),
      at: point((from + t) / 2)[axis],
    }
  })
}

/** The outline resized; undefined as `resized`, and where something would no longer lie on the deck that lies on it now. */
export function resizedDeck(problem: Problem, deck: number, longer: Um, wider: Um): Shape | undefined {
  const { outline } = problem.decks[deck]!
  const made = resized(outline, longer, wider)
  const grows = outline.kind === 'rect' && longer >= 0 && wider >= 0
  return made && (grows || newlyLost(problem, deck, made).length === 0) ? made : undefined
}

/** What lies on the deck, and would not with this outline. */
export function newlyLost(problem: Problem, deck: number, outline: Shape): string[] {
  const lost = lostOn(problem, deck, outline)
  if (lost.length === 0) return lost
  const before = lostOn(problem, deck, problem.decks[deck]!.outline)
  return lost.filter((id) => !before.includes(id))
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

/** Rectangles and discs in one go; of other shapes, a point of every stretch between two places where an edge meets the outline. */
function holds(outline: Region, region: Region): boolean {
  const { shape, box } = region
  if (region.kind === 'empty') return true
  if (region.kind === 'rect') return rectInside(outline, box)
  if (shape.kind === 'circle') return discInside(outline, shape.cx, shape.cy, shape.r)
  const around = outlineOf(outline.shape).map(endsOf)
  return outlineOf(shape).every((e) => {
    const [a, b] = endsOf(e)
    const cuts = around.flatMap(([c, d]) => meetings(a, b, c, d).map((p) => shareOf(e, p)))
    const stops = [0, ...cuts.filter((t) => t > 0 && t < 1).sort((p, q) => p - q), 1]
    return stops.slice(1).every((t, i) => {
      const at = pointOf(e, (stops[i]! + t) / 2)
      return containsPoint(outline, at.x, at.y)
    })
  })
}

const endsOf = (e: Edge) =>
  [
    { x: e.x0, y: e.y0, bulge: e.arc ? Math.tan(e.arc.sweep / 4) : 0 },
    { x: e.x1, y: e.y1, bulge: 0 },
  ] as const

/** How far along an edge a point of it lies, 0 to 1. */
function shareOf({ x0, y0, x1, y1, arc }: Edge, p: { readonly x: number; readonly y: number }): number {
  if (!arc) return ((p.x - x0) * (x1 - x0) + (p.y - y0) * (y1 - y0)) / ((x1 - x0) ** 2 + (y1 - y0) ** 2)
  const turn = (Math.atan2(p.y - arc.cy, p.x - arc.cx) - Math.atan2(y0 - arc.cy, x0 - arc.cx)) * Math.sign(arc.sweep)
  return (((turn % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI)) / Math.abs(arc.sweep)
}

function pointOf({ x0, y0, x1, y1, arc }: Edge, t: number): { readonly x: number; readonly y: number } {
  if (!arc) return { x: x0 + t * (x1 - x0), y: y0 + t * (y1 - y0) }
  const a = Math.atan2(y0 - arc.cy, x0 - arc.cx) + t * arc.sweep
  return { x: arc.cx + arc.r * Math.cos(a), y: arc.cy + arc.r * Math.sin(a) }
}
