/**
 * Exact shape algebra on Um. A shape is prepared once into a `Region` (boundary pieces, bounding box, fast paths for plain
 * rectangles and discs); the questions are then asked of the region. Regions are closed sets; "inside" is of the closed
 * region, "overlaps" of open interiors. Plain rectangles are decided in whole numbers; round and slanted edges in doubles,
 * where an intrusion of up to 0.001 µm counts as touching.
 *
 * All predicates are monotone in the rectangle: a part of a rectangle that is inside is inside, and a rectangle around one
 * that overlaps overlaps. A rectangle of no width or height behaves as a segment or a point.
 *
 * A region need not move: to ask it about a body in another frame, move the rectangle instead.
 */
import type { Shape } from './problem.ts'
import { outlineOf } from './shapes-outline.ts'
import {
  along,
  boxGap,
  boxToPiece,
  cuts,
  entersBox,
  type Piece,
  piecesOf,
  pointToPiece,
  xAt,
  yAt,
} from './shapes-pieces.ts'
import { type Rect, um } from './units.ts'

export {
  area,
  centroid,
  direction,
  type Edge,
  moveShape,
  outlineOf,
  polygonCentroid,
  sectorSweep,
  turnShape,
} from './shapes-outline.ts'

/** What counts as touching where edges are round or slanted, Um. */
export const TOUCH = 0.001

export interface Region {
  readonly shape: Shape
  /** Smallest whole-number rectangle around the shape. */
  readonly box: Rect
  readonly kind: 'empty' | 'rect' | 'disc' | 'pieces'
  readonly pieces: readonly Piece[]
}

/** Prepares a shape for many questions. A shape without area is empty: nothing is inside it and nothing overlaps it. */
export function prepare(shape: Shape): Region {
  const pieces = piecesOf(outlineOf(shape))
  const box = boxOf(shape, pieces)
  if (pieces.length === 0) return { shape, box, kind: 'empty', pieces }
  if (shape.kind === 'rect' && shape.radius <= 0) return { shape, box, kind: 'rect', pieces }
  if (shape.kind === 'circle') return { shape, box, kind: 'disc', pieces }
  return { shape, box, kind: 'pieces', pieces }
}

function boxOf(shape: Shape, pieces: readonly Piece[]): Rect {
  if (shape.kind === 'rect') return { x: shape.x, y: shape.y, w: shape.w, h: shape.h }
  if (pieces.length === 0) {
    const p = shape.kind === 'polygon' ? shape.points[0] : { x: shape.cx, y: shape.cy }
    return { x: p?.x ?? um(0), y: p?.y ?? um(0), w: um(0), h: um(0) }
  }
  // Rounding errors of arc ends are far below TOUCH; only a real fraction is rounded outward.
  const least = (of: (p: Piece) => number) => pieces.reduce((v, p) => Math.min(v, of(p)), Number.POSITIVE_INFINITY)
  const x = Math.floor(least((p) => p.minX) + TOUCH)
  const y = Math.floor(least((p) => p.minY) + TOUCH)
  const X = Math.ceil(-least((p) => -p.maxX) - TOUCH)
  const Y = Math.ceil(-least((p) => -p.maxY) - TOUCH)
  return { x: um(x), y: um(y), w: um(X - x), h: um(Y - y) }
}

/** Smallest whole-number rectangle around the region, arc extremes included (rounded outward where they are not whole). */
export const bounds = (region: Region): Rect => region.box

/** Even-odd test; on the boundary itself either answer. */
function covers(region: Region, x: number, y: number): boolean {
  let inside = false
  for (const p of region.pieces) {
    if (p.minY <= y && y < p.maxY && p.maxX > x && (p.minX > x || xAt(p, y) > x)) inside = !inside
  }
  return inside
}

/** Distance from a point to the region's boundary, Um; Infinity for an empty region. */
export function boundaryDistance(region: Region, x: number, y: number): number {
  let d = Number.POSITIVE_INFINITY
  for (const p of region.pieces) {
    if (boxGap(p, x, y, x, y) >= d) continue
    const e = pointToPiece(p, x, y)
    if (e < d) d = e
  }
  return d
}

/** Distance from a point to the closed region, Um: 0 inside. */
export function pointDistance(region: Region, x: number, y: number): number {
  return covers(region, x, y) ? 0 : boundaryDistance(region, x, y)
}

