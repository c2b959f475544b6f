/** Lining up with what stands on the deck: where a carried body is pulled to, and the lines that say why. Lengths are Um. */
import { type Placement, type Problem, um } from '../../solver/index.ts'
import { bodyBox } from './measure.ts'
import { type Box, boxOf } from './outline.ts'

export interface Guide {
  /** The line runs along this axis … */
  readonly along: 'x' | 'y'
  /** … at this coordinate of the other, … */
  readonly at: number
  /** … from here to there. */
  readonly from: number
  readonly to: number
  readonly why: 'edge' | 'middle' | 'deck'
}

interface Line {
  readonly at: number
  readonly of: 'body' | 'deck'
  readonly middle: boolean
  readonly box: Box
}

interface Lines {
  readonly x: readonly Line[]
  readonly y: readonly Line[]
}

/** Edges and middles of the other bodies of a deck, and of the deck itself. */
function linesOf(problem: Problem, placements: readonly Placement[], own: Placement): Lines {
  const x: Line[] = []
  const y: Line[] = []
  const add = (box: Box, of: Line['of'], inset: number): void => {
    for (const at of [box.x + inset, box.x + box.w - inset]) x.push({ at, of, middle: false, box })
    for (const at of [box.y + inset, box.y + box.h - inset]) y.push({ at, of, middle: false, box })
    x.push({ at: box.x + box.w / 2, of, middle: true, box })
    y.push({ at: box.y + box.h / 2, of, middle: true, box })
  }
  const outline = problem.decks[own.deck]?.outline
  if (outline) add(boxOf(outline), 'deck', problem.edgeClearance)
  for (const p of placements)
    if (p.deck === own.deck && p.item !== own.item && p.host !== own.item) add(bodyBox(problem, p), 'body', 0)
  return { x, y }
}

/** Where the corner would have to be along one axis so that an edge or the middle lies on a line, or beside a body with the gap. */
function wanted(line: Line, size: number, gap: number): readonly number[] {
  if (line.middle) return [line.at - size / 2]
  if (line.of === 'deck') return [line.at, line.at - size]
  return [line.at, line.at - size, line.at + gap, line.at - size - gap]
}

function pulled(lines: readonly Line[], at: number, size: number, gap: number, grid: number, reach: number): number {
  let best = at
  let far = reach
  for (const line of lines)
    for (const corner of wanted(line, size, gap)) {
      // A place off the grid cannot be had, so that what would need one does not pull.
      if (corner % grid !== 0 || Math.abs(corner - at) > far) continue
      far = Math.abs(corner - at)
      best = corner
    }
  return best
}

/** Pixels that a pointer may tremble before it drags. */
export const TREMBLE = 4
/** Pixels within which a carried item is pulled to what it can line up with, and the most that this may be on the deck, Um. */
const PULL = 6
const FARTHEST = 3000

/** Where what is carried goes, `pixel` being a pixel in mm: where it was lifted it comes to rest again, whatever pulls. */
export function carried(
  problem: Problem,
  placements: readonly Placement[],
  start: Placement,
  wish: Placement,
  pixel: number,
  snapping: boolean,
): Placement {
  const back =
    wish.deck === start.deck &&
    Math.max(Math.abs(wish.at.x - start.at.x), Math.abs(wish.at.y - start.at.y)) <= problem.grid / 2
  if (back) return start
  return snapping ? aligned(problem, placements, wish, Math.min(FARTHEST, PULL * pixel * 1000)) : wish
}

/**
 * A wish, pulled by at most `reach` along each axis to where the body lines up with an edge or the middle of another or of the
 * deck, or stands beside another with the clearance asked for. What plugs in is left alone: its contacts pull it.
 */
export function aligned(problem: Problem, placements: readonly Placement[], wish: Placement, reach: number): Placement {
  if (problem.items[wish.item]?.footprint.plug) return wish
  const { x, y } = linesOf(problem, placements, wish)
  const { w, h } = bodyBox(problem, wish)
  const { grid, itemClearance: gap } = problem
  return {
    ...wish,
    at: { x: um(pulled(x, wish.at.x, w, gap, grid, reach)), y: um(pulled(y, wish.at.y, h, gap, grid, reach)) },
  }
}

/** The lines that a body lies on as it stands, one a coordinate: from it to the farthest that shares it. */
export function guidesOf(problem: Problem, placements: readonly Placement[], own: Placement): Guide[] {
  if (problem.items[own.item]?.footprint.plug) return []
  const box = bodyBox(problem, own)
  const lines = linesOf(problem, placements, own)
  return (['x', 'y'] as const).flatMap((axis) => {
    const size = axis === 'x' ? 'w' : 'h'
    const other = axis === 'x' ? 'y' : 'x'
    const across = axis === 'x' ? 'h' : 'w'
    const marks: readonly (readonly [number, boolean])[] = [
      [box[axis], false],
      [box[axis] + box[size], false],
      [box[axis] + box[size] / 2, true],
    ]
    return marks.flatMap(([at, middle]): Guide[] => {
      const met = lines[axis].filter((l) => l.at === at && l.middle === middle)
      if (met.length === 0) return []
      const spans = [box, ...met.map((l) => l.box)]
      return [
        {
          along: other,
          at,
          from: Math.min(...spans.map((b) => b[other])),
          to: Math.max(...spans.map((b) => b[other] + b[across])),
          why: met.every((l) => l.of === 'deck') ? 'deck' : middle ? 'middle' : 'edge',
        },
      ]
    })
  })
}
