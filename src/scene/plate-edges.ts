/**
 * Edges of a plate, straight from its outline: both rims, and the uprights of corners. What three would find by comparing all
 * triangles with one another, which takes most of the time that a plate takes.
 */
import { BufferGeometry, Float32BufferAttribute, type Vector2 } from 'three'

/** Faces that turn by less show no upright between them, degrees. */
const LEAST_TURN = 30
/** Where a line goes on as an arc its corner stands twice, but for rounding. */
const SAME = 1e-4

/** `rims`: the outline and its holes, each a closed line of corners; `thickness` in the same unit. Pairs of points. */
export function plateEdges(rims: readonly (readonly Vector2[])[], thickness: number): BufferGeometry {
  const most = Math.cos((LEAST_TURN * Math.PI) / 180)
  const points: number[] = []
  for (const rim of rims) {
    const corners = rim.filter((p, i) => p.distanceTo(rim[(i + 1) % rim.length] ?? p) > SAME)
    corners.forEach((b, i) => {
      const a = corners[(i + corners.length - 1) % corners.length] ?? b
      const c = corners[(i + 1) % corners.length] ?? b
      for (const z of [0, thickness]) points.push(b.x, b.y, z, c.x, c.y, z)
      const [ux, uy, vx, vy] = [b.x - a.x, b.y - a.y, c.x - b.x, c.y - b.y]
      if ((ux * vx + uy * vy) / (Math.hypot(ux, uy) * Math.hypot(vx, vy)) <= most)
        points.push(b.x, b.y, 0, b.x, b.y, thickness)
    })
  }
  return new BufferGeometry().setAttribute('position', new Float32BufferAttribute(points, 3))
}
