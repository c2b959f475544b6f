/** Closed meshes of triangles in millimetres, z up, seen from outside anticlockwise; each edge is shared by two of them. */
import earcut from 'earcut'
import type { Area, Point2, Ring } from './gltf-flat.ts'

export type Point3 = readonly [number, number, number]

export interface Mesh {
  readonly points: readonly Point3[]
  readonly triangles: readonly (readonly [number, number, number])[]
}

type Triangle = [number, number, number]

/** Areas as a plate between two heights. */
export function prism(areas: readonly Area[], z0: number, z1: number): Mesh {
  const points: Point3[] = []
  const triangles: Triangle[] = []
  for (const area of areas) {
    const flat = [area.outer, ...area.holes]
    const count = flat.reduce((n, ring) => n + ring.length, 0)
    const base = points.length
    for (const z of [z0, z1]) for (const ring of flat) for (const [x, y] of ring) points.push([x, y, z])
    for (const [a, b, c] of triangulate(area)) {
      triangles.push([base + count + a, base + count + b, base + count + c], [base + a, base + c, base + b])
    }
    let first = base
    for (const ring of flat) {
      for (let i = 0; i < ring.length; i++) {
        const a = first + i
        const b = first + ((i + 1) % ring.length)
        triangles.push([a, b, b + count], [a, b + count, a + count])
      }
      first += ring.length
    }
  }
  return { points, triangles }
}

/** Triangles over the points of an area, outer ring first and then its holes. */
function triangulate(area: Area): Triangle[] {
  const rings = [area.outer, ...area.holes]
  const points = rings.flat()
  const starts: number[] = []
  const edges = new Set<string>()
  let first = 0
  for (const ring of rings) {
    if (first > 0) starts.push(first)
    for (let i = 0; i < ring.length; i++) edges.add(`${first + i} ${first + ((i + 1) % ring.length)}`)
    first += ring.length
  }
  const found = earcut(points.flat(), starts)
  const triangles: Triangle[] = []
  for (let i = 0; i < found.length; i += 3) {
    const [a, b, c] = [found[i]!, found[i + 1]!, found[i + 2]!]
    triangles.push(turn(points[a]!, points[b]!, points[c]!) < 0 ? [a, c, b] : [a, b, c])
  }
  const settle = settler(rings)
  return settle(mended(points, settle(triangles), edges))
}

const turn = (a: Point2, b: Point2, c: Point2): number => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

/**
 * Where rings touch, one place has several corners, and ear clipping takes any of them. Each triangle gets the corner
 * whose side of the rings it lies on.
 */
function settler(rings: readonly Ring[]): (triangles: readonly Triangle[]) => Triangle[] {
  const corners = new Map<string, { index: number; next: number; span: number }[]>()
  const points = rings.flat()
  let first = 0
  for (const ring of rings) {
    ring.forEach((p, i) => {
      const next = direction(p, ring[(i + 1) % ring.length]!)
      const before = direction(p, ring[(i + ring.length - 1) % ring.length]!)
      const corner = { index: first + i, next, span: ccw(next, before) }
      const there = corners.get(String(p))
      if (there) there.push(corner)
      else corners.set(String(p), [corner])
    })
    first += ring.length
  }
  return (triangles) =>
    triangles.map((t) => {
      const middle: Point2 = [
        (points[t[0]]![0] + points[t[1]]![0] + points[t[2]]![0]) / 3,
        (points[t[0]]![1] + points[t[1]]![1] + points[t[2]]![1]) / 3,
      ]
      return t.map((v) => {
        const there = corners.get(String(points[v]!))!
        if (there.length === 1) return v
        const to = direction(points[v]!, middle)
        return there.find((c) => ccw(c.next, to) <= c.span)?.index ?? v
      }) as Triangle
    })
}

const direction = (a: Point2, b: Point2): number => Math.atan2(b[1] - a[1], b[0] - a[0])

