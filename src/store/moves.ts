/** Moving one item of a layout by hand: pure functions of problem and placements. */
import {
  type Item,
  type Placement,
  type Point,
  type Problem,
  type Turn,
  turnedSize,
  turnPoint,
  um,
} from '../../solver/index.ts'
import { boxOf } from './outline.ts'
import { tiePoints } from './tie-points.ts'

export const placementOf = (placements: readonly Placement[], item: number): Placement | undefined =>
  placements.find((p) => p.item === item)

export const sizeOf = (item: Item, turn: Turn): { w: number; h: number } =>
  turnedSize(item.footprint.width, item.footprint.depth, turn)

export const samePlace = (a: Placement | undefined, b: Placement | undefined): boolean =>
  a === b ||
  (!!a && !!b && a.item === b.item && a.deck === b.deck && a.turn === b.turn && a.at.x === b.at.x && a.at.y === b.at.y)

/** `placements` with `moved` in place of its item's; what is plugged into a board that moves without turning goes along. */
export function withMoved(problem: Problem, placements: readonly Placement[], moved: Placement): readonly Placement[] {
  const before = placementOf(placements, moved.item)
  if (!before) return [...placements, moved]
  const along = !!problem.items[moved.item]?.footprint.breadboard && before.turn === moved.turn
  const dx = moved.at.x - before.at.x
  const dy = moved.at.y - before.at.y
  return placements.map((p) => {
    if (p.item === moved.item) return moved
    if (!along || p.host !== moved.item) return p
    return { ...p, deck: moved.deck, at: { x: um(p.at.x + dx), y: um(p.at.y + dy) } }
  })
}

/** The multiple of the grid nearest to `value`, or the coordinate that the project fixes, where that is as near. */
function snapAxis(problem: Problem, value: number, fixed: number | undefined): number {
  const { grid } = problem
  if (fixed !== undefined && Math.abs(value - fixed) <= Math.max(grid, 1000) / 2) return fixed
  return Math.round(value / grid) * grid
}

/** Where `at` or `centred` fix an axis of the lower-left corner, for that turn. */
function fixedCorner(problem: Problem, item: Item, deck: number, turn: Turn): { x?: number; y?: number } {
  const out: { x?: number; y?: number } = {}
  const size = sizeOf(item, turn)
  const outline = problem.decks[deck]?.outline
  for (const place of item.place) {
    if (place.kind === 'at') {
      out.x = place.at.x
      out.y = place.at.y
    } else if (place.kind === 'centred' && outline) {
      const box = boxOf(outline)
      if (place.axis === 'x') out.x = Math.round(box.x + (box.w - size.w) / 2)
      else out.y = Math.round(box.y + (box.h - size.h) / 2)
    }
  }
  return out
}

/** No farther off its deck than that it touches the deck's box, or hangs over as far as it may: farther off nobody could see or grab it again. */
function inReach(problem: Problem, item: Item, { at, deck, turn }: Placement): { x: number; y: number } {
  const outline = problem.decks[deck]?.outline
  if (!outline) return at
  const box = boxOf(outline)
  const size = sizeOf(item, turn)
  const { left, right, back, front } = item.overhang
  const within = (value: number, least: number, most: number): number => Math.min(most, Math.max(least, value))
  return {
    x: within(at.x, box.x - Math.max(size.w, left), box.x + box.w - size.w + Math.max(size.w, right)),
    y: within(at.y, box.y - Math.max(size.h, back), box.y + box.h - size.h + Math.max(size.h, front)),
  }
}

/**
 * The legal-looking place nearest to a wish: on the grid, or, for a part that plugs in, with its first pin on a tie point of the
 * board under it. Over no board it stays on the grid, and the findings say what is missing.
 */
export function snap(problem: Problem, placements: readonly Placement[], wish: Placement): Placement {
  const item = problem.items[wish.item]
  if (!item) return wish
  const { width, depth } = item.footprint
  const first = item.footprint.plug?.pins[0]
  if (first) {
    const pin = turnPoint(first.at, width, depth, wish.turn)
    const x = wish.at.x + pin.x
    const y = wish.at.y + pin.y
    let best: { gap: number; at: Point; deck: number; host: number } | undefined
    for (const host of placements) {
      if (host.deck !== wish.deck || host.item === wish.item) continue
      for (const point of tiePoints(problem, host)) {
        const gap = Math.abs(point.x - x) + Math.abs(point.y - y)
        if (gap < (best?.gap ?? 10_000))
          best = { gap, at: { x: um(point.x - pin.x), y: um(point.y - pin.y) }, deck: host.deck, host: host.item }
      }
    }
    if (best) return { item: wish.item, deck: best.deck, at: best.at, turn: wish.turn, host: best.host }
  }
  const fixed = fixedCorner(problem, item, wish.deck, wish.turn)
  const near = inReach(problem, item, wish)
  const at = { x: um(snapAxis(problem, near.x, fixed.x)), y: um(snapAxis(problem, near.y, fixed.y)) }
  return { item: wish.item, deck: wish.deck, at, turn: wish.turn }
}

/** The next turn that the item allows, about its middle; `way` 1 is anticlockwise, -1 clockwise. */
export function turned(
  problem: Problem,
  placements: readonly Placement[],
  from: Placement,
  way: 1 | -1 = 1,
): Placement {
  const item = problem.items[from.item]
  if (!item) return from
  let turn = from.turn
  for (let i = 1; i <= 3; i++) {
    turn = ((from.turn + 4 + way * i) % 4) as Turn
    if (item.turns.includes(turn)) break
    turn = from.turn
  }
  const a = sizeOf(item, from.turn)
  const b = sizeOf(item, turn)
  const at = { x: um(Math.round(from.at.x + (a.w - b.w) / 2)), y: um(Math.round(from.at.y + (a.h - b.h) / 2)) }
  return snap(problem, placements, { item: from.item, deck: from.deck, at, turn })
}

/** One step of the arrow keys: one grid, or one contact for what is plugged in. */
export function nudged(
  problem: Problem,
  placements: readonly Placement[],
  from: Placement,
  dx: number,
  dy: number,
): Placement {
  const host = from.host === undefined ? undefined : problem.items[from.host]
  const pitch = host?.footprint.breadboard?.pitch
  const stride = pitch ?? problem.grid
  const at = { x: um(from.at.x + dx * stride), y: um(from.at.y + dy * stride) }
  const moved = snap(problem, placements, { item: from.item, deck: from.deck, at, turn: from.turn })
  if (!samePlace(moved, from)) return moved
  // The gap of a board, or a coordinate that the project fixes off the grid, must not be a trap.
  const far = { x: um(from.at.x + dx * stride * 2.5), y: um(from.at.y + dy * stride * 2.5) }
  return snap(problem, placements, { item: from.item, deck: from.deck, at: far, turn: from.turn })
}

/** A first place for an item that is left out: the middle of the first deck that it may stand on. */
export function middle(problem: Problem, placements: readonly Placement[], itemIndex: number): Placement | undefined {
  const item = problem.items[itemIndex]
  const deck = item?.decks[0]
  const turn = item?.turns[0]
  if (!item || deck === undefined || turn === undefined) return undefined
  const outline = problem.decks[deck]?.outline
  if (!outline) return undefined
  const box = boxOf(outline)
  const size = sizeOf(item, turn)
  const at = { x: um(Math.round(box.x + (box.w - size.w) / 2)), y: um(Math.round(box.y + (box.h - size.h) / 2)) }
  return snap(problem, placements, { item: itemIndex, deck, at, turn })
}
