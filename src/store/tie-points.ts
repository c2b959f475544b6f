/** The contacts of a placed breadboard, in the decks' frame, and which of them a plugged-in part covers. */
import {
  bodyRect,
  isHost,
  isOnTiePoint,
  type Placement,
  type Point,
  type Problem,
  pinsOn,
  tiePointsOn,
} from '../../solver/index.ts'

export type TiePoint = Point

/** Every contact of the item placed there; none for what is no breadboard. */
export function tiePoints(problem: Problem, placement: Placement): TiePoint[] {
  const item = problem.items[placement.item]
  return item && isHost(item) ? tiePointsOn(item.footprint, placement).map(({ at }) => at) : []
}

/** The contacts of one board, apart: those under a part or its pins (edges included), and the free ones. */
export function splitTiePoints(
  problem: Problem,
  placements: readonly Placement[],
  board: Placement,
): { free: TiePoint[]; covered: TiePoint[] } {
  const guests = placements
    .filter((p) => p.host === board.item)
    .flatMap((p) => {
      const footprint = problem.items[p.item]?.footprint
      return footprint ? [{ ...bodyRect(footprint, p), pins: pinsOn(footprint, p) }] : []
    })
  const covered: TiePoint[] = []
  const free: TiePoint[] = []
  for (const t of tiePoints(problem, board)) {
    const under = guests.some(
      (g) =>
        (t.x >= g.x && t.x <= g.x + g.w && t.y >= g.y && t.y <= g.y + g.h) ||
        g.pins.some((pin) => isOnTiePoint(pin, t)),
    )
    ;(under ? covered : free).push(t)
  }
  return { free, covered }
}
