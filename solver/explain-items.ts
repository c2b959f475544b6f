/** Items that cannot all be placed, as few as it takes, and layouts without one of them each: the first half of an explanation. */
import { type Clock, inSlices } from './clock.ts'
import { compile } from './compile.ts'
import type { Placement, Problem } from './problem.ts'
import { alike } from './search/alike.ts'
import type { Body } from './search/model.ts'
import { area, Search } from './search/search.ts'

/** Conflicts in a first try to do without one, and in another once what is easily left out is gone; what takes longer stays. */
const TRIES = [400, 16_000]

/** So many in a row that stay, and the others stay untried. */
const STAYING = 3

export interface Culprits {
  readonly items: readonly number[]
  /** By item: all the others in a legal layout. None where it took too long. */
  readonly without: ReadonlyMap<number, readonly Placement[]>
}

/** A model in which nothing need be placed, and what should be. */
export interface Asked {
  readonly problem: Problem
  readonly search: Search
  readonly bodies: readonly Body[]
  readonly required: readonly number[]
}

export function asking(problem: Problem): Asked {
  const model = compile(problem, { optional: true })
  const { bodies } = model
  const required = bodies.flatMap((b) => (b.item.required ? [b.index] : []))
  return { problem, search: new Search(model), bodies, required }
}

/** Items of one refutation: mostly few, but where there is just too much of everything, any. */
export function* culprits(asked: Asked, clock: Clock): Generator<undefined, readonly number[]> {
  const { problem, search, bodies, required } = asked
  const verdict = yield* inSlices(
    search,
    required.map((i) => bodies[i]!.present),
    clock,
  )
  const groups = alike(problem)
  // of items that are alike the later ones are placed only after the earlier
  const named = required.filter((i) =>
    [i, ...(groups.find((g) => g.includes(i)) ?? [])].some((k) => k >= i && search.core.includes(bodies[k]!.present)),
  )
  return verdict === 'none' && named.length > 0 ? named : required
}

/**
 * All that must be placed, less each of which the rest is too much: small ones first, since what is left without one of a few large things is
 * soon placed.
 */
export function* fewest({ problem, search, bodies, required }: Asked, clock: Clock): Generator<undefined, Culprits> {
  const groups = alike(problem).filter((g) => g.every((i) => required.includes(i)))
  const grouped = new Set(groups.flat())
  const size = (kind: readonly number[]) => area(bodies[kind[0]!]!)
  const kinds = [...groups, ...required.filter((i) => !grouped.has(i)).map((i) => [i])].sort(
    (a, b) => size(a) - size(b),
  )
  const counts = kinds.map((k) => k.length)
  const asked = () => kinds.flatMap((k, m) => k.slice(0, counts[m]))
  const without = new Map<number, readonly Placement[]>()
  /** As few of a kind as are too much with the rest; true where so many conflicts did not show whether one less would be. */
  const lessOf = function* (n: number, most: number): Generator<undefined, boolean> {
    const kind = kinds[n]!
    while (counts[n]! > 0) {
      const left = kind[--counts[n]!]!
      search.model.e.backTo(0)
      const rest = asked().map((i) => bodies[i]!.present)
      const verdict = yield* inSlices(search, rest, clock, most)
      if (verdict === 'none') continue
      counts[n]!++
      if (verdict === 'stopped') return true
      // any of a kind may be the one that is left out
      const layout = search.placements()
      for (const i of kind.slice(0, counts[n])) without.set(i, renamed(layout, i, left))
      break
    }
    return false
  }
  let open = [...kinds.keys()]
  for (const [round, most] of TRIES.entries()) {
    const later: number[] = []
    let staying = 0
    for (const n of open) {
      if (round > 0 && staying === STAYING) break
      const stays = yield* lessOf(n, most)
      staying = stays ? staying + 1 : 0
      if (stays) later.push(n)
    }
    open = later
  }
  return { items: asked(), without }
}

const renamed = (layout: readonly Placement[], from: number, to: number): Placement[] =>
  layout.map((p) => ({
    ...p,
    item: p.item === from ? to : p.item,
    ...(p.host === undefined ? {} : { host: p.host === from ? to : p.host }),
  }))
