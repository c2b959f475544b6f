/** Items that nothing in a problem tells apart: copies of one, or others with the same part, wishes and figures. */
import type { Problem } from '../problem.ts'
import type { Model } from './model.ts'
import { fixedEnd, Relation } from './relation.ts'

/**
 * Groups of two or more, by index, ascending, without the `held` ones. Whatever a wire or a place names, it names all of a group or
 * none. `copies`: only copies of one item.
 */
export function alike(problem: Problem, held: readonly number[] = [], copies = false): number[][] {
  const named = problem.items.map((): number[] => [])
  let refs = 0
  const name = (items: readonly number[]) => {
    for (const i of items) named[i]!.push(refs)
    refs++
  }
  for (const w of problem.wires) for (const end of [w.from, w.to]) if (end.kind === 'item') name(end.ref.items)
  for (const i of problem.items) for (const p of i.place) if ('item' in p) name(p.item.items)
  const parts = new Map<object, string>()
  const groups = new Map<string, number[]>()
  problem.items.forEach(({ id: _, base, footprint, ...rest }, i) => {
    if (held.includes(i)) return
    let part = parts.get(footprint)
    if (part === undefined) {
      part = JSON.stringify(footprint)
      parts.set(footprint, part)
    }
    const key = JSON.stringify([part, rest, named[i], copies ? base : ''])
    const group = groups.get(key)
    if (group) group.push(i)
    else groups.set(key, [i])
  })
  return [...groups.values()].filter((g) => g.length > 1)
}

/** Of each group the first ones are placed, deck by deck, and on each from left to right. */
export function fromLeftToRight(model: Model, groups: readonly (readonly number[])[]): void {
  const { e, bodies } = model
  for (const group of groups)
    for (let i = 1; i < group.length; i++) {
      const [a, b] = [bodies[group[i - 1]!]!, bodies[group[i]!]!]
      e.addClause([a.present, e.not(b.present)])
      const decks = [...new Set(a.modes.map((m) => m.deck))].sort((p, q) => p - q)
      if (decks.length < 2) {
        new Relation(e, b.present, fixedEnd(a.x, 0), fixedEnd(b.x, 0))
        continue
      }
      const [on, next] = [a, b].map((body) => decks.map((d) => model.onDeck(body, d))) as [number[], number[]]
      const order = model.relation(fixedEnd(a.x, 0), fixedEnd(b.x, 0)).lit
      decks.forEach((_, k) => {
        e.addClause([e.not(on[k]!), e.not(next[k]!), order])
        for (let j = 0; j < k; j++) e.addClause([e.not(on[k]!), e.not(next[j]!)])
      })
    }
}

/** Beside `fromLeftToRight`: those as far to the right as each other, on one deck, from back to front, so that no two namings of one layout are left. */
export function fromBackToFront(model: Model, groups: readonly (readonly number[])[]): void {
  const { e, bodies } = model
  for (const group of groups)
    for (let i = 1; i < group.length; i++) {
      const [a, b] = [bodies[group[i - 1]!]!, bodies[group[i]!]!]
      const right = model.relation(fixedEnd(a.x, 1), fixedEnd(b.x, 0)).lit
      const front = model.relation(fixedEnd(a.y, 0), fixedEnd(b.y, 0)).lit
      for (const d of new Set(a.modes.map((m) => m.deck)))
        e.addClause([e.not(model.onDeck(a, d)), e.not(model.onDeck(b, d)), right, front])
    }
}
