/**
 * A second way to the optimum where pieces are large and worth their area: every choice of pieces that the sheet's area allows,
 * dearest first, until one can be laid. Whether a choice can be laid is decided by giving each pair a relation (left of, right of,
 * behind, ahead of) and looking at the longest chains. Shares nothing with the solver.
 */
import type { Instance } from './packing.ts'

type Piece = Instance['items'][number]

/** Whether these can lie on the sheet together, unturned. */
export function canLie(pieces: readonly { readonly w: number; readonly h: number }[], w: number, h: number): boolean {
  const n = pieces.length
  if (pieces.some((p) => p.w > w || p.h > h)) return false
  const pairs: [number, number][] = []
  for (let j = 1; j < n; j++) for (let i = 0; i < j; i++) pairs.push([i, j])
  // x[i], y[i]: least place so far. A chain of constraints is followed anew after each choice: n is small.
  const across: [number, number][] = []
  const along: [number, number][] = []
  const fits = (arcs: readonly [number, number][], size: (k: number) => number, length: number): boolean => {
    const at = new Array<number>(n).fill(0)
    for (let round = 0; round <= n; round++) {
      let moved = false
      for (const [a, b] of arcs) {
        const least = at[a]! + size(a)
        if (at[b]! >= least) continue
        at[b] = least
        if (least + size(b) > length) return false
        moved = true
      }
      if (!moved) return true
    }
    return false
  }
  const width = (k: number): number => pieces[k]!.w
  const height = (k: number): number => pieces[k]!.h
  const next = (k: number): boolean => {
    if (k === pairs.length) return true
    const [i, j] = pairs[k]!
    for (const [arcs, size, length] of [
      [across, width, w],
      [along, height, h],
    ] as const) {
      if (size(i) + size(j) > length) continue
      for (const arc of [
        [i, j],
        [j, i],
      ] as [number, number][]) {
        // A layout can be mirrored both ways, so the first pair needs one order only.
        if (k === 0 && arc[0] === 1) continue
        arcs.push(arc)
        if (fits(arcs, size, length) && next(k + 1)) return true
        arcs.pop()
      }
    }
    return false
  }
  return next(0)
}

const MOST = 3_000_000

/** The greatest area of pieces (one of each) that can lie on the sheet; undefined where there are too many choices. */
export function bestBySubsets(instance: Instance): number | undefined {
  const { w, h } = instance.sheet
  if (instance.items.some((p) => p.copies !== 1 || p.value !== p.w * p.h)) throw new Error('value is not area')
  const items: Piece[] = instance.items.filter((p) => p.w <= w && p.h <= h).sort((a, b) => b.value - a.value)
  const clash = items.map((p) => items.map((q) => p.w + q.w > w && p.h + q.h > h))
  const rest = items.map((_, k) => items.slice(k).reduce((s, p) => s + p.value, 0))
  for (let top = w * h; top > 0; ) {
    const bottom = Math.max(0, top - Math.ceil((w * h) / 200))
    const found: { value: number; chosen: number[] }[] = []
    const chosen: number[] = []
    const choose = (k: number, value: number): boolean => {
      if (value > bottom && value <= top) found.push({ value, chosen: [...chosen] })
      if (found.length > MOST) return false
      for (let i = k; i < items.length; i++) {
        if (value + rest[i]! <= bottom) break
        if (value + items[i]!.value > top || chosen.some((c) => clash[c]![i])) continue
        chosen.push(i)
        const fine = choose(i + 1, value + items[i]!.value)
        chosen.pop()
        if (!fine) return false
      }
      return true
    }
    if (!choose(0, 0)) return undefined
    found.sort((a, b) => b.value - a.value)
    const hit = found.find((f) =>
      canLie(
        f.chosen.map((c) => items[c]!),
        w,
        h,
      ),
    )
    if (hit) return hit.value
    top = bottom
  }
  return 0
}
