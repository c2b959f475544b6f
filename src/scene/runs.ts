/** Where wires run in the round: straight pieces along the decks, up to the parts that they join, and through the decks between. mm. */
import type { Body, Problem, Wire } from '../../solver/index.ts'
import type { WireRoute } from '../store/wires.ts'

type Point3 = readonly [number, number, number]

export interface Run {
  /** Index into the problem's wires; the number on the screen is one more. */
  readonly wire: number
  readonly line: readonly Point3[]
  /** The middle of its longest piece, where the number stands. */
  readonly middle: Point3
}

/** Wires lie so far over their deck. */
const LIE = 0.8

const same = (a: Point3, b: Point3): boolean => a.every((v, i) => Math.abs(v - b[i]!) < 1e-6)

/** The top of the body that an end of the wire is on; where several copies may be meant, of the one over that point. */
function topAt(wire: Wire, end: 'from' | 'to', at: readonly [number, number], bodies: readonly Body[]): number {
  const { [end]: e } = wire
  if (e.kind !== 'item') return 0
  const [x, y] = at
  const over = bodies.find(
    ({ index, rect: r }) =>
      e.ref.items.includes(index) && x >= r.x - 1 && x <= r.x + r.w + 1 && y >= r.y - 1 && y <= r.y + r.h + 1,
  )
  return over ? over.top / 1000 : 0
}

/** `lifts`: how far each deck is raised. Wires of parts that are left away are left away by the caller. */
export function runsOf(
  problem: Problem,
  bodies: readonly Body[],
  routes: readonly WireRoute[],
  lifts: readonly number[],
): Run[] {
  return routes.flatMap((route): Run[] => {
    const wire = problem.wires[route.wire]
    const first = route.strokes[0]
    const last = route.strokes[route.strokes.length - 1]
    if (!wire || !first || !last) return []
    const ground = (deck: number): number => (problem.decks[deck]?.z ?? 0) / 1000 + (lifts[deck] ?? 0)
    const line: Point3[] = []
    const add = (x: number, y: number, z: number): void => {
      const p: Point3 = [x / 1000, y / 1000, z]
      const before = line[line.length - 1]
      if (!before || !same(before, p)) line.push(p)
    }
    const [ax, ay] = first.points[0] ?? [0, 0]
    const [bx, by] = last.points[last.points.length - 1] ?? [0, 0]
    const from = topAt(wire, 'from', [ax, ay], bodies) + (lifts[first.deck] ?? 0)
    const to = topAt(wire, 'to', [bx, by], bodies) + (lifts[last.deck] ?? 0)
    add(ax, ay, Math.max(from, ground(first.deck) + LIE))
    for (const { deck, points } of route.strokes) for (const [x, y] of points) add(x, y, ground(deck) + LIE)
    add(bx, by, Math.max(to, ground(last.deck) + LIE))
    return line.length < 2 ? [] : [{ wire: route.wire, line, middle: middleOf(line) }]
  })
}

function middleOf(line: readonly Point3[]): Point3 {
  let best: Point3 = line[0]!
  let longest = -1
  for (let i = 0; i + 1 < line.length; i++) {
    const [a, b] = [line[i]!, line[i + 1]!]
    // Pieces that lie are seen from above.
    const length = Math.hypot(a[0] - b[0], a[1] - b[1])
    if (length > longest) {
      longest = length
      best = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2]
    }
  }
  return best
}
