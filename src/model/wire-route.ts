/** Where wires run: as they are laid, where somebody knows; else between the ends that R7 measures, by the shortest chain of passes. */
import { type End, type Layout, type Point, type Problem, runOf, um } from '../../solver/index.ts'
import type { LaidLead } from './laid-lead.ts'

/** A rectilinear line on one deck, Um. */
export interface Stroke {
  readonly deck: number
  readonly points: readonly Point[]
}

export interface WireRoute {
  /** Index into the problem's wires; the number in pictures is one more. */
  readonly wire: number
  readonly from: End
  readonly to: End
  /** From end to end, one for each deck that it comes to. */
  readonly strokes: readonly Stroke[]
  /** That no way is open, and `strokes` only say what it joins: to be drawn as no lead that can be laid. */
  readonly barred?: boolean
}

/** The routes of all wires whose two ends are there and joined. Of what is `laid`, its way; what has none is barred, and straight like all else. */
export function wireRoutes(layout: Layout, laid: readonly LaidLead[] = []): WireRoute[] {
  const ways = new Map(laid.map((l) => [l.wire, l.way]))
  return layout.problem.wires.flatMap((wire, index) => {
    const way = ways.get(index)
    if (way) return [{ wire: index, from: way.from, to: way.to, strokes: way.strokes }]
    const run = runOf(layout, wire)
    const stops = run && Number.isFinite(run.length) ? chain(layout.problem, run.from, run.to) : undefined
    if (!run || !stops) return []
    const barred = ways.has(index) ? { barred: true } : {}
    return [{ wire: index, from: run.from, to: run.to, strokes: straight(stops, index), ...barred }]
  })
}

/** Ends and corners, as strokes: where the deck changes the next one begins. Of a deck that is only passed at one place there is none. */
export function strokesOf(
  spots: readonly { readonly deck: number; readonly x: number; readonly y: number }[],
): Stroke[] {
  const strokes: { deck: number; points: Point[] }[] = []
  for (const { deck, x, y } of spots) {
    const at = { x: um(x), y: um(y) }
    const last = strokes[strokes.length - 1]
    if (last?.deck === deck) last.points.push(at)
    else strokes.push({ deck, points: [at] })
  }
  return strokes.filter(({ points }) => points.length > 1)
}

interface Stop {
  readonly deck: number
  readonly at: Point
}

/** One corner a deck; every other wire turns its the other way, so that fewer lie on one another. */
const straight = (stops: readonly Stop[], wire: number): Stroke[] =>
  stops.slice(1).flatMap((b, i) => {
    const a = stops[i]!
    if (a.deck !== b.deck) return []
    const corner = wire % 2 === 0 ? { x: a.at.x, y: b.at.y } : { x: b.at.x, y: a.at.y }
    return [{ deck: a.deck, points: [a.at, corner, b.at] }]
  })

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
