/** Segments by the squares of the plane that they touch, so that what is near is found without looking at them all. */
import { along, type Segment } from './contour.ts'
import type { Xy } from './meet.ts'

export interface Near {
  /** Indices of all segments within `reach` of a point, and perhaps some farther ones; one may come twice. */
  readonly around: (p: Xy, reach: number) => number[]
  /** Calls `visit` with every two segments that may touch, `i < k`, a pair perhaps twice. */
  readonly pairs: (visit: (i: number, k: number) => void) => void
}

export const lengthOf = (s: Segment): number =>
  s.arc ? s.arc.r * Math.abs(s.arc.sweep) : Math.hypot(s.b.x - s.a.x, s.b.y - s.a.y)

/** `coarse`: no square need be smaller than this, mm. Time and memory grow with the number of segments, not its square. */
export function near(segments: readonly Segment[], coarse: number): Near {
  const lengths = segments.map(lengthOf)
  const cell = Math.max(coarse, lengths.reduce((a, b) => a + b, 0) / Math.max(1, segments.length), 1e-3)
  const cells = new Map<number, number[]>()
  const index = (v: number): number => Math.floor(v / cell)
  // Files end at 10 m and squares at 1 µm, so both numbers fit into one.
  const key = (ix: number, iy: number): number => ix * 2 ** 26 + iy
  segments.forEach((s, i) => {
    const parts = Math.max(1, Math.ceil(lengths[i]! / cell), s.arc ? Math.ceil(Math.abs(s.arc.sweep) / 0.5) : 1)
    // An arc leaves the box of a part's ends by no more than its height over the chord.
    const bow = s.arc ? s.arc.r * (1 - Math.cos(s.arc.sweep / parts / 2)) : 0
    let from = along(s, 0)
    for (let k = 1; k <= parts; k++) {
      const to = along(s, k / parts)
      const pad = bow + 1e-6
      for (let ix = index(Math.min(from.x, to.x) - pad); ix <= index(Math.max(from.x, to.x) + pad); ix++) {
        for (let iy = index(Math.min(from.y, to.y) - pad); iy <= index(Math.max(from.y, to.y) + pad); iy++) {
          const list = cells.get(key(ix, iy))
          if (!list) cells.set(key(ix, iy), [i])
          else if (list[list.length - 1] !== i) list.push(i)
        }
      }
      from = to
    }
  })
  return {
    around: (p, reach) => {
      const found: number[] = []
      for (let ix = index(p.x - reach); ix <= index(p.x + reach); ix++) {
        for (let iy = index(p.y - reach); iy <= index(p.y + reach); iy++) {
          for (const i of cells.get(key(ix, iy)) ?? []) found.push(i)
        }
      }
      return found
    },
    pairs: (visit) => {
      for (const list of cells.values()) {
        for (let a = 0; a < list.length; a++) {
          for (let b = a + 1; b < list.length; b++) visit(list[a]!, list[b]!)
        }
      }
    },
  }
}