/** Whether a point lies in the closed region. */
export function containsPoint(region: Region, x: number, y: number): boolean {
  const { box } = region
  if (x < box.x || y < box.y || x > box.x + box.w || y > box.y + box.h) return false
  if (region.kind === 'rect') return true
  return covers(region, x, y) || boundaryDistance(region, x, y) <= TOUCH
}

/** Whether the closed rectangle lies in the closed region with every boundary point at least `clearance` away from it. */
export const rectInside = (region: Region, rect: Rect, clearance = 0): boolean =>
  spanInside(region, rect.x, rect.y, rect.w, rect.h, clearance)

/** `rectInside` of a rectangle given by its corner and size: asked so often that no object is made for it. */
export function spanInside(region: Region, ax: number, ay: number, w: number, h: number, clearance: number): boolean {
  const { box } = region
  const bx = ax + w
  const by = ay + h
  if (region.kind === 'empty') return false
  if (
    ax - clearance < box.x ||
    ay - clearance < box.y ||
    bx + clearance > box.x + box.w ||
    by + clearance > box.y + box.h
  )
    return false
  if (region.kind === 'rect') return true
  if (region.shape.kind === 'rect') {
    // rounded corners: what reaches into a corner's square must stay within its arc, less the clearance
    const radius = Math.max(0, Math.min(region.shape.radius, box.w / 2, box.h / 2))
    const dx = Math.max(0, box.x + radius - ax, bx - (box.x + box.w - radius))
    const dy = Math.max(0, box.y + radius - ay, by - (box.y + box.h - radius))
    return dx === 0 || dy === 0 || Math.sqrt(dx * dx + dy * dy) <= radius - clearance + TOUCH
  }
  if (region.kind === 'disc' && region.shape.kind === 'circle') {
    const { cx, cy, r } = region.shape
    const dx = Math.max(cx - ax, bx - cx)
    const dy = Math.max(cy - ay, by - cy)
    return Math.sqrt(dx * dx + dy * dy) <= r - clearance + TOUCH
  }
  if (w <= 0 || h <= 0) return thinInside(region, ax, ay, w, h, clearance)
  if (clearance > 0 ? boundaryNearer(region, ax, ay, bx, by, clearance) : boundaryEnters(region, ax, ay, bx, by))
    return false
  return covers(region, (ax + bx) / 2, (ay + by) / 2)
}

/** Whether interiors intersect or, with a `clearance`, the Euclidean distance is below it. */
export const rectOverlaps = (region: Region, rect: Rect, clearance = 0): boolean =>
  spanOverlaps(region, rect.x, rect.y, rect.w, rect.h, clearance)

/** `rectOverlaps` of a rectangle given by its corner and size. */
export function spanOverlaps(region: Region, ax: number, ay: number, w: number, h: number, clearance: number): boolean {
  const { box } = region
  const bx = ax + w
  const by = ay + h
  if (region.kind === 'empty') return false
  if (
    bx + clearance <= box.x ||
    by + clearance <= box.y ||
    ax - clearance >= box.x + box.w ||
    ay - clearance >= box.y + box.h
  )
    return false
  if (region.kind === 'rect') {
    if (clearance <= 0) return true
    const dx = Math.max(0, box.x - bx, ax - (box.x + box.w))
    const dy = Math.max(0, box.y - by, ay - (box.y + box.h))
    return dx * dx + dy * dy < clearance * clearance
  }
  if (region.shape.kind === 'rect') {
    // a rounded rectangle is all that lies within `radius` of its core
    const radius = Math.max(0, Math.min(region.shape.radius, box.w / 2, box.h / 2))
    const dx = Math.max(0, box.x + radius - bx, ax - (box.x + box.w - radius))
    const dy = Math.max(0, box.y + radius - by, ay - (box.y + box.h - radius))
    return Math.sqrt(dx * dx + dy * dy) < radius + clearance - TOUCH
  }
  if (region.kind === 'disc' && region.shape.kind === 'circle') {
    const { cx, cy, r } = region.shape
    const dx = Math.max(0, ax - cx, cx - bx)
    const dy = Math.max(0, ay - cy, cy - by)
    return Math.sqrt(dx * dx + dy * dy) < r + clearance - TOUCH
  }
  if (clearance > 0) {
    return boundaryNearer(region, ax, ay, bx, by, clearance) || covers(region, (ax + bx) / 2, (ay + by) / 2)
  }
  if (w <= 0 || h <= 0) {
    return thinSamples(region, ax, ay, w, h).some(
      ([x, y]) => covers(region, x, y) && boundaryDistance(region, x, y) > TOUCH,
    )
  }
  return boundaryEnters(region, ax, ay, bx, by) || covers(region, (ax + bx) / 2, (ay + by) / 2)
}

