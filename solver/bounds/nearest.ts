/** The nearest of many spots to each of many others, along the axes: two sweeps an axis, exact (a distance transform: Rosenfeld & Pfaltz 1968). */
import type { Point } from '../units.ts'

/** Crossings of two lists of coordinates (µm, ascending), those that count. */
export interface Spots {
  readonly xs: Int32Array
  readonly ys: Int32Array
  /** By crossing, 1 where it counts: the ys of an x beside one another. */
  readonly has: Uint8Array
  /** Each stands for all points not further from it than this, |dx| + |dy|. */
  readonly slack: number
}

interface Size {
  readonly w: number
  readonly h: number
}

/** Two rectangles with these corners keep `gap` along x or along y. */
export interface Apart {
  readonly from: Size
  readonly to: Size
  readonly gap: number
}

/**
 * By spot of `to`, row after row of its `ys` within each of its `xs`: |dx| + |dy| at least to a spot of `from`, each moved by its tip;
 * ∞ where there is none. `apart`: only to spots that are clear of it. What `to.has` says is not asked.
 */
export function nearest(from: Spots, fromTip: Point, to: Spots, toTip: Point, apart?: Apart): Float64Array {
  const { xs, ys } = to
  const out = new Float64Array(xs.length * ys.length).fill(Number.POSITIVE_INFINITY)
  const dx = toTip.x - fromTip.x
  const dy = toTip.y - fromTip.y
  const anyX: Way = { up: -dx, down: dx }
  const anyY: Way = { up: -dy, down: dy }
  const ways: readonly (readonly [Way, Way])[] = apart
    ? [
        [{ up: apart.from.w + apart.gap }, anyY],
        [{ down: apart.to.w + apart.gap }, anyY],
        [anyX, { up: apart.from.h + apart.gap, down: apart.to.h + apart.gap }],
      ]
    : [[anyX, anyY]]
  const lines = new Float64Array(from.ys.length * xs.length)
  const seeds = new Float64Array(from.xs.length)
  const column = new Float64Array(from.ys.length)
  for (const [x, y] of ways) {
    lines.fill(Number.POSITIVE_INFINITY)
    const my = from.ys.length
    for (let j = 0; j < my; j++) {
      let any = false
      for (let i = 0; i < seeds.length; i++) {
        seeds[i] = from.has[i * my + j] === 1 ? 0 : Number.POSITIVE_INFINITY
        any ||= seeds[i] === 0
      }
      if (any) sweep(from.xs, seeds, xs, lines.subarray(j * xs.length, (j + 1) * xs.length), dx, x)
    }
    for (let k = 0; k < xs.length; k++) {
      for (let j = 0; j < column.length; j++) column[j] = lines[j * xs.length + k]!
      sweep(from.ys, column, ys, out.subarray(k * ys.length, (k + 1) * ys.length), dy, y)
    }
  }
  const slack = from.slack + to.slack
  for (let k = 0; k < out.length; k++) out[k] = Math.max(0, out[k]! - slack)
  return out
}

/** From coordinates at least so far below (`up`), or above (`down`). */
interface Way {
  readonly up?: number
  readonly down?: number
}

/** out[k] = least of itself and seed[i] + |b[k] + d − a[i]|, over those i that the way allows; of a distance the sign is as the way says. */
function sweep(a: Int32Array, seed: Float64Array, b: Int32Array, out: Float64Array, d: number, way: Way): void {
  if (way.up !== undefined) {
    let best = Number.POSITIVE_INFINITY
    for (let k = 0, i = 0; k < b.length; k++) {
      for (; i < a.length && a[i]! + way.up <= b[k]!; i++) best = Math.min(best, seed[i]! - a[i]!)
      out[k] = Math.min(out[k]!, best + b[k]! + d)
    }
  }
  if (way.down !== undefined) {
    let best = Number.POSITIVE_INFINITY
    for (let k = b.length - 1, i = a.length - 1; k >= 0; k--) {
      for (; i >= 0 && a[i]! - way.down >= b[k]!; i--) best = Math.min(best, seed[i]! + a[i]!)
      out[k] = Math.min(out[k]!, best - b[k]! - d)
    }
  }
}
