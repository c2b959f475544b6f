/** What a constraint says, in the words of the log: see README.md. Only the kinds that the replayer can judge are spelled out. */
import { Energy } from '../bounds/energy.ts'
import { BalanceGoal } from '../search/balance-goal.ts'
import { ChainLimit } from '../search/chain-limit.ts'
import { Linear } from '../search/linear.ts'
import { type Axis, type End, Relation } from '../search/relation.ts'
import { type Bitmap, StaticMap } from '../search/static-map.ts'
import { Sum } from '../search/sum.ts'
import { type Candidate, chainsOf } from '../search/wire-ends.ts'
import { WireGoal } from '../search/wire-goal.ts'
import { type Tip, Within } from '../search/within.ts'

/** How the writer spells things; `axis` and `bitmap` write their own line when first asked for. */
export interface Speller {
  /** A literal; `T` where it is always true, `F` where it never is. */
  lit(l: number): string
  axis(a: Axis): string
  bitmap(b: Bitmap): string
}

/** A count, and so many things. */
const many = (words: readonly (string | number)[]): string => [words.length, ...words].join(' ')

/** `relation …`, `map …`, and so on; `other NAME` for what only the search can judge. */
export function describe(it: object, s: Speller): string {
  const list = (lits: readonly number[]) => many(lits.map((l) => s.lit(l)))
  const end = (n: End) =>
    n.modes.length === 0
      ? `${s.axis(n.axis)} 0 ${n.offsets[0]}`
      : `${s.axis(n.axis)} ${n.modes.length} ${n.modes.map((m, i) => `${s.lit(m)} ${n.offsets[i]}`).join(' ')}`
  const tip = (t: Tip) => `${end(t.x)} ${end(t.y)}`
  if (it instanceof Relation) return `relation ${s.lit(it.lit)} ${end(it.a)} ${end(it.b)}`
  if (it instanceof StaticMap) {
    const maps = it.modes.map((m, i) => `${s.lit(m)} ${s.bitmap(it.maps[i]!)}`)
    return `map ${s.lit(it.guard)} ${s.lit(it.present)} ${s.axis(it.x)} ${s.axis(it.y)} ${many(maps)}`
  }
  if (it instanceof Linear) {
    const terms = it.terms.map((t) => `${s.lit(t.lit)} ${t.coef}`)
    return `linear ${s.lit(it.guard)} ${it.least} ${many(terms)} ${many(it.minus.map((a) => s.axis(a)))}`
  }
  if (it instanceof Sum)
    return `sum ${list(it.when)} ${s.axis(it.a)} ${s.axis(it.b)} ${s.axis(it.c)} ${it.sign} ${it.offset}`
  if (it instanceof Within) return `within ${list(it.when)} ${it.scale} ${it.limit} ${tip(it.a)} ${tip(it.b)}`
  if (it instanceof ChainLimit) {
    const chains = it.list.map((c) => `${c.x0} ${c.y0} ${c.x1} ${c.y1} ${c.between}`)
    return `chain ${list(it.when)} ${it.limit} ${tip(it.a)} ${tip(it.b)} ${many(chains)}`
  }
  if (it instanceof BalanceGoal) {
    const { chassis, aim } = it
    const weights = it.weights.map((w) => `${s.lit(w.body.present)} ${w.mass} ${tip(w.tip)} ${aim.x} ${aim.y}`)
    const centre = `${chassis.centre.x - aim.x} ${chassis.centre.y - aim.y}`
    return `balance ${chassis.mass} ${centre} ${many(weights)}`
  }
  if (it instanceof WireGoal) return wires(it, s, list, end, tip)
  if (it instanceof Energy) {
    const rooms = Array.from(it.room.slice(1), (n, i) => n - it.room[i]!)
    const parts = it.parts.map((p) => {
      const here = p.here.map((w) => `${s.lit(w.lit)} ${w.long} ${w.wide}`)
      return `${s.axis(p.axis)} ${s.lit(p.on)} ${many(here)}`
    })
    return `strip ${it.grid} ${it.first} ${many(rooms)} ${many(parts)}`
  }
  return `other ${it.constructor.name}`
}

function wires(
  it: WireGoal,
  s: Speller,
  list: (lits: readonly number[]) => string,
  end: (n: End) => string,
  tip: (t: Tip) => string,
): string {
  const { model } = it
  const candidate = (c: Candidate, pick: number) => {
    const decks = c.decks.map((d) => `${d.deck} ${list(c.decks.length > 1 ? [d.lit] : [])}`)
    return `${s.lit(pick)} ${s.lit(c.lit)} ${tip(c.tip)} ${many(decks)}`
  }
  // of several things that an end may stand for, one is picked; of a single one, that one
  const side = (list: readonly Candidate[], picks: readonly number[] | undefined) =>
    many(list.map((c, k) => candidate(c, picks ? picks[k]! : c.lit)))
  const { ends } = it.flow
  const wire = (w: WireGoal['wires'][number], i: number) =>
    `${w.wire.conductors} ${side(w.from, ends.get(`${i}<`))} ${side(w.to, ends.get(`${i}>`))}`
  const relations = model.relations.flatMap((g) => g.four.map((r) => `${s.lit(r.lit)} ${end(r.a)} ${end(r.b)}`))
  const links = model.links.map(
    (l) => `${list(l.when)} ${s.axis(l.body[l.axis])} ${s.axis(l.host[l.axis])} ${s.axis(l.on)} ${l.sign} ${l.offset}`,
  )
  const pairs = new Set<string>()
  for (const w of it.wires)
    for (const p of w.from)
      for (const q of w.to)
        for (const a of p.decks) for (const b of q.decks) if (a.deck !== b.deck) pairs.add(`${a.deck} ${b.deck}`)
  const ways = [...pairs].map((key) => {
    const [a, b] = key.split(' ').map(Number) as [number, number]
    const rise = Math.abs(model.problem.decks[a]!.z - model.problem.decks[b]!.z)
    const chains = chainsOf(model, a, b).map((c) => `${c.x0} ${c.y0} ${c.x1} ${c.y1} ${c.between}`)
    return `${key} ${rise} ${many(chains)}`
  })
  const picks = [...it.flow.picks].map(([key, lits]) => `${key.split(':').join(' ')} ${list(lits)}`)
  const parts = [it.wires.map(wire), relations, links, ways, picks]
  return `wires ${it.name} ${parts.map(many).join(' ')}`
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
