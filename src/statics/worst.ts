/**
 * The worst of all loadings: each stack anywhere between lightest and heaviest, each `later` item there or not, what it
 * reaches turned the wrong way. For one edge the tangent of the tip angle is Σ m·distance / Σ m·height, a quotient of two
 * sums that are linear in the masses, so its least value lies at their ends and Dinkelbach's iteration (1967) finds it
 * exactly in a few steps. The share of one track is such a quotient too.
 */
import { type HullEdge, inside, tipAngle } from './tip.ts'
import { type Span, spanOf } from './tracks.ts'
import { rangeOf, type Weight } from './weights.ts'

/** Linear in where a mass is: what one gram there adds to a sum that must not become negative. */
export interface Limit {
  readonly x: number
  readonly y: number
  readonly z: number
  readonly c: number
  /** What one mm of reach takes away; missing = the length of (x, y). */
  readonly reach?: number
}

/** What one gram of a weight adds, its reach taken the wrong way. */
export const perGram = (l: Limit, w: Pick<Weight, 'at' | 'reach'>): number =>
  l.x * w.at.x + l.y * w.at.y + l.z * w.at.z + l.c - w.reach * (l.reach ?? Math.hypot(l.x, l.y))

/** The least that a weight adds, of all masses it may have. */
export const leastOf = (l: Limit, w: Weight): number => {
  const value = perGram(l, w)
  return value * rangeOf(w)[value < 0 ? 1 : 0]
}

/** An edge, at a slope with this tangent: the sum is negative when the robot tips over it. */
export const tipLimit = (e: HullEdge, tangent: number): Limit => ({ x: e.n.x, y: e.n.y, z: -tangent, c: e.c })

/** Negative when the robot tips over some edge wherever its centre of gravity is in plan: nowhere is farther from all than `radius`. */
export const tipAnywhere = (radius: number, tangent: number): Limit => ({
  x: 0,
  y: 0,
  z: -tangent,
  c: radius,
  reach: 1,
})

/** Negative when one track has more than `share` wherever the weight is: half each is the best, and a reach may go either way. */
export const trackAnywhere = (s: Span, share: number): Limit => ({
  x: 0,
  y: 0,
  z: 0,
  c: (share - 0.5) * (s.right - s.left),
  reach: 1,
})

/** The sum is negative when more than `share` of the weight is on that track. */
export function trackLimit(s: Span, side: 'left' | 'right', share: number): Limit {
  const width = s.right - s.left
  return side === 'right'
    ? { x: -1, y: 0, z: 0, c: share * width + s.left }
    : { x: 1, y: 0, z: 0, c: share * width - s.right }
}

const MOST_ROUNDS = 60

/** Least of Σ m·a / Σ m·b over all masses in their ranges; `b` not negative, and not 0 everywhere. */
function leastQuotient(weights: readonly Weight[], a: (w: Weight) => number, b: (w: Weight) => number): number {
  let q = Number.POSITIVE_INFINITY
  let next = quotient(weights, a, b, (w) => w.mass[1])
  for (let i = 0; i < MOST_ROUNDS && next < q; i++) {
    q = next
    const at = q
    next = quotient(weights, a, b, (w) => rangeOf(w)[a(w) - at * b(w) < 0 ? 1 : 0])
  }
  return q
}

function quotient(
  weights: readonly Weight[],
  a: (w: Weight) => number,
  b: (w: Weight) => number,
  mass: (w: Weight) => number,
): number {
  let over = 0
  let under = 0
  for (const w of weights) {
    over += mass(w) * a(w)
    under += mass(w) * b(w)
  }
  return under > 0 ? over / under : over < 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY
}

/** Degrees of the least slope, in whatever direction, that tips the robot in whatever loading; and the edge. */
export function worstOfAll(
  edges: readonly HullEdge[],
  weights: readonly Weight[],
): { angle: number; edge: HullEdge } | undefined {
  if (weights.length === 0) return undefined
  let worst: { angle: number; edge: HullEdge } | undefined
  for (const edge of edges) {
    const q = leastQuotient(
      weights,
      (w) => inside(edge, w.at) - w.reach,
      (w) => Math.max(0, w.at.z),
    )
    const angle = tipAngle(q, 1)
    if (!worst || angle < worst.angle) worst = { angle, edge }
  }
  return worst
}

/** The largest share of the weight that one track carries on level ground, of all loadings. */
export function worstShare(
  edges: readonly HullEdge[],
  weights: readonly Weight[],
): { side: 'left' | 'right'; share: number } | undefined {
  if (weights.length === 0 || edges.length === 0) return undefined
  const s = spanOf(edges)
  const width = s.right - s.left
  const sides = (['left', 'right'] as const).map((side) => {
    const away = (w: Weight) => (side === 'right' ? s.right - w.at.x : w.at.x - s.left) - w.reach
    return { side, share: 1 - leastQuotient(weights, away, () => 1) / width }
  })
  return sides[0]!.share >= sides[1]!.share ? sides[0] : sides[1]
}
