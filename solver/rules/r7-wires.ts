/** R7: wires are long enough. */
import type { Problem, Wire, WireEnd } from '../problem.ts'
import { ChainLimit } from '../search/chain-limit.ts'
import { TRUE } from '../search/engine.ts'
import type { Model } from '../search/model.ts'
import { type Candidate, chainsOf, riseBetween, wireEnds } from '../search/wire-ends.ts'
import { Within } from '../search/within.ts'
import { um } from '../units.ts'
import { asked } from '../words-asked.ts'
import type { Rule } from './index.ts'

export const wires: Rule = {
  post(model) {
    for (const { wire, from, to } of wireEnds(model)) {
      const limit = longest(model.problem, wire)
      const decks = new Set([...from, ...to].flatMap((c) => c.decks.map((d) => d.deck)))
      if (!Number.isFinite(limit) && decks.size < 2) continue
      const [id, a, b] = namesOf(model, wire)
      const text = () =>
        Number.isFinite(limit) ? asked.wireReach(id, a, b, um(limit), decks.size > 1) : asked.wireWay(id, a, b)
      const guard = model.instance('R7', [id, a, b], text)
      const both = from.length > 1 && to.length > 1
      const [start, end] = [chosen(model, from, both), chosen(model, to, both)]
      for (const p of start) for (const q of end) pair(model, p, q, limit, guard)
    }
  },
}

/** The wire and whatever it ties together. */
function namesOf(model: Model, wire: Wire): [string, string, string] {
  const of = (n: WireEnd) =>
    n.kind === 'exit'
      ? model.problem.exits[n.exit]!.id
      : n.ref.items.length === 1
        ? model.problem.items[n.ref.items[0]!]!.id
        : n.ref.name
  return [wire.id, of(wire.from), of(wire.to)]
}

/** The most that the run between the ends may measure (µm); infinite without a limit. */
export function longest({ exits }: Problem, wire: Wire): number {
  let cut = wire.maxLength ?? Number.POSITIVE_INFINITY
  for (const n of [wire.from, wire.to])
    if (n.kind === 'exit') cut = Math.min(cut, exits[n.exit]!.free ?? Number.POSITIVE_INFINITY)
  return cut - wire.loop
}

/**
 * Of several copies, one that is placed is picked whenever one is; the limit need hold for the picked ones. A pick that stays open
 * holds by itself, but two of them, one at each end, need not hold together: then the search decides them.
 */
function chosen(model: Model, list: readonly Candidate[], decided: boolean): Candidate[] {
  if (list.length <= 1) return [...list]
  const { e } = model
  const picks = list.map((c) => ({ ...c, lit: e.newBool() }))
  picks.forEach((p, i) => {
    e.addClause([e.not(p.lit), list[i]!.lit])
    e.addClause([e.not(list[i]!.lit), ...picks.map((q) => q.lit)])
    if (!decided) return
    e.order.allow(e.varOf(p.lit), 0)
    for (const q of picks.slice(0, i)) e.addClause([e.not(p.lit), e.not(q.lit)])
  })
  return picks
}

function pair(model: Model, p: Candidate, q: Candidate, limit: number, guard: number): void {
  const { e } = model
  const both = [guard, p.lit, q.lit]
  const lits = (dp: number, dq: number) => [...both, dp, dq].filter((l) => l !== TRUE)
  for (const dp of p.decks)
    for (const dq of q.decks) {
      const when = lits(dp.lit, dq.lit)
      if (dp.deck === dq.deck) {
        if (Number.isFinite(limit)) new Within(e, p.tip, q.tip, 1, limit, when)
        continue
      }
      const rise = riseBetween(model, dp.deck, dq.deck)
      const list = chainsOf(model, dp.deck, dq.deck)
      if (list.length === 0) e.addClause(when.map((l) => e.not(l)))
      else if (Number.isFinite(limit)) new ChainLimit(e, p.tip, q.tip, list, limit - rise, when)
    }
}
