/** Where wires run in the round: straight pieces along the decks, up to the parts that they join, and through the decks between. mm. */
import type { Body, End, Problem } from '../../solver/index.ts'
import { dashed } from '../model/dashed.ts'
import type { WireRoute } from '../model/index.ts'

type Point3 = readonly [number, number, number]

export interface Run {
  /** Index into the problem's wires; the number on the screen is one more. */
  readonly wire: number
  readonly line: readonly Point3[]
  /** What of it is drawn: all, or dashes where no way is open. */
  readonly pieces: readonly (readonly Point3[])[]
  /** The middle of its longest piece, where the number stands. */
  readonly middle: Point3
}

/** Wires lie so far over their deck. */
const LIE = 0.8

/** How much of a lead that has no way is drawn, and how much not; bars are longer than their lines by what they are thick. */
const DASH = { on: 2, off: 4 }

const same = (a: Point3, b: Point3): boolean => a.every((v, i) => Math.abs(v - b[i]!) < 1e-6)

/** `lifts`: how far each deck is raised. Wires of parts that are left away are left away by the caller. */
export function runsOf(
  problem: Problem,
  bodies: readonly Body[],
  routes: readonly WireRoute[],
  lifts: readonly number[],
): Run[] {
  const tops = new Map(bodies.map((b) => [b.index, b.top / 1000]))
  const topOf = ({ item }: End): number => (item === undefined ? 0 : (tops.get(item) ?? 0))
  return routes.flatMap((route): Run[] => {
    if (route.strokes.length === 0) return []
    const ground = (deck: number): number => (problem.decks[deck]?.z ?? 0) / 1000 + (lifts[deck] ?? 0)
    const line: Point3[] = []
    const add = (x: number, y: number, z: number): void => {
      const p: Point3 = [x / 1000, y / 1000, z]
      const before = line[line.length - 1]
      if (!before || !same(before, p)) line.push(p)
    }
    const { from, to } = route
    add(from.at.x, from.at.y, Math.max(topOf(from) + (lifts[from.deck] ?? 0), ground(from.deck) + LIE))
    for (const { deck, points } of route.strokes) for (const { x, y } of points) add(x, y, ground(deck) + LIE)
    add(to.at.x, to.at.y, Math.max(topOf(to) + (lifts[to.deck] ?? 0), ground(to.deck) + LIE))
    const pieces = route.barred ? dashed(line, DASH.on, DASH.off) : [line]
    return line.length < 2 ? [] : [{ wire: route.wire, line, pieces, middle: middleOf(line) }]
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
