/**
 * The most that a choice of items can be worth by area alone: a linear programme with one row a conservative scaling, and
 * the prices of its rows.
 */
import type { Problem } from '../problem.ts'
import { deckShapes } from '../rules/deck.ts'
import { prices, type Row } from './fractional.ts'
import { grown } from './grown.ts'
import { pieceOf, type Scale, type Size, scales, sheetOf } from './room.ts'

/** Scales tried along one axis, with plain length along the other. */
const MANY = 200

/** Worth of all that is placed ≤ base + Σ rest over the open items that are. */
export interface Priced {
  readonly base: number
  /** By open item: what it is worth beyond what the rows charge for it; may be negative. */
  readonly rest: ReadonlyMap<number, number>
}

/** The most that prices allow in all. */
export const mostOf = ({ base, rest }: Priced): number =>
  [...rest.values()].reduce((sum, v) => sum + Math.max(0, v), base)

/** The bound itself: see `pricedByArea`. */
export function mostByArea(
  problem: Problem,
  worth: (item: number) => number,
  placed: (item: number) => boolean | undefined,
): number {
  return mostOf(pricedByArea(problem, worth, placed))
}

/** `placed`: whether an item is, is not, or (undefined) may be placed. Infinite never; what takes no area is simply added. */
export function pricedByArea(
  problem: Problem,
  worth: (item: number) => number,
  placed: (item: number) => boolean | undefined,
): Priced {
  const sheets = deckShapes(problem).map((d) => sheetOf(d.box, problem))
  let sure = 0
  const kept: { readonly item: number; readonly sizes: readonly Size[]; readonly is: boolean | undefined }[] = []
  problem.items.forEach((item, i) => {
    const is = placed(i)
    if (is === false) return
    const stands = item.footprint.mount.kind !== 'plug-in' && Object.values(item.overhang).every((o) => o === 0)
    if (is) sure += worth(i)
    kept.push({ item: i, sizes: stands ? item.turns.map((t) => pieceOf(item, t, problem)) : [], is })
  })
  const [sheet] = sheets
  const larger =
    sheet && sheets.length === 1
      ? grown(
          kept.map((k) => k.sizes),
          sheet,
        )
      : kept.map((k) => k.sizes)
  const stand = larger.filter((sizes, n) => kept[n]!.is && sizes.length > 0)
  const open = kept.flatMap(({ item, is }, n) => (is ? [] : [{ item, sizes: larger[n]!, worth: worth(item) }]))
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
  if (sheet && sheets.length === 1) {
    const all = [...stand.flat(), ...open.flatMap((o) => o.sizes)]
    const [widths, heights] = [all.map((s) => s.w), all.map((s) => s.h)]
    const [xs, ys] = [scales(sheet.w, widths), scales(sheet.h, heights)]
    const both = (x: Scale, y: Scale) => row(x.whole * y.whole, (s) => x.size(s.w) * y.size(s.h))
    for (const x of scales(sheet.w, widths, MANY)) both(x, ys[0]!)
    for (const y of scales(sheet.h, heights, MANY)) both(xs[0]!, y)
    for (const x of xs) for (const y of ys) both(x, y)
  }
  const price = prices(
    rows,
    Float64Array.from(open, (o) => o.worth),
  )
  const base = rows.reduce((sum, r, k) => sum + r.room * price[k]!, sure)
  const rest = open.map(
    (o, i) => [o.item, rows.reduce((left, r, k) => left - price[k]! * r.takes[i]!, o.worth)] as const,
  )
  return { base, rest: new Map(rest) }
}
