/**
 * The paper, and what every page carries whatever stands on it: what it is, 100 mm bars both ways, and how to print it.
 * ISO 216 A4; Letter is 8.5 × 11 in (from memory). Margins of 10 mm, which common printers can print (common practice, no source).
 */
import type { Box } from './contour.ts'
import { type Colour, colours, type Ink } from './pdf-ink.ts'
import type { Press } from './pdf-press.ts'
import { shorten, wrapTo } from './pdf-words.ts'
import { pages } from './words-sheets.ts'

export type PaperName = 'A4' | 'Letter'

/** mm. */
export interface Paper {
  readonly width: number
  readonly height: number
}

export const papers: Readonly<Record<PaperName, Paper>> = {
  A4: { width: 210, height: 297 },
  Letter: { width: 215.9, height: 279.4 },
}

export const turnedPaper = (p: Paper): Paper => ({ width: p.height, height: p.width })

const MARGIN = 10
const LEFT = 18
const FOOT = 33
const HEAD = 7
const MAP = { width: 66, height: 20 }

/** The room between the bars and the head line. */
export const windowOf = (p: Paper): Box => ({
  x0: LEFT,
  y0: FOOT,
  x1: p.width - MARGIN,
  y1: p.height - MARGIN - HEAD,
})

/** Room for a small map at the lower right. */
export const mapRoom = (p: Paper): Box => ({
  x0: p.width - MARGIN - MAP.width,
  y0: MARGIN,
  x1: p.width - MARGIN,
  y1: MARGIN + MAP.height,
})

export interface Frame {
  readonly title: string
  /** Which page this is. */
  readonly label: string
  /** More words for the foot. */
  readonly foot?: string
}

/** Head line, bars, and the sentence that makes them useful. */
export function frame(press: Press, paper: Paper, { title, label, foot }: Frame): Ink[] {
  const top = paper.height - MARGIN - 3.2
  const wide = paper.width - MARGIN - LEFT
  const right = shorten(press, label, 3.2, wide * 0.55)
  const words = mapRoom(paper).x0 - 4 - LEFT
  const lines = [...wrapTo(press, pages.printAt, 2.6, words, 2), ...(foot ? wrapTo(press, foot, 2.3, words, 2) : [])]
  return [
    text(LEFT, top, 3.2, shorten(press, title, 3.2, wide - press.width(right, 3.2) - 6)),
    text(paper.width - MARGIN - press.width(right, 3.2), top, 3.2, right),
    ...bar(LEFT, MARGIN),
    text(LEFT + 1, MARGIN + 3, 2.3, pages.bar),
    ...bar(MARGIN, FOOT, true),
    { kind: 'text', x: MARGIN + 5, y: FOOT + 1, size: 2.3, text: pages.bar, up: true },
    ...lines.map((line, i) => text(LEFT, MARGIN + 7.6 + 3.5 * (lines.length - 1 - i), 2.6, line)),
  ]
}

const text = (x: number, y: number, size: number, words: string): Ink => ({ kind: 'text', x, y, size, text: words })

/**
 * A ruler whose outer edges are 100 mm apart exactly: areas, since a line's ends would lie half its width further out. Its edges have a
 * point in the middle because some viewers move plain rectangles to whole pixels.
 */
export function bar(x: number, y: number, up = false): Ink[] {
  const area = (from: number, across: number, long: number, thick: number, fill: Colour): Ink => {
    const to = from + long
    const corners = [
      [from, across],
      [from + long / 2, across],
      [to, across],
      [to, across + thick],
      [from, across + thick],
    ] as const
    const points = corners.map(([a, b]) => ({ x: x + (up ? b : a), y: y + (up ? a : b), bulge: 0 }))
    return { kind: 'contour', contour: { kind: 'path', points }, fill }
  }
  const white = [1, 3, 5, 7, 9].map((k) => area(10 * k, 0.2, k === 9 ? 9.8 : 10, 1.6, colours.paper))
  return [area(0, 0, 100, 2, colours.ink), ...white]
}
