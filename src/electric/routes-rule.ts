/**
 * The rule `routed`, for a solve: a lead that is long enough as the crow flies along x and y may be too short round what
 * stands in its way. It names the parts that alone make it so, which the search then never puts there together again.
 */
import {
  calledIn,
  type End,
  endsOf,
  type Layout,
  type LazyFinding,
  type LazyRule,
  layoutOf,
  type Wire,
} from '../../solver/index.ts'
import { wayAmong, wayAround } from './routes.ts'
import { type Obstacle, obstaclesOf } from './routes-obstacles.ts'
import { reachOf, type TooLong } from './routes-reach.ts'
import { extraOf, limitOf, type Wiring } from './routes-settings.ts'
import { leads as words } from './words.ts'

/** At most one finding a layout: a search learns from the first, and asks again. */
export const routedRule = (wiring: Wiring): LazyRule => ({
  name: 'routed',
  text: words.rule,
  find(problem, placements) {
    const limited = problem.wires.filter((w) => Number.isFinite(limitOf(problem.exits, w)))
    if (limited.length === 0) return []
    const layout = layoutOf(problem, placements)
    const obstacles = obstaclesOf(layout, wiring)
    for (const wire of limited) {
      const found = shortness(layout, obstacles, wire, wiring)
      if (found) return [{ ...found.finding, within: reachOf(layout, found.finding.placements, found.pairs) }]
    }
    return []
  },
})

/** The finding that a lead is too short round what is in its way; none where it is long enough, or does not count. `noWay`: none is open, however long it were. */
export function tooShort(
  layout: Layout,
  obstacles: readonly Obstacle[],
  wire: Wire,
  wiring: Wiring,
  noWay = false,
): LazyFinding | undefined {
  return shortness(layout, obstacles, wire, wiring, noWay)?.finding
}

/** With what makes each of the pairs of ends too far from each other. */
function shortness(
  layout: Layout,
  obstacles: readonly Obstacle[],
  wire: Wire,
  wiring: Wiring,
  noWay = false,
): { finding: LazyFinding; pairs: TooLong[] } | undefined {
  const limit = limitOf(layout.problem.exits, wire)
  if (!Number.isFinite(limit)) return undefined
  const pairs = endsOf(layout, wire.from).flatMap((from) => endsOf(layout, wire.to).map((to) => ({ from, to })))
  if (pairs.length === 0) return undefined
  const extra = extraOf(wiring, wire)
  const causes = new Set<Obstacle>()
  const tooLong: TooLong[] = []
  let needed = Number.POSITIVE_INFINITY
  for (const { from, to } of pairs) {
    const { decks } = layout.problem
    const most = limit - extra - Math.abs(decks[from.deck]!.z - decks[to.deck]!.z)
    const { way, active } = wayAround(layout, obstacles, from, to, most)
    if (way && way.length <= most) return undefined
    const needs = fewest(layout, active, from, to, most)
    tooLong.push({ from, to, most, needs })
    for (const o of needs) causes.add(o)
    const way2 = wayAmong(layout, needs, from, to)
    if (way2) needed = Math.min(needed, way2.length + limit - most)
  }
  const named = [...causes].flatMap((o) => (o.item === undefined ? [] : [o.item]))
  const names = [...new Set([...causes].map((o) => calledIn(layout.problem, o.name)))]
  const short = noWay ? words.tooShortAndShut : words.tooShort
  const text = Number.isFinite(needed) ? short(wire.id, needed, names, limit) : words.shutIn(wire.id, names)
  const placements = [...new Set([...endItems(layout, wire), ...named])].sort((a, b) => a - b)
  return { finding: { placements, text }, pairs: tooLong }
}

/** All copies that the ends stand for, placed or not, and the breadboards under them: with these where they are, so are the ends. */
function endItems(layout: Layout, wire: Wire): number[] {
  return [wire.from, wire.to].flatMap((end) =>
    end.kind === 'exit'
      ? []
      : end.ref.items.flatMap((item) => {
          const host = layout.bodyOf.get(item)?.host
          return host === undefined ? [item] : [item, host]
        }),
  )
}

/** Without those bodies that it is too long without. What belongs to the deck stays: it is always there. */
function fewest(layout: Layout, active: readonly Obstacle[], from: End, to: End, most: number): Obstacle[] {
  let kept = [...active]
  for (const o of active) {
    if (o.item === undefined) continue
    const fewer = kept.filter((k) => k !== o)
    const way = wayAmong(layout, fewer, from, to)
    if (!way || way.length > most) kept = fewer
  }
  return kept
}
