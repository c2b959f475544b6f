/**
 * Rounded corners while a corner is moved: an arc that touches the straight edges on both sides is a corner with a radius, and stays
 * one. Its radius stays as far as the edges have room for it. Pure; lengths mm.
 */
import { mm, toMm } from '../../solver/units.ts'
import type { Corner } from './edit-corners.ts'

/** mm: what stays between two corners, or of a rounding that has no room. */
const LEAST = 0.01
/** mm: corners stand on whole micrometres, so that nothing is exact to less. */
const ROUNDING = 0.003
/** A flatter turn than this, rad, has its sharp corner too far away to be moved. */
const MOST_SWEEP = (175 * Math.PI) / 180

type Xy = readonly [number, number]

/** A sharp corner, or what was one before it was rounded. */
interface Node {
  /** Index of its corner, the first where it has two. */
  readonly first: number
  readonly rounded: boolean
  /** Where the edges on both sides would meet. */
  readonly at: Xy
  readonly radius: number
}

const minus = (a: Xy, b: Xy): Xy => [a[0] - b[0], a[1] - b[1]]
const far = (a: Xy, b: Xy): number => Math.hypot(a[0] - b[0], a[1] - b[1])
export const placeOf = (c: Corner): Xy => [c[0], c[1]]
const round = (v: number): number => toMm(mm(v))

/** The corner that the arc from `i` on rounds off; undefined where it is an arc of its own. */
function roundedAt(corners: readonly Corner[], i: number): Node | undefined {
  const n = corners.length
  const corner = (k: number): Corner => corners[(k + n) % n]!
  const bulge = corner(i)[2]
  const sweep = 4 * Math.atan(Math.abs(bulge))
  if (n < 4 || bulge === 0 || sweep > MOST_SWEEP || corner(i - 1)[2] !== 0 || corner(i + 1)[2] !== 0) return undefined
  const [before, start, end, after] = [i - 1, i, i + 1, i + 2].map((k) => placeOf(corner(k))) as [Xy, Xy, Xy, Xy]
  const [dx, dy] = minus(end, start)
  const out = (Math.tan(sweep / 2) * Math.sign(bulge)) / 2
  const at: Xy = [(start[0] + end[0]) / 2 + dy * out, (start[1] + end[1]) / 2 - dx * out]
  if (!onward(before, start, at) || !onward(at, end, after)) return undefined
  const radius = Math.hypot(dx, dy) / (2 * Math.sin(sweep / 2))
  const plain = Math.round(radius * 100) / 100
  return { first: i, rounded: true, at, radius: Math.abs(plain - radius) < ROUNDING ? plain : radius }
}

/** Whether b lies on the way from a to c, but for rounding. */
function onward(a: Xy, b: Xy, c: Xy): boolean {
  const [u, v] = [minus(b, a), minus(c, b)]
  const [lu, lv] = [Math.hypot(...u), Math.hypot(...v)]
  if (lu < ROUNDING || lv < ROUNDING || u[0] * v[0] + u[1] * v[1] <= 0) return false
  return Math.abs(u[0] * v[1] - u[1] * v[0]) <= lu * lv * ROUNDING * (1 / lu + 1 / lv)
}

function nodesOf(corners: readonly Corner[]): Node[] {
  const n = corners.length
  const arcs = new Map<number, Node>()
  corners.forEach((_, i) => {
    const node = roundedAt(corners, i)
    if (node) arcs.set(i, node)
  })
  return corners.flatMap((c, i): Node[] => {
    const own = arcs.get(i)
    if (own) return [own]
    return arcs.has((i + n - 1) % n) ? [] : [{ first: i, rounded: false, at: placeOf(c), radius: 0 }]
  })
}

