/** Headings, words, tables and pictures, one under another over as many pages as they take. */
import type { Box } from './contour.ts'
import { type Column, columnWidths } from './pdf-columns.ts'
import { colours, type Ink, type Page, rectFrom } from './pdf-ink.ts'
import { frame, type Paper, windowOf } from './pdf-paper.ts'
import type { Press } from './pdf-press.ts'
import { shorten, wrapTo } from './pdf-words.ts'
import { pages as says } from './words-sheets.ts'

/** Something to be done and ticked, and the reason for it. */
export interface Tick {
  readonly text: string
  readonly why?: string
}

export type Block =
  | { readonly kind: 'heading'; readonly text: string }
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'list'; readonly lines: readonly string[]; readonly sign: 'number' | 'dot' }
  /** `signed`: a line to write on, on the page of the last step. */
  | { readonly kind: 'ticks'; readonly steps: readonly Tick[]; readonly signed?: string }
  | {
      readonly kind: 'table'
      readonly columns: readonly Column[]
      readonly rows: readonly (readonly string[])[]
      /** Said where there is no row. */
      readonly none: string
    }
  /** `draw` gets its room and fills it. */
  | { readonly kind: 'picture'; readonly height: number; readonly draw: (room: Box) => readonly Ink[] }
  | { readonly kind: 'new page' }

type Table = Extract<Block, { kind: 'table' }>

const HEADING = 4.6
const HEADING_LINE = 6.4
const SIZE = 3
const LINE = 4.2
const CELL = 2.6
const CELL_LINE = 3.5
/** Room left and right of what stands in a cell, both together. */
const BESIDE = 2
/** Room for a box to tick and a number. */
const TICK = 12
/** A table's head has no more lines than this. */
const HEAD_LINES = 3
/** Room to write in, over the line that is signed. */
const TO_SIGN = 7
/** How much closer lines may stand where that saves a page that would hold next to nothing, and how much of a page that is. */
const CLOSER = [0.95, 0.9, 0.85]
const NEXT_TO_NOTHING = 0.15

/** `name` goes into the pages' labels: `assembly: page 1 of 3`. */
export function flow(press: Press, paper: Paper, title: string, name: string, blocks: readonly Block[]): Page[] {
  const usual = set(press, paper, blocks, 1)
  const spare = usual.pages.length > 1 && usual.last < NEXT_TO_NOTHING
  const closer = spare
    ? CLOSER.map((c) => set(press, paper, blocks, c)).find((s) => s.pages.length < usual.pages.length)
    : undefined
  const { pages } = closer ?? usual
  return pages.map((inks, i) => ({
    width: paper.width,
    height: paper.height,
    inks: [...frame(press, paper, { title, label: says.page(name, i + 1, pages.length) }), ...inks],
  }))
}

