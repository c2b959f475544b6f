/** Points that are one, and line ends that are near one another: both by a grid, so that time grows with their number only. */
import { Refused } from './contours.ts'
import { drawing } from './words-drawings.ts'

/** Nearer than this (mm) two ends are one: each may be off by a micrometre's rounding. */
export const SAME = 0.002
/** Line ends that may lie within one gap of an end. */
const MOST_NEAR = 64

/** Cells of `size` mm; the key of a cell fits into a double for coordinates up to 100 m. */
const cellOf = (v: number, size: number): number => Math.floor(v / size)
const keyOf = (i: number, j: number): number => (i + 0x2000000) * 0x4000000 + (j + 0x2000000)

/** Gives every point a number; points within SAME of the first of their kind share it. `x`, `y` in mm. */
export class Nodes {
  readonly x: number[] = []
  readonly y: number[] = []
  readonly #next: number[] = []
  readonly #cells = new Map<number, number>()

  at(x: number, y: number): number {
    const size = 2 * SAME
    const [i, j] = [cellOf(x, size), cellOf(y, size)]
    // Half a cell is as far as a point may be, so the neighbours on two sides are enough.
    const di = x / size - i < 0.5 ? -1 : 1
    const dj = y / size - j < 0.5 ? -1 : 1
    for (const [a, b] of [
      [i, j],
      [i + di, j],
      [i, j + dj],
      [i + di, j + dj],
    ] as const) {
      for (let n = this.#cells.get(keyOf(a, b)) ?? -1; n >= 0; n = this.#next[n]!) {
        if (Math.hypot(this.x[n]! - x, this.y[n]! - y) <= SAME) return n
      }
    }
    const node = this.x.length
    this.x.push(x)
    this.y.push(y)
    this.#next.push(this.#cells.get(keyOf(i, j)) ?? -1)
    this.#cells.set(keyOf(i, j), node)
    return node
  }
}

/**
 * Pairs of the given nodes that are at most `gap` mm apart, the nearest first. Throws Refused where so many lie on one heap that
 * nobody could say which belong together.
 */
export function nearPairs(nodes: Nodes, ends: readonly number[], gap: number): [number, number, number][] {
  if (!(gap > 0)) return []
  // Not below what the keys have room for.
  const size = Math.max(gap, 2 * SAME)
  const cells = new Map<number, number[]>()
  const pairs: [number, number, number][] = []
  for (const n of ends) {
    const [x, y] = [nodes.x[n]!, nodes.y[n]!]
    const [i, j] = [cellOf(x, size), cellOf(y, size)]
    let near = 0
    for (let a = i - 1; a <= i + 1; a++) {
      for (let b = j - 1; b <= j + 1; b++) {
        for (const m of cells.get(keyOf(a, b)) ?? []) {
          const d = Math.hypot(nodes.x[m]! - x, nodes.y[m]! - y)
          if (d <= gap) pairs.push([m, n, d])
          near += 1
        }
      }
    }
    if (near > MOST_NEAR) {
      throw new Refused(drawing.looseEnds(MOST_NEAR, { x, y }), drawing.fewerEnds)
    }
    const key = keyOf(i, j)
    const own = cells.get(key)
    if (own) own.push(n)
    else cells.set(key, [n])
  }
  return pairs.sort((p, q) => p[2] - q[2] || p[0] - q[0] || p[1] - q[1])
}
