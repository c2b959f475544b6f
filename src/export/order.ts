/** In which order a machine cuts: what lies inside first, because what is cut out moves. */
import { along, type Box, boxOf, type Contour, segmentsOf } from './contour.ts'

interface Known {
  readonly contour: Contour
  readonly box: Box
  /** Any point of the line. */
  readonly at: { readonly x: number; readonly y: number }
}

/**
 * The same contours, each after all that lie in it; otherwise as they came. A contour that crosses another counts as
 * inside where the start of its line is.
 */
export function insideFirst(contours: readonly Contour[]): Contour[] {
  const known = contours.map((contour): Known => {
    const at =
      contour.kind === 'circle'
        ? { x: contour.cx + contour.r, y: contour.cy }
        : along(segmentsOf(contour.points)[0]!, 0.5)
    return { contour, box: boxOf(contour), at }
  })
  const depth = known.map((k) => known.filter((o) => o !== k && holds(o.box, k.box) && inside(o.contour, k.at)).length)
  return contours
    .map((contour, i) => ({ contour, i, depth: depth[i]! }))
    .sort((a, b) => b.depth - a.depth || a.i - b.i)
    .map((c) => c.contour)
}

const holds = (a: Box, b: Box): boolean => a.x0 <= b.x0 && a.y0 <= b.y0 && a.x1 >= b.x1 && a.y1 >= b.y1

/** Whether a point lies inside a contour: how often a ray to the right crosses it. On the line itself, either answer. */
export function inside(contour: Contour, p: { readonly x: number; readonly y: number }): boolean {
  if (contour.kind === 'circle') return Math.hypot(p.x - contour.cx, p.y - contour.cy) < contour.r
  let within = false
  for (const { a, b, arc } of segmentsOf(contour.points)) {
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) within = !within
    // The chord decides for its triangle; between chord and arc lies a cap that belongs to the other side of the chord.
    if (arc && inCap(a, b, arc, p)) within = !within
  }
  return within
}

/** Between an arc and its chord. */
function inCap(
  a: { readonly x: number; readonly y: number },
  b: { readonly x: number; readonly y: number },
  arc: { readonly cx: number; readonly cy: number; readonly r: number; readonly sweep: number },
  p: { readonly x: number; readonly y: number },
): boolean {
  if (Math.hypot(p.x - arc.cx, p.y - arc.cy) >= arc.r) return false
  // Walked anticlockwise the arc bulges to the right of its chord.
  const right = (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x) < 0
  return right === arc.sweep > 0
}