/** Pages, and how much of the last one is filled. `closer` than 1: lines and what is between them take so much of their usual height. */
function set(press: Press, paper: Paper, blocks: readonly Block[], closer: number): { pages: Ink[][]; last: number } {
  const [headingLine, textLine, cellLine] = [HEADING_LINE, LINE, CELL_LINE].map((l) => l * closer) as [
    number,
    number,
    number,
  ]
  const room = windowOf(paper)
  const pages: Ink[][] = [[]]
  let y = room.y1
  const next = (): void => {
    if (pages[pages.length - 1]!.length > 0) pages.push([])
    y = room.y1
  }
  const need = (height: number): void => {
    if (y - height < room.y0 && y < room.y1) next()
  }
  const ink = (...more: readonly Ink[]): void => {
    for (const one of more) pages[pages.length - 1]!.push(one)
  }
  const words = (text: string, size: number, line: number, indent: number): void => {
    for (const part of wrapTo(press, text, size, room.x1 - room.x0 - indent)) {
      need(line)
      ink({ kind: 'text', x: room.x0 + indent, y: y - size, size, text: part })
      y -= line
    }
  }
  const tableOf = ({ columns, rows }: Table) => {
    const widths = columnWidths(press, columns, rows, { room: room.x1 - room.x0, size: CELL, beside: BESIDE })
    const set = (cells: readonly string[]) => row(press, widths, cells, room, cellLine)
    const head = set(columns.map((c) => c.head))
    // The head never stands alone.
    return { set, head, begins: head.height + set(rows[0] ?? []).height }
  }
  /** Of a heading and what it stands over: words, and the picture or the beginning of the table after them; else the beginning of something. */
  const together = (heading: string, rest: readonly Block[]): number => {
    const tall = (text: string, size: number, line: number): number =>
      wrapTo(press, text, size, room.x1 - room.x0).length * line
    let height = 3.5 + tall(heading, HEADING, headingLine) + 0.8
    for (const block of rest) {
      if (block.kind === 'picture') return height + block.height
      if (block.kind === 'table' && block.rows.length > 0) return height + tableOf(block).begins
      if (block.kind !== 'text') break
      height += tall(block.text, SIZE, textLine) + 1
    }
    return Math.max(22, height + textLine)
  }
  for (const [index, block] of blocks.entries()) {
    switch (block.kind) {
      case 'new page':
        next()
        break
      case 'heading':
        // A heading never stands alone at a page's foot.
        need(together(block.text, blocks.slice(index + 1)))
        y -= y < room.y1 ? 3.5 * closer : 0
        words(block.text, HEADING, headingLine, 0)
        y -= 0.8 * closer
        break
      case 'text':
        words(block.text, SIZE, textLine, 0)
        y -= 1 * closer
        break
      case 'list':
        block.lines.forEach((line, i) => {
          need(textLine)
          ink({ kind: 'text', x: room.x0, y: y - SIZE, size: SIZE, text: block.sign === 'dot' ? '•' : `${i + 1}.` })
          words(line, SIZE, textLine, block.sign === 'dot' ? 4 : 8)
          y -= 0.6 * closer
        })
        break
      case 'ticks': {
        const signing = block.signed === undefined ? 0 : TO_SIGN + textLine
        block.steps.forEach(({ text, why }, i) => {
          const lines = (of: string | undefined, size: number): number =>
            of === undefined ? 0 : wrapTo(press, of, size, room.x1 - room.x0 - TICK).length
          // A step and its reason stand on one page, and what is signed never stands alone.
          need(
            lines(text, SIZE) * textLine +
              lines(why, CELL) * cellLine +
              1.4 +
              (i === block.steps.length - 1 ? signing : 0),
          )
          ink(
            { kind: 'contour', contour: rectFrom(room.x0, y - 3.4, 3, 3), look: { colour: colours.ink, width: 0.25 } },
            { kind: 'text', x: room.x0 + 5, y: y - SIZE, size: SIZE, text: `${i + 1}.` },
          )
          words(text, SIZE, textLine, TICK)
          if (why !== undefined) words(why, CELL, cellLine, TICK)
          y -= 1.4 * closer
        })
        if (block.signed !== undefined) {
          y -= TO_SIGN
          words(block.signed, SIZE, textLine, 0)
        }
        break
      }
      case 'picture':
        need(block.height)
        ink(...block.draw({ x0: room.x0, x1: room.x1, y0: y - block.height, y1: y }))
        y -= block.height + 2
        break
      case 'table': {
        if (block.rows.length === 0) {
          words(block.none, SIZE, textLine, 0)
          break
        }
        const { set, head, begins } = tableOf(block)
        const top = (): void => {
          ink(
            {
              kind: 'contour',
              contour: rectFrom(room.x0, y - head.height, room.x1 - room.x0, head.height),
              fill: '#e6e6e6',
            },
            ...head.at(y),
          )
          y -= head.height
        }
        need(begins)
        top()
        for (const cells of block.rows) {
          const r = set(cells)
          if (y - r.height < room.y0) {
            next()
            top()
          }
          ink(...r.at(y), {
            kind: 'line',
            points: [
              [room.x0, y - r.height],
              [room.x1, y - r.height],
            ],
            look: { colour: colours.faint, width: 0.1 },
          })
          y -= r.height
        }
        y -= 2
      }
    }
  }
  const kept = pages.filter((p) => p.length > 0)
  return { pages: kept, last: (room.y1 - y) / (room.y1 - room.y0) }
}

function row(
  press: Press,
  widths: readonly number[],
  cells: readonly string[],
  room: Box,
  line: number,
): { height: number; at: (y: number) => Ink[] } {
  // Only what no page has room for is cut short: what is left out of a cell may be what it is for.
  const most = Math.floor((room.y1 - room.y0) / line) - HEAD_LINES - 1
  let x = room.x0
  const placed = widths.map((width, i) => {
    const lines = wrapTo(press, cells[i] ?? '', CELL, width - BESIDE, most)
    const cell = { x: x + 1, lines: lines.map((l) => shorten(press, l, CELL, width - 1)) }
    x += width
    return cell
  })
  return {
    height: Math.max(...placed.map((c) => c.lines.length)) * line + 1,
    at: (y) =>
      placed.flatMap((c) =>
        c.lines.map((text, i) => ({
          kind: 'text' as const,
          x: c.x,
          y: y - 0.4 - CELL - i * line,
          size: CELL,
          text,
        })),
      ),
  }
}