/** A sharp corner: unit vectors from it along both edges and their cross product, the tangent of half its angle, the shorter edge, and a rounding's bulge. */
export function turnBetween(before: Xy, at: Xy, after: Xy) {
  const [p, q] = [minus(before, at), minus(after, at)]
  const [a, b] = [Math.hypot(...p), Math.hypot(...q)]
  const back: Xy = [p[0] / a, p[1] / a]
  const on: Xy = [q[0] / b, q[1] / b]
  const cross = on[0] * back[1] - on[1] * back[0]
  const angle = Math.atan2(Math.abs(cross), back[0] * on[0] + back[1] * on[1])
  const bulge = Math.sign(cross) * Math.tan((Math.PI - angle) / 4)
  return { back, on, cross, tan: Math.tan(angle / 2), room: Math.min(a, b), bulge }
}

/** The same, and how far from the corner its rounding would begin. */
function turn(before: Xy, node: Node, after: Xy) {
  const t = turnBetween(before, node.at, after)
  return { ...t, off: node.radius / t.tan }
}

/**
 * The corner `index` at `to`, with what is rounded there and beside it touching its edges again. Undefined where nothing is rounded there:
 * then the corner simply moves. There are as many corners as before.
 */
export function moveRounded(corners: readonly Corner[], index: number, to: Xy): readonly Corner[] | undefined {
  const nodes = nodesOf(corners)
  const count = nodes.length
  const n = corners.length
  const own = nodes.findIndex((d) => d.first === index || (d.rounded && (d.first + 1) % n === index))
  const node = nodes[own]
  if (!node || count < 3) return undefined
  const near = (by: number): Node => nodes[(own + by + count) % count]!
  const straight = (by: 1 | -1): boolean =>
    by === 1 ? node.rounded || corners[node.first]![2] === 0 : corners[(node.first + n - 1) % n]![2] === 0
  const beside = ([-1, 1] as const).filter((by) => straight(by) && near(by).rounded)
  if (!node.rounded && beside.length === 0) return undefined

  /** All corners with the sharp one at `at`. */
  const made = (at: Xy): Corner[] => {
    const moved: Node = { ...node, at }
    const all = [...corners]
    const put = (d: Node, t: ReturnType<typeof turn>, off: number): void => {
      const [start, end] = [t.back, t.on].map(([x, y]): Xy => [round(d.at[0] + x * off), round(d.at[1] + y * off)])
      all[d.first] = [...start!, t.bulge]
      all[(d.first + 1) % n] = [...end!, 0]
    }
    let room = Number.POSITIVE_INFINITY
    for (const by of [-1, 1] as const) {
      if (!straight(by)) continue
      const other = near(by)
      const side = far(other.at, at)
      if (!beside.includes(by)) {
        room = Math.min(room, side)
        continue
      }
      const outer = near(2 * by)
      const t = by === 1 ? turn(at, other, outer.at) : turn(outer.at, other, at)
      // On its other side it must leave what is rounded there alone.
      const edge = placeOf(all[(by === 1 ? outer.first : outer.first + (outer.rounded ? 1 : 0)) % n]!)
      const off = Math.max(LEAST, Math.min(t.off, side - 2 * LEAST, far(edge, other.at) - LEAST))
      put(other, t, off)
      room = Math.min(room, side - off)
    }
    if (node.rounded) {
      const t = turn(near(-1).at, moved, near(1).at)
      put(moved, t, Math.max(LEAST, Math.min(t.off, room - LEAST)))
    } else all[node.first] = [round(at[0]), round(at[1]), corners[node.first]![2]]
    return all
  }

  if (!node.rounded) return made(to)
  // Where the sharp corner must be, so that the one in hand comes to stand at `to`.
  const step = minus(to, placeOf(corners[index]!))
  let at: Xy = [node.at[0] + step[0], node.at[1] + step[1]]
  let best = made(at)
  for (let k = 0; k < 60; k++) {
    const off = minus(to, placeOf(best[index]!))
    if (Math.hypot(...off) < 0.0005) break
    const next: Xy = [at[0] + off[0], at[1] + off[1]]
    const tried = made(next)
    if (far(placeOf(tried[index]!), to) >= far(placeOf(best[index]!), to)) break
    at = next
    best = tried
  }
  return best
}
