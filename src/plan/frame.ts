/** Decks side by side on one sheet, all to one scale and with their common y at one height. */
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

/** `pad`, `gap`: millimetres around the decks and between them. */
export function frameOf(problem: Problem, pad: number, gap: number): Frame {
  const boxes = problem.decks.map((deck) => boxOf(deck.outline))
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