/** From one direction to another anticlockwise, 0 to a full turn. */
const ccw = (from: number, to: number): number => (((to - from) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI)

/**
 * Ear clipping passes over a point that lies on a straight line between two others. Where a triangle's side has no
 * neighbour and is no side of the area, the points on it split the triangle, so that the mesh closes.
 */
function mended(points: readonly Point2[], triangles: readonly Triangle[], edges: ReadonlySet<string>): Triangle[] {
  let now = [...triangles]
  for (let pass = 0; pass < 8; pass++) {
    const sides = new Set(now.flatMap(([a, b, c]) => [`${a} ${b}`, `${b} ${c}`, `${c} ${a}`]))
    let split = false
    now = now.flatMap((t): Triangle[] => {
      for (let k = 0; k < 3; k++) {
        const [a, b, c] = [t[k]!, t[(k + 1) % 3]!, t[(k + 2) % 3]!]
        if (edges.has(`${a} ${b}`) || sides.has(`${b} ${a}`)) continue
        const on = between(points, a, b).filter((v) => v !== c)
        if (on.length === 0) continue
        split = true
        const chain = [a, ...on, b]
        return chain.slice(1).map((v, i): Triangle => [chain[i]!, v, c])
      }
      return [t]
    })
    if (!split) break
  }
  return now
}

/** Points strictly between two others on the straight line, in their order from `a`. */
function between(points: readonly Point2[], a: number, b: number): number[] {
  const [p, q] = [points[a]!, points[b]!]
  const length = Math.hypot(q[0] - p[0], q[1] - p[1])
  return points
    .map((v, i) => ({
      i,
      off: Math.abs(turn(p, q, v)) / length,
      t: ((v[0] - p[0]) * (q[0] - p[0]) + (v[1] - p[1]) * (q[1] - p[1])) / length,
    }))
    .filter(({ i, off, t }) => i !== a && i !== b && off < 1e-9 && t > 1e-9 && t < length - 1e-9)
    .sort((u, v) => u.t - v.t)
    .filter(({ t }, k, all) => k === 0 || t - all[k - 1]!.t > 1e-9)
    .map(({ i }) => i)
}

/** A box from its lower-left lower corner. */
export function box(x: number, y: number, z: number, w: number, d: number, h: number): Mesh {
  const outer: Point2[] = [
    [x, y],
    [x + w, y],
    [x + w, y + d],
    [x, y + d],
  ]
  return prism([{ outer, holes: [] }], z, z + h)
}

/** Square bars along an axis-parallel line, each long enough to fill its corners. */
export function bars(line: readonly Point3[], side: number): Mesh {
  const half = side / 2
  const legs = line.slice(1).flatMap((b, i) => {
    const a = line[i]!
    if (a.every((v, k) => v === b[k])) return []
    const [x, y, z] = [0, 1, 2].map((k) => Math.min(a[k]!, b[k]!) - half) as [number, number, number]
    const [w, d, h] = [0, 1, 2].map((k) => Math.abs(a[k]! - b[k]!) + side) as [number, number, number]
    return [box(x, y, z, w, d, h)]
  })
  return joined(legs)
}

/** Flat eight-sided spots facing up, one at each point; the only mesh here that encloses nothing. */
export function spots(at: readonly Point3[], radius: number): Mesh {
  const points: Point3[] = []
  const triangles: Triangle[] = []
  for (const [x, y, z] of at) {
    const first = points.length
    for (let i = 0; i < 8; i++) {
      const a = ((2 * i + 1) * Math.PI) / 8
      points.push([x + radius * Math.cos(a), y + radius * Math.sin(a), z])
    }
    for (let i = 1; i < 7; i++) triangles.push([first, first + i, first + i + 1])
  }
  return { points, triangles }
}

export function joined(meshes: readonly Mesh[]): Mesh {
  const points: Point3[] = []
  const triangles: Triangle[] = []
  for (const mesh of meshes) {
    const first = points.length
    for (const p of mesh.points) points.push(p)
    for (const [a, b, c] of mesh.triangles) triangles.push([first + a, first + b, first + c])
  }
  return { points, triangles }
}
