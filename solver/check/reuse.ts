/** When a hole or a cut-out is one that the deck has already (contract R5; README, reading 6). For the checker, the drawings and `built`. */
import type { Hole, Shape } from '../problem.ts'
import type { Point, Rect } from '../units.ts'

/** How far apart two centres or sides may be, and how much of a corner may be rounded off, Um. */
const SAME = 100
/** How much wider an existing hole may be, Um. */
const LARGER = 500

/** Whether an existing hole serves as one of `diameter` at `at`. */
export const serves = (there: Pick<Hole, 'at' | 'diameter'>, at: Point, diameter: number): boolean =>
  Math.hypot(there.at.x - at.x, there.at.y - at.y) <= SAME &&
  there.diameter >= diameter &&
  there.diameter <= diameter + LARGER

/** Whether an opening serves as a cut-out: its four sides are where the cut-out's are, its corners hardly rounded. */
export function coincides(cut: Rect, opening: Shape): boolean {
  const its = cornersOf(opening)
  const own = rectCorners(cut)
  const among = (a: Corner, corners: readonly Corner[]) =>
    corners.some((b) => Math.abs(a.x - b.x) <= SAME && Math.abs(a.y - b.y) <= SAME)
  return own.every((c) => among(c, its)) && its.every((c) => among(c, own))
}

type Corner = { readonly x: number; readonly y: number }

/** Where the four straight sides of a shape would meet; nothing where it has others, or rounds its corners off too much. */
function cornersOf(shape: Shape): readonly Corner[] {
  if (shape.kind === 'rect' && shape.radius * (Math.SQRT2 - 1) <= SAME) return rectCorners(shape)
  return shape.kind === 'polygon' && shape.points.length === 4 && shape.points.every((p) => p.bulge === 0)
    ? shape.points
    : []
}

const rectCorners = ({ x, y, w, h }: Rect): Corner[] =>
  [x, x + w].flatMap((cx) => [y, y + h].map((cy) => ({ x: cx, y: cy })))
