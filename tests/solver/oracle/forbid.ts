/** Forbidden relative positions as few rectangles: how the CP-SAT oracle learns what two bodies may not do. */
import type { Problem } from '../../../solver/problem.ts'
import { broken2 } from './rules.ts'
import type { Stand } from './stand.ts'
import { moved } from './stand.ts'

/** Index ranges, both ends included. */
export interface Patch {
  readonly x0: number
  readonly x1: number
  readonly y0: number
  readonly y1: number
}

/** Covers the bad cells of a `nx` × `ny` table exactly, each once: runs along x, joined along y. */
export function patches(nx: number, ny: number, bad: (x: number, y: number) => boolean): Patch[] {
  const out: Patch[] = []
  let open = new Map<string, { x0: number; x1: number; y0: number }>()
  for (let y = 0; y <= ny; y++) {
    const runs = new Map<string, { x0: number; x1: number; y0: number }>()
    for (let x = 0; y < ny && x < nx; x++) {
      if (!bad(x, y)) continue
      const x0 = x
      while (x + 1 < nx && bad(x + 1, y)) x++
      const key = `${x0}-${x}`
      runs.set(key, open.get(key) ?? { x0, x1: x, y0: y })
    }
    for (const [key, r] of open) if (!runs.has(key)) out.push({ ...r, y1: y - 1 })
    open = runs
  }
  return out
}

export const differences = (from: readonly number[], to: readonly number[]): number[] =>
  [...new Set(to.flatMap((t) => from.map((f) => t - f)))].sort((a, b) => a - b)

/** Two kinds of stand as they lie relative to one another; true where some pair rule is broken. */
export function clashTable(p: Problem, a: Stand, b: Stand, dx: readonly number[], dy: readonly number[]): Patch[] {
  const bad = new Map<number, boolean>()
  return patches(dx.length, dy.length, (i, j) => {
    const key = i * dy.length + j
    const known = bad.get(key) ?? broken2(p, a, moved(b, a.x + dx[i]! - b.x, a.y + dy[j]! - b.y)).length > 0
    bad.set(key, known)
    return known
  })
}

/** An open rectangle of differences that is forbidden. */
export interface OpenBox {
  readonly x: readonly [number, number]
  readonly y: readonly [number, number]
}

/** R2 and rectangular corridors of two plug-in parts, by arithmetic alone; differences are b's corner less a's. */
export function boxClashes(p: Problem, a: Stand, b: Stand): OpenBox[] {
  const out: OpenBox[] = []
  const meets = (lo: number, hi: number, LO: number, HI: number): boolean => lo < HI && LO < hi
  if (a.deck === b.deck || meets(a.under, a.top, b.under, b.top)) {
    const c = a.deck === b.deck ? p.itemClearance : 0
    out.push({ x: [-b.box.w - c, a.box.w + c], y: [-b.box.h - c, a.box.h + c] })
  }
  for (const c of a.corridors) {
    if (!meets(c.lo, c.hi, b.under, b.high)) continue
    const k = c.region.box
    out.push({ x: [k.x - a.x - b.box.w, k.x - a.x + k.w], y: [k.y - a.y - b.box.h, k.y - a.y + k.h] })
  }
  for (const c of b.corridors) {
    if (!meets(c.lo, c.hi, a.under, a.high)) continue
    const k = c.region.box
    out.push({ x: [b.x - k.x - k.w, b.x - k.x + a.box.w], y: [b.y - k.y - k.h, b.y - k.y + a.box.h] })
  }
  return out
}
