/** Where a wire runs in the plan: from end to end, by the nearest copies and passes, one straight corner on each deck. */
import { type Placement, type Problem, turnPoint, type Wire, type WireEnd } from '../../solver/index.ts'

export interface WirePoint {
  readonly deck: number
  readonly x: number
  readonly y: number
}

export interface WireRoute {
  /** Index into the problem's wires; the number on the screen is one more. */
  readonly wire: number
  /** Strokes, one a deck that the wire touches: a polyline of axis-parallel pieces. */
  readonly strokes: readonly { readonly deck: number; readonly points: readonly (readonly [number, number])[] }[]
}

function endPoints(problem: Problem, placements: readonly Placement[], end: WireEnd): WirePoint[] {
  if (end.kind === 'exit') {
    const exit = problem.exits[end.exit]
    return exit ? [{ deck: exit.deck, x: exit.at.x, y: exit.at.y }] : []
  }
  return placements
    .filter((p) => end.ref.items.includes(p.item))
    .flatMap((p) => {
      const footprint = problem.items[p.item]?.footprint
      if (!footprint) return []
      const at = turnPoint(end.at, footprint.width, footprint.depth, p.turn)
      return [{ deck: p.deck, x: at.x + p.at.x, y: at.y + p.at.y }]
    })
}

/** The shortest chain of points from a to b, passes between, or none. Ends first, so that equal chains stay the same. */
function chain(problem: Problem, a: WirePoint, b: WirePoint): { length: number; points: WirePoint[] } | undefined {
  if (a.deck === b.deck) return { length: Math.abs(a.x - b.x) + Math.abs(a.y - b.y), points: [a, b] }
  let best: { length: number; points: WirePoint[] } | undefined
  const walk = (at: WirePoint, length: number, points: WirePoint[], used: readonly number[]): void => {
    if (best && length >= best.length) return
    if (at.deck === b.deck) {
      const total = length + Math.abs(at.x - b.x) + Math.abs(at.y - b.y)
      if (!best || total < best.length) best = { length: total, points: [...points, b] }
      return
    }
    problem.passes.forEach((pass, i) => {
      if (used.includes(i)) return
      const other = pass.decks[0] === at.deck ? pass.decks[1] : pass.decks[1] === at.deck ? pass.decks[0] : undefined
      if (other === undefined) return
      const here = { deck: at.deck, x: pass.at.x, y: pass.at.y }
      const there = { ...here, deck: other }
      const leg = Math.abs(at.x - here.x) + Math.abs(at.y - here.y)
      walk(there, length + leg, [...points, here, there], [...used, i])
    })
  }
  walk(a, 0, [a], [])
  return best
}

function routeOf(problem: Problem, placements: readonly Placement[], wire: Wire): readonly WirePoint[] | undefined {
  let best: { length: number; points: WirePoint[] } | undefined
  for (const a of endPoints(problem, placements, wire.from))
    for (const b of endPoints(problem, placements, wire.to)) {
      const found = chain(problem, a, b)
      if (found && (!best || found.length < best.length)) best = found
    }
  return best?.points
}

/** The routes of all wires whose two ends are placed. Every other wire turns its corner the other way, so that fewer lie on one another. */
export function wireRoutes(problem: Problem, placements: readonly Placement[]): WireRoute[] {
  return problem.wires.flatMap((wire, index) => {
    const points = routeOf(problem, placements, wire)
    if (!points) return []
    const strokes: WireRoute['strokes'][number][] = []
    for (let i = 0; i + 1 < points.length; i++) {
      const a = points[i]
      const b = points[i + 1]
      if (!a || !b || a.deck !== b.deck) continue
      const corner: readonly [number, number] = index % 2 === 0 ? [a.x, b.y] : [b.x, a.y]
      strokes.push({ deck: a.deck, points: [[a.x, a.y], corner, [b.x, b.y]] })
    }
    return [{ wire: index, strokes }]
  })
}
