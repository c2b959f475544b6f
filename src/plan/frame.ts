/** Decks on one sheet, all to one scale: side by side with their common y at one height, or the higher above the lower. */
import type { Problem } from '../../solver/index.ts'
import { type Box, boxOf } from '../store/outline.ts'

export interface DeckFrame {
  /** Millimetres from the sheet's lower left to the decks' common origin. */
  readonly x: number
  readonly y: number
  readonly box: Box
}

export interface Frame {
  /** Millimetres. */
  readonly width: number
  readonly height: number
  readonly decks: readonly DeckFrame[]
}

/** `pad`, `gap`: millimetres around the decks and between them. `aspect`: width over height of the room for the picture. */
export function frameOf(problem: Problem, pad: number, gap: number, aspect: number): Frame {
  const boxes = problem.decks.map((deck) => boxOf(deck.outline))
  const row = inRow(boxes, pad, gap)
  if (boxes.length === 1) return row
  const column = inColumn(
    boxes,
    problem.decks.map((deck) => deck.z),
    pad,
    gap,
  )
  const size = (frame: Frame): number => Math.min(aspect / frame.width, 1 / frame.height)
  return size(column) > size(row) ? column : row
}

/** Pixels from a deck to the one below it: its ruler is 36, the other's name 16, and some air. */
const BETWEEN = 54

/**
 * Millimetres between decks so that the rulers of one do not lie on the next, nor on its name, however many there are. `across`: pixels that
 * the picture is wide, where they are known: in a narrow one a pixel is more millimetres.
 */
export function gapFor(problem: Problem, pad: number, across?: number): number {
  const { length } = problem.decks
  const boxes = problem.decks.map((d) => boxOf(d.outline))
  const all = boxes.reduce((sum, b) => sum + Math.max(b.w, b.h) / 1000, 0)
  // About a tenth of the picture's height or width, the gaps counted in.
  if (length < 2) return 22
  const wide = (Math.max(...boxes.map((b) => b.x + b.w)) - Math.min(...boxes.map((b) => b.x))) / 1000 + 2 * pad
  const asked = across === undefined ? 0 : (BETWEEN * wide) / across
  return Math.max(22, asked, (0.1 * all) / Math.max(0.4, 1 - 0.1 * (length - 1)))
}

function inRow(boxes: readonly Box[], pad: number, gap: number): Frame {
  const low = Math.min(...boxes.map((b) => b.y))
  const high = Math.max(...boxes.map((b) => b.y + b.h))
  let x = pad
  const decks = boxes.map((box) => {
    const frame = { x: x - box.x / 1000, y: pad - low / 1000, box }
    x += box.w / 1000 + gap
    return frame
  })
  return { width: x - gap + pad, height: (high - low) / 1000 + 2 * pad, decks }
}

function inColumn(boxes: readonly Box[], heights: readonly number[], pad: number, gap: number): Frame {
  const left = Math.min(...boxes.map((b) => b.x))
  const right = Math.max(...boxes.map((b) => b.x + b.w))
  const order = boxes.map((_, i) => i).sort((a, b) => heights[a]! - heights[b]!)
  const decks: DeckFrame[] = boxes.map((box) => ({ x: pad - left / 1000, y: 0, box }))
  let y = pad
  for (const i of order) {
    const box = boxes[i]!
    decks[i] = { ...decks[i]!, y: y - box.y / 1000 }
    y += box.h / 1000 + gap
  }
  return { width: (right - left) / 1000 + 2 * pad, height: y - gap + pad, decks }
}
