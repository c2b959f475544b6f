/** The contacts of a placed breadboard, in the decks' frame, and which of them a plugged-in part covers. */
import { type Placement, type Problem, turnedSize, turnPoint } from '../../solver/index.ts'

export interface TiePoint {
  readonly x: number
  readonly y: number
}

/** Every contact of the item placed there; none for what is no breadboard. */
export function tiePoints(problem: Problem, placement: Placement): TiePoint[] {
  const footprint = problem.items[placement.item]?.footprint
  const board = footprint?.breadboard
  if (!footprint || !board || footprint.mount.kind === 'plug-in') return []
  const out: TiePoint[] = []
  for (const block of board.blocks)
    for (let i = 0; i < block.columns; i++)
      for (let j = 0; j < block.rows; j++) {
        const at = { x: block.at.x + i * board.pitch, y: block.at.y + j * board.pitch } as typeof block.at
        const p = turnPoint(at, footprint.width, footprint.depth, placement.turn)
        out.push({ x: p.x + placement.at.x, y: p.y + placement.at.y })
      }
  return out
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
      if (!footprint) return []
      const size = turnedSize(footprint.width, footprint.depth, p.turn)
      const pins = (footprint.plug?.pins ?? []).map((pin) => {
        const at = turnPoint(pin.at, footprint.width, footprint.depth, p.turn)
        return { x: at.x + p.at.x, y: at.y + p.at.y }
      })
      return [{ x: p.at.x, y: p.at.y, w: size.w, h: size.h, pins }]
    })
  const covered: TiePoint[] = []
  const free: TiePoint[] = []
  for (const t of tiePoints(problem, board)) {
    const under = guests.some(
      (g) =>
        (t.x >= g.x && t.x <= g.x + g.w && t.y >= g.y && t.y <= g.y + g.h) ||
        g.pins.some((pin) => Math.abs(pin.x - t.x) <= 10 && Math.abs(pin.y - t.y) <= 10),
    )
    ;(under ? covered : free).push(t)
  }
  return { free, covered }
}
