/** Straps: once round the body and the deck, through two slots. */
import { type Footprint, type Rect, toMm, type Um, um } from '../../solver/index.ts'
import type { Part, Pieces } from './hardware-screws.ts'
import { hardware as words } from './words-tables.ts'

/** What closes a strap: overlap of a hook-and-loop strap or the head of a tie, and a hand's hold; common practice, no source. */
const CLOSING = 40
const STEP = 10

/**
 * One strap for each pair of slots that face each other. It runs round a rectangle as wide as body and slots together and as high as
 * body and deck, plus 40 mm to close it, rounded up to 10 mm.
 */
export function strapsOf(f: Footprint, slots: readonly Rect[], deck: Um): Part[] {
  const { pairs, single } = pairsOf(slots)
  const parts: Part[] = []
  const add = (piece: Pieces) => parts.push({ piece, amount: 1 })
  const strap = (what: string, length: number | null, note: string): Pieces => ({
    kind: 'strap',
    what,
    standard: '',
    thread: '',
    length,
    unit: 'pieces',
    note,
  })
  for (const [a, b] of pairs) {
    const along = crosses(a)
    const [size, own] = along === 'y' ? (['h', f.depth] as const) : (['w', f.width] as const)
    const from = Math.min(0, a[along], b[along])
    const to = Math.max(own, a[along] + a[size], b[along] + b[size])
    const round = 2 * toMm(um(to - from + f.height + deck))
    const length = Math.ceil((round + CLOSING) / STEP - 1e-9) * STEP
    const width = toMm(um(Math.min(longSide(a), longSide(b))))
    const note = words.strapRound(Math.ceil(round), CLOSING, f.kind === 'pack')
    add(strap(words.strapUpTo(width), length, note))
  }
  if (single.length > 0 || slots.length === 0) {
    const note = slots.length === 0 ? words.noSlots : words.oneSlot
    const what = slots.length === 0 ? words.strap : words.strapUpTo(toMm(um(longSide(single[0]!))))
    for (let k = 0; k < Math.max(1, single.length); k++) add(strap(what, null, note))
  }
  return parts
}

const longSide = (r: Rect): number => Math.max(r.w, r.h)

/** A strap lies flat in its slot, so it runs across the long side: along y through a slot that is long in x. */
const crosses = (r: Rect): 'x' | 'y' => (r.w >= r.h ? 'y' : 'x')

/** Slots of one direction whose long sides overlap, the outermost of them together. */
function pairsOf(slots: readonly Rect[]): { pairs: [Rect, Rect][]; single: Rect[] } {
  const left = [...slots]
  const pairs: [Rect, Rect][] = []
  const single: Rect[] = []
  for (let a = left.shift(); a; a = left.shift()) {
    const first = a
    const along = crosses(first)
    const facing = left.filter((b) => crosses(b) === along && overlap(first, b, along === 'x' ? 'y' : 'x') > 0)
    const far = (b: Rect) => Math.abs(b[along] - first[along])
    const other = facing.reduce<Rect | undefined>((best, b) => (!best || far(b) > far(best) ? b : best), undefined)
    if (!other) single.push(first)
    else {
      pairs.push([first, other])
      left.splice(left.indexOf(other), 1)
    }
  }
  return { pairs, single }
}

function overlap(a: Rect, b: Rect, axis: 'x' | 'y'): number {
  const size = axis === 'x' ? 'w' : 'h'
  return Math.min(a[axis] + a[size], b[axis] + b[size]) - Math.max(a[axis], b[axis])
}