function boundaryEnters(region: Region, ax: number, ay: number, bx: number, by: number): boolean {
  for (const p of region.pieces) {
    if (entersBox(p, ax + TOUCH, ay + TOUCH, bx - TOUCH, by - TOUCH)) return true
  }
  return false
}

function boundaryNearer(region: Region, ax: number, ay: number, bx: number, by: number, clearance: number): boolean {
  const limit = clearance - TOUCH
  for (const p of region.pieces) {
    if (boxGap(p, ax, ay, bx, by) < limit && boxToPiece(p, ax, ay, bx, by) < limit) return true
  }
  return false
}

/** Points of a segment or point that see every part of it: the middle of each stretch between boundary crossings, and its ends. */
function thinSamples(region: Region, x: number, y: number, w: number, h: number): [number, number][] {
  const upright = w <= 0
  const lo = upright ? y : x
  const hi = upright ? y + h : x + w
  const at = upright ? x : y
  const stops = [lo, hi]
  for (const p of region.pieces) {
    const from = upright ? p.minX : p.minY
    const to = upright ? p.maxX : p.maxY
    if (at < from || at > to) continue
    const found =
      from === to ? [upright ? p.minY : p.minX, upright ? p.maxY : p.maxX] : [upright ? yAt(p, at) : xAt(p, at)]
    for (const v of found) if (v > lo && v < hi) stops.push(v)
  }
  stops.sort((a, b) => a - b)
  const values = [lo, hi]
  for (let i = 1; i < stops.length; i++) values.push((stops[i - 1]! + stops[i]!) / 2)
  return values.map((v) => (upright ? [at, v] : [v, at]))
}

function thinInside(region: Region, x: number, y: number, w: number, h: number, clearance: number): boolean {
  // with the boundary at a distance, one point of the rectangle speaks for all
  if (clearance > 2 * TOUCH) return !boundaryNearer(region, x, y, x + w, y + h, clearance) && covers(region, x, y)
  return thinSamples(region, x, y, w, h).every(([px, py]) => containsPoint(region, px, py))
}

/** Distance between the closed region and the closed rectangle, Um: 0 where they meet, Infinity for an empty region. */
export function distance(region: Region, rect: Rect): number {
  const bx = rect.x + rect.w
  const by = rect.y + rect.h
  if (covers(region, (rect.x + bx) / 2, (rect.y + by) / 2)) return 0
  return boundaryToRect(region, rect)
}

/** Distance from the region's boundary to the closed rectangle, Um, whichever side of it the rectangle is on. */
export function boundaryToRect(region: Region, rect: Rect): number {
  const bx = rect.x + rect.w
  const by = rect.y + rect.h
  let d = Number.POSITIVE_INFINITY
  for (const p of region.pieces) {
    if (boxGap(p, rect.x, rect.y, bx, by) < d) d = Math.min(d, boxToPiece(p, rect.x, rect.y, bx, by))
  }
  return d
}

/** Whether a disc's interior meets the region's (radius 0: whether the point is strictly inside). */
export function discOverlaps(region: Region, x: number, y: number, r: number): boolean {
  const { box } = region
  if (region.kind === 'empty') return false
  if (x + r <= box.x || y + r <= box.y || x - r >= box.x + box.w || y - r >= box.y + box.h) return false
  if (r > 0) return covers(region, x, y) || boundaryDistance(region, x, y) < r - TOUCH
  if (region.kind === 'rect') return true
  return covers(region, x, y) && boundaryDistance(region, x, y) > TOUCH
}

