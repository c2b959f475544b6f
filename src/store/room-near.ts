/** Room for one more item near a point, with everything else left where it is. */
import { check, type Placement, type Point, type Problem, turnedSize, um } from '../../solver/index.ts'
import { baseOf } from '../model/variants.ts'
import { snap } from './moves.ts'
import { type Box, boxOf } from './outline.ts'

/** Whole checks of a layout that one search may cost; what lies on another body is passed over without one. */
const MOST_CHECKS = 60
/** How far from the point room is looked for, and in which steps, Um. */
const FAR = 80_000
const STEP = 4_000

const apart = (a: Box, b: Box): boolean => a.x + a.w <= b.x || b.x + b.w <= a.x || a.y + a.h <= b.y || b.y + b.h <= a.y

const within = (a: Box, b: Box): boolean => a.x >= b.x && a.y >= b.y && a.x + a.w <= b.x + b.w && a.y + a.h <= b.y + b.h

/**
 * Where the item's middle is nearest to `wish` (deck frame, Um) with nothing wrong about it; undefined where no room was found. A part
 * that plugs in comes onto the contacts next to the point.
 */
export function roomNear(
  problem: Problem,
  placements: readonly Placement[],
  itemIndex: number,
  deck: number,
  wish: Point,
): Placement | undefined {
  const item = problem.items[itemIndex]
  const outline = problem.decks[deck]?.outline
  if (!item || !outline || !item.decks.includes(deck)) return undefined
  const box = boxOf(outline)
  const over = (side: 'left' | 'right' | 'front' | 'back'): number => item.overhang[side] ?? 0
  const room: Box = {
    x: box.x - over('left'),
    y: box.y - over('back'),
    w: box.w + over('left') + over('right'),
    h: box.h + over('back') + over('front'),
  }
  const { width, depth, plug } = item.footprint
  const bodies = placements
    .filter((p) => p.deck === deck && p.item !== itemIndex)
    .flatMap((p): Box[] => {
      const f = problem.items[p.item]?.footprint
      // What plugs in lies on its board.
      if (!f || (plug && f.breadboard)) return []
      return [{ x: p.at.x, y: p.at.y, ...turnedSize(f.width, f.depth, p.turn) }]
    })
  let checks = 0
  const seen = new Set<string>()
  for (const [dx, dy] of rings()) {
    for (const turn of item.turns) {
      const size = turnedSize(width, depth, turn)
      const at = { x: um(Math.round(wish.x + dx - size.w / 2)), y: um(Math.round(wish.y + dy - size.h / 2)) }
      const placed = snap(problem, placements, { item: itemIndex, deck, at, turn })
      const key = `${placed.at.x} ${placed.at.y} ${turn}`
      if (seen.has(key) || (plug && placed.host === undefined)) continue
      seen.add(key)
      const body = { x: placed.at.x, y: placed.at.y, ...size }
      if (!within(body, room) || !bodies.every((b) => apart(b, body))) continue
      if (++checks > MOST_CHECKS) return undefined
      const wrong = check(problem, [...placements, placed])
      if (!wrong.some((f) => f.items.includes(item.id) || f.items.includes(baseOf(item.id)))) return placed
    }
  }
  return undefined
}

/** Offsets from a point, nearest first. */
function rings(): [number, number][] {
  const out: [number, number][] = []
  for (let x = -FAR; x <= FAR; x += STEP) for (let y = -FAR; y <= FAR; y += STEP) out.push([x, y])
  return out.sort((a, b) => Math.hypot(...a) - Math.hypot(...b))
}
