/** The frame of a nested svg or a symbol, which cuts off what reaches out of it; here that is only told. */
import { arcOf, type Run } from './contours.ts'
import type { Matrix } from './flatten.ts'

export interface Frame {
  /** From the frame's own units, its corner at 0,0, to mm. */
  readonly matrix: Matrix
  readonly width: number
  readonly height: number
}

const TAU = 2 * Math.PI

/** Whether any of a run lies outside the frame by more than `tolerance`, mm. */
export function reachesOut({ points, closed }: Run, { matrix, width, height }: Frame, tolerance: number): boolean {
  const [a, b, c, d, e, f] = matrix
  const corners = [
    [0, 0],
    [width, 0],
    [width, height],
    [0, height],
  ].map(([x, y]) => ({ x: a * x! + c * y! + e, y: b * x! + d * y! + f }))
  // a mirrored frame is gone round the other way
  const side = Math.sign(a * d - b * c)
  return corners.some((from, i) => {
    const to = corners[(i + 1) % 4]!
    const long = Math.hypot(to.x - from.x, to.y - from.y)
    const [nx, ny] = [(side * (to.y - from.y)) / long, (-side * (to.x - from.x)) / long]
    const out = (x: number, y: number): boolean => (x - from.x) * nx + (y - from.y) * ny > tolerance
    return points.some((p, k) => {
      if (out(p.x, p.y)) return true
      const next = points[k + 1] ?? (closed ? points[0]! : undefined)
      const arc = next && arcOf(p, next)
      if (!arc) return false
      // the farthest of a circle that way, where the arc comes by it
      const turn = Math.sign(arc.sweep) * (Math.atan2(ny, nx) - Math.atan2(p.y - arc.cy, p.x - arc.cx))
      return ((turn % TAU) + TAU) % TAU < Math.abs(arc.sweep) && out(arc.cx + arc.r * nx, arc.cy + arc.r * ny)
    })
  })
}
