/** Items that nothing in a problem tells apart: copies of one, or others with the same part, wishes and figures. */
import type { Problem } from '../problem.ts'
import type { Body, Mode, Model } from './model.ts'
import { type Axis, fixedEnd, Relation } from './relation.ts'

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

/** Of each group the first ones are placed: deck by deck and on each from left to right, or board by board and on each along it. */
export function inOrder(model: Model, groups: readonly (readonly number[])[]): void {
  for (const group of groups) if (model.bodies[group[0]!]!.seating) alongBoards(model, group)
  fromLeftToRight(
    model,
    groups.filter((g) => !model.bodies[g[0]!]!.seating),
  )
}

/** Of each group the first ones are placed, deck by deck, and on each from left to right. */
export function fromLeftToRight(model: Model, groups: readonly (readonly number[])[]): void {
  for (const group of groups)
    ordered(
      model,
      group,
      (m) => m.deck,
      (b) => b.x,
    )
}

/** Of plug-in parts: the order must not depend on how a board is turned, as who stands beside whom does not (`rules/on-board.ts`). */
const alongBoards = (model: Model, group: readonly number[]): void =>
  ordered(
    model,
    group,
    (m) => m.host,
    (b) => b.seating!.u,
  )

/** Each after the one before it: in no earlier of the places that modes are in, and in the same one not further back. */
function ordered(model: Model, group: readonly number[], place: (m: Mode) => number, along: (b: Body) => Axis): void {
  const { e, bodies } = model
  for (let i = 1; i < group.length; i++) {
    const [a, b] = [bodies[group[i - 1]!]!, bodies[group[i]!]!]
    e.addClause([a.present, e.not(b.present)])
    const ends = [fixedEnd(along(a), 0), fixedEnd(along(b), 0)] as const
    const places = [...new Set(a.modes.map(place))].sort((p, q) => p - q)
    if (places.length < 2) {
      new Relation(e, b.present, ...ends)
      continue
    }
    const on = (body: Body) =>
      places.map((p) =>
        model.class(
          body,
          body.modes.filter((m) => place(m) === p),
        ),
      )
    const [here, next] = [on(a), on(b)]
    const order = model.relation(...ends).lit
    for (let k = 0; k < places.length; k++) {
      e.addClause([e.not(here[k]!), e.not(next[k]!), order])
      for (let j = 0; j < k; j++) e.addClause([e.not(here[k]!), e.not(next[j]!)])
    }
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
