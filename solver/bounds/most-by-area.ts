/**
 * The most that a choice of items can be worth by area alone: a linear programme with one row a conservative scaling, bounded by
 * its dual, of which any multipliers give a true bound; they are improved one at a time.
 */
import type { Problem } from '../problem.ts'
import { deckShapes } from '../rules/deck.ts'
import { pieceOf, type Scale, type Size, scales, sheetOf } from './room.ts'

/** Scales tried along one axis, with plain length along the other. */
const MANY = 200
const ROUNDS = 8

interface Row {
  readonly room: number
  /** By open piece. */
  readonly takes: Float64Array
}

/** `placed`: whether an item is, is not, or (undefined) may be placed. Infinite never; what takes no area is simply added. */
export function mostByArea(
  problem: Problem,
  worth: (item: number) => number,
  placed: (item: number) => boolean | undefined,
): number {
  const sheets = deckShapes(problem).map((d) => sheetOf(d.box, problem))
  let sure = 0
  const stand: Size[][] = []
  const open: { readonly sizes: readonly Size[]; readonly worth: number }[] = []
  problem.items.forEach((item, i) => {
    const is = placed(i)
    if (is === false) return
    const stands = item.footprint.mount.kind !== 'plug-in' && Object.values(item.overhang).every((o) => o === 0)
    const sizes = stands ? item.turns.map((t) => pieceOf(item, t, problem)) : []
    if (is === true) {
      sure += worth(i)
      if (stands) stand.push(sizes)
    } else if (worth(i) > 0) open.push({ sizes, worth: worth(i) })
  })
  const rows: Row[] = []
  const seen = new Set<string>()
  const row = (room: number, area: (s: Size) => number) => {
    const least = (sizes: readonly Size[]) => (sizes.length === 0 ? 0 : Math.min(...sizes.map(area)))
    const left = stand.reduce((n, sizes) => n - least(sizes), room)
    const takes = Float64Array.from(open, (o) => least(o.sizes))
    const key = `${left}:${takes.join()}`
    if (seen.has(key)) return
    seen.add(key)
    rows.push({ room: Math.max(0, left), takes })
  }
  row(
    sheets.reduce((n, s) => n + s.w * s.h, 0),
    (s) => s.w * s.h,
  )
  const [sheet] = sheets
  if (sheet && sheets.length === 1) {
    const all = [...stand.flat(), ...open.flatMap((o) => o.sizes)]
    const [widths, heights] = [all.map((s) => s.w), all.map((s) => s.h)]
    const [xs, ys] = [scales(sheet.w, widths), scales(sheet.h, heights)]
    const both = (x: Scale, y: Scale) => row(x.whole * y.whole, (s) => x.size(s.w) * y.size(s.h))
    for (const x of scales(sheet.w, widths, MANY)) both(x, ys[0]!)
    for (const y of scales(sheet.h, heights, MANY)) both(xs[0]!, y)
    for (const x of xs) for (const y of ys) both(x, y)
  }
  return (
    sure +
    dual(
      rows,
      open.map((o) => o.worth),
    )
  )
}

/** A bound on Σ worth·x, 0 ≤ x ≤ 1, Σ takes·x ≤ room for every row. */
function dual(rows: readonly Row[], worth: readonly number[]): number {
  /** What a piece is still worth beyond what the rows charge for it. */
  const rest = Float64Array.from(worth)
  const price = new Float64Array(rows.length)
  const cost = () => {
    let sum = 0
    rows.forEach((r, k) => {
      sum += r.room * price[k]!
    })
    for (const v of rest) sum += Math.max(0, v)
    return sum
  }
  const set = (k: number, to: number) => {
    const by = to - price[k]!
    price[k] = to
    const { takes } = rows[k]!
    for (let i = 0; i < takes.length; i++) rest[i]! -= by * takes[i]!
  }
  /** The best price of one row with those of all others as they are: where what would be taken at it just fills the room (Dantzig 1957). */
  const best = (k: number): number => {
    const { room, takes } = rows[k]!
    const asks: { readonly at: number; readonly take: number }[] = []
    for (let i = 0; i < takes.length; i++) {
      const take = takes[i]!
      const at = take > 0 ? (rest[i]! + price[k]! * take) / take : 0
      if (at > 0) asks.push({ at, take })
    }
    asks.sort((p, q) => q.at - p.at)
    let left = room
    for (const a of asks) {
      left -= a.take
      if (left < 0) return a.at
    }
    return 0
  }
  let least = cost()
  for (let round = 0; round < ROUNDS; round++) {
    const before = least
    for (let k = 0; k < rows.length; k++) set(k, best(k))
    least = Math.min(least, cost())
    if (before - least < 1e-6 * before) break
  }
  return least
}
