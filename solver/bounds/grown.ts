/**
 * Pieces grown by what is left beside them whatever else stands in the same row: where no choice of others fills the rest of
 * the side, the piece may as well be that much longer (Boschetti, Hadjiconstantinou & Mingozzi 2002). What fits side by
 * side still does afterwards, so grown sizes are a conservative scale, one a piece (Fekete & Schepers 2004).
 */
import type { Size } from './room.ts'

/** Sums looked at in all; beyond, pieces stay as they are. */
const MOST = 20_000_000

/** One list of sizes a piece (its turns), in cells; the same lists, each size at least as large. */
export function grown(pieces: readonly (readonly Size[])[], sheet: Size): Size[][] {
  const ws = lengthened(
    pieces.map((sizes) => sizes.map((s) => s.w)),
    sheet.w,
  )
  const hs = lengthened(
    pieces.map((sizes) => sizes.map((s) => s.h)),
    sheet.h,
  )
  return pieces.map((sizes, i) => sizes.map((_, t) => ({ w: ws[i]![t]!, h: hs[i]![t]! })))
}

/** Lengths by piece and turn, along a side. */
function lengthened(given: readonly (readonly number[])[], side: number): number[][] {
  const lengths = given.map((list) => [...list])
  if (given.length * given.length * side > MOST) return lengths
  const order = lengths
    .flatMap((list, i) => list.map((_, t) => ({ i, t })))
    .sort((a, b) => lengths[b.i]![b.t]! - lengths[a.i]![a.t]!)
  for (const { i, t } of order) {
    const length = lengths[i]![t]!
    if (length <= 0 || length > side) continue
    const filled = mostOf(
      lengths.filter((_, k) => k !== i),
      side - length,
    )
    lengths[i]![t] = side - filled
  }
  return lengths
}

/** The greatest sum, at most `room`, of at most one length a piece. */
function mostOf(pieces: readonly (readonly number[])[], room: number): number {
  const can = new Uint8Array(room + 1)
  can[0] = 1
  let most = 0
  for (const list of pieces) {
    const fit = list.filter((l) => l > 0 && l <= room)
    if (fit.length === 0) continue
    for (let at = room; at > 0; at--) {
      for (let k = 0; can[at] === 0 && k < fit.length; k++) if (fit[k]! <= at) can[at] = can[at - fit[k]!]!
      if (can[at] === 1 && at > most) most = at
    }
    if (most === room) return room
  }
  return most
}
