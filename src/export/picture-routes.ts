/** Where wires run: between the ends that the rules measure (contract R7), by the shortest chain of passes, one corner a deck. */
import { type Layout, type Point, type Problem, runOf } from '../../solver/index.ts'

export interface Stop {
  readonly deck: number
  readonly at: Point
}

export interface Route {
  /** Index into the problem's wires; the number in pictures is one more. */
  readonly wire: number
  /** Ends, and the passes between them once on each of their decks. */
  readonly stops: readonly Stop[]
  readonly fromItem: number | undefined
  readonly toItem: number | undefined
}

/** The routes of all wires whose two ends are there and joined. */
export function routesOf(layout: Layout): Route[] {
  return layout.problem.wires.flatMap((wire, index) => {
    const run = runOf(layout, wire)
    const stops = run && Number.isFinite(run.length) ? chain(layout.problem, run.from, run.to) : undefined
    return run && stops ? [{ wire: index, stops, fromItem: run.from.item, toItem: run.to.item }] : []
  })
}

/** Straight pieces on one deck, Um. Every other wire turns its corner the other way, so that fewer lie on one another. */
export function legs(route: Route): { readonly deck: number; readonly line: readonly [Point, Point, Point] }[] {
  return route.stops.slice(1).flatMap((b, i) => {
    const a = route.stops[i]!
    if (a.deck !== b.deck) return []
    const corner = route.wire % 2 === 0 ? { x: a.at.x, y: b.at.y } : { x: b.at.x, y: a.at.y }
    return [{ deck: a.deck, line: [a.at, corner, b.at] as const }]
  })
}

const manhattan = (a: Point, b: Point): number => Math.abs(a.x - b.x) + Math.abs(a.y - b.y)

interface Reached {
  length: number
  readonly stop: Stop
  readonly pass: number
  before: Reached | undefined
  done: boolean
}

/** Dijkstra over the passes; undefined where no chain of them joins the decks. */
function chain(problem: Problem, from: Stop, to: Stop): Stop[] | undefined {
  const start: Stop = { deck: from.deck, at: from.at }
  const end: Stop = { deck: to.deck, at: to.at }
  if (from.deck === to.deck) return [start, end]
  // One state for each pass and the deck that it leads to.
  const states = problem.passes.flatMap((pass, p) =>
    ([0, 1] as const).map((side): Reached & { enters: number } => {
      const enters = pass.decks[1 - side]!
      const near = enters === from.deck ? manhattan(from.at, pass.at) : Number.POSITIVE_INFINITY
      const stop = { deck: pass.decks[side], at: pass.at }
      return { length: near, stop, pass: p, before: undefined, done: false, enters }
    }),
  )
  for (;;) {
    let next: (typeof states)[number] | undefined
    for (const s of states) if (!s.done && Number.isFinite(s.length) && (!next || s.length < next.length)) next = s
    if (!next) break
    next.done = true
    for (const s of states) {
      const length = next.length + manhattan(next.stop.at, s.stop.at)
      if (s.enters !== next.stop.deck || s.done || length >= s.length) continue
      s.length = length
      s.before = next
    }
  }
  let last: Reached | undefined
  let least = Number.POSITIVE_INFINITY
  for (const s of states) {
    const length = s.length + manhattan(s.stop.at, to.at)
    if (s.stop.deck !== to.deck || length >= least) continue
    least = length
    last = s
  }
  if (!last) return undefined
  const stops: Stop[] = [end]
  for (let at: Reached | undefined = last; at; at = at.before) {
    const pass = problem.passes[at.pass]!
    const other = pass.decks[0] === at.stop.deck ? pass.decks[1] : pass.decks[0]
    stops.unshift({ deck: other, at: pass.at }, at.stop)
  }
  return [start, ...stops]
}