/** Whether a closed disc lies in the closed region. */
export function discInside(region: Region, x: number, y: number, r: number): boolean {
  const { box } = region
  if (x - r < box.x || y - r < box.y || x + r > box.x + box.w || y + r > box.y + box.h) return false
  if (region.kind === 'rect') return true
  if (region.kind === 'empty') return false
  const d = boundaryDistance(region, x, y)
  return covers(region, x, y) ? d >= r - TOUCH : r <= TOUCH && d <= TOUCH
}

/** Whether the interiors of two regions intersect. */
export function regionOverlaps(a: Region, b: Region): boolean {
  if (a.kind === 'empty' || b.kind === 'empty') return false
  if (a.kind === 'rect') return rectOverlaps(b, a.box)
  if (b.kind === 'rect') return rectOverlaps(a, b.box)
  if (a.kind === 'disc' && a.shape.kind === 'circle') return discOverlaps(b, a.shape.cx, a.shape.cy, a.shape.r)
  if (b.kind === 'disc' && b.shape.kind === 'circle') return discOverlaps(a, b.shape.cx, b.shape.cy, b.shape.r)
  if (!rectsOverlap(a.box, b.box)) return false
  // With no boundary point of one deep inside the other, the interiors are the same, or nested, or apart: one point tells.
  return entersRegion(a, b) || entersRegion(b, a) || deepIn(b, innerPoint(a)) || deepIn(a, innerPoint(b))
}

const SAMPLES = [0.5, 0.25, 0.75, 0.05, 0.95]

/** Whether the boundary of `a` comes strictly inside `b`. */
function entersRegion(a: Region, b: Region): boolean {
  for (const p of a.pieces) {
    const stops = [0, ...b.pieces.flatMap((q) => cuts(p, q)), 1].sort((s, t) => s - t)
    for (let i = 1; i < stops.length; i++) {
      const from = stops[i - 1]!
      const span = stops[i]! - from
      if (SAMPLES.some((s) => deepIn(b, along(p, from + s * span)))) return true
    }
  }
  return false
}

/** Whether all of one region lies in another, and nothing of it farther out than `slack`, Um. Neither has holes, so that its edge tells. */
export function regionInside(a: Region, b: Region, slack = TOUCH): boolean {
  if (a.kind === 'empty') return true
  const [x, y, X, Y] = [b.box.x, b.box.y, b.box.x + b.box.w, b.box.y + b.box.h]
  // Boxes are rounded outwards.
  const far = slack + 1
  if (a.box.x < x - far || a.box.y < y - far || a.box.x + a.box.w > X + far || a.box.y + a.box.h > Y + far) return false
  return a.pieces.every((p) => {
    const close = b.pieces.filter((q) => boxGap(q, p.minX, p.minY, p.maxX, p.maxY) <= far)
    const stops = [0, ...close.flatMap((q) => cuts(p, q)), 1].sort((s, t) => s - t)
    return stops.every((from, i) => {
      const span = (stops[i + 1] ?? 1) - from
      return [0, ...SAMPLES].every(
        (s) => pointDistance(b, along(p, from + s * span).x, along(p, from + s * span).y) <= slack,
      )
    })
  })
}

const deepIn = (region: Region, p: { readonly x: number; readonly y: number }): boolean =>
  covers(region, p.x, p.y) && boundaryDistance(region, p.x, p.y) > TOUCH

/** A point well inside a region that is not empty. */
export function innerPoint(region: Region): { readonly x: number; readonly y: number } {
  let best = { x: region.box.x + region.box.w / 2, y: region.box.y + region.box.h / 2 }
  let depth = covers(region, best.x, best.y) ? boundaryDistance(region, best.x, best.y) : -1
  for (const f of [0.5, 0.31, 0.69, 0.13, 0.87, 0.03, 0.97]) {
    const y = region.box.y + f * region.box.h
    const xs = region.pieces
      .filter((p) => p.minY <= y && y < p.maxY)
      .map((p) => xAt(p, y))
      .sort((s, t) => s - t)
    for (let i = 1; i < xs.length; i += 2) {
      const x = (xs[i - 1]! + xs[i]!) / 2
      const d = boundaryDistance(region, x, y)
      if (d > depth) {
        depth = d
        best = { x, y }
      }
    }
  }
  return best
}

/** Whether the interiors of two rectangles intersect (exact). */
export const rectsOverlap = (a: Rect, b: Rect): boolean =>
  a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h
