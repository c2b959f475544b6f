/** What a constraint says, in the words of the log: see README.md. Only the kinds that the replayer can judge are spelled out. */
import { ChainLimit } from '../search/chain-limit.ts'
import { Linear } from '../search/linear.ts'
import { type Axis, type End, Relation } from '../search/relation.ts'
import { type Bitmap, StaticMap } from '../search/static-map.ts'
import { Sum } from '../search/sum.ts'
import { type Tip, Within } from '../search/within.ts'

/** How the writer spells things; `axis` and `bitmap` write their own line when first asked for. */
export interface Speller {
  /** A literal; `T` where it is always true, `F` where it never is. */
  lit(l: number): string
  axis(a: Axis): string
  bitmap(b: Bitmap): string
}

/** `relation …`, `map …`, and so on; `other NAME` for what only the search can judge. */
export function describe(it: object, s: Speller): string {
  const list = (lits: readonly number[]) => [lits.length, ...lits.map((l) => s.lit(l))].join(' ')
  const end = (n: End) =>
    n.modes.length === 0
      ? `${s.axis(n.axis)} 0 ${n.offsets[0]}`
      : `${s.axis(n.axis)} ${n.modes.length} ${n.modes.map((m, i) => `${s.lit(m)} ${n.offsets[i]}`).join(' ')}`
  const tip = (t: Tip) => `${end(t.x)} ${end(t.y)}`
  if (it instanceof Relation) return `relation ${s.lit(it.lit)} ${end(it.a)} ${end(it.b)}`
  if (it instanceof StaticMap) {
    const maps = it.modes.map((m, i) => `${s.lit(m)} ${s.bitmap(it.maps[i]!)}`).join(' ')
    const head = `map ${s.lit(it.guard)} ${s.lit(it.present)} ${s.axis(it.x)} ${s.axis(it.y)}`
    return `${head} ${it.modes.length} ${maps}`
  }
  if (it instanceof Linear) {
    const terms = it.terms.map((t) => `${s.lit(t.lit)} ${t.coef}`).join(' ')
    const minus = it.minus.map((a) => s.axis(a)).join(' ')
    return `linear ${s.lit(it.guard)} ${it.least} ${it.terms.length} ${terms} ${it.minus.length} ${minus}`
  }
  if (it instanceof Sum)
    return `sum ${list(it.when)} ${s.axis(it.a)} ${s.axis(it.b)} ${s.axis(it.c)} ${it.sign} ${it.offset}`
  if (it instanceof Within) return `within ${list(it.when)} ${it.scale} ${it.limit} ${tip(it.a)} ${tip(it.b)}`
  if (it instanceof ChainLimit) {
    const chains = it.list.map((c) => `${c.x0} ${c.y0} ${c.x1} ${c.y1} ${c.between}`).join(' ')
    return `chain ${list(it.when)} ${it.limit} ${tip(it.a)} ${tip(it.b)} ${it.list.length} ${chains}`
  }
  return `other ${it.constructor.name}`
}

/** Legal cells, column by column (x outside, y inside), as lengths of runs: illegal first, then legal, then illegal, … */
export function runs(b: Bitmap): number[] {
  const out: number[] = []
  let now = 0
  let length = 0
  for (let i = 0; i < b.nx; i++)
    for (let j = 0; j < b.ny; j++) {
      const legal = b.count(b.x0 + i, b.x0 + i, b.y0 + j, b.y0 + j)
      if (legal !== now) {
        out.push(length)
        now = legal
        length = 0
      }
      length++
    }
  out.push(length)
  return out
}
