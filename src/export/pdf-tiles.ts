/**
 * A drawing at 1:1 over as many sheets as it takes: overlapping tiles with registration marks in the overlaps, and on each a
 * map of all. A mark stands at one point of the drawing, so it comes out on every sheet that shows it: lay mark on mark.
 */
import type { Box } from './contour.ts'
import { around, boxContour, boxOfInk, type Colour, colours, grown, type Ink, type Page, touch } from './pdf-ink.ts'
import { frame, mapRoom, type Paper, turnedPaper, windowOf } from './pdf-paper.ts'
import type { Press } from './pdf-press.ts'
import { shorten } from './pdf-words.ts'
import { pages } from './words-sheets.ts'

/** More than anybody would stick together; a deck that needs more is for a plotter or another shop. */
export const MOST_TILES = 64

/** What cannot be printed, in words for the user. */
export class PdfError extends Error {}

export interface Drawing {
  /** What it is called on the pages: `deck lower`. */
  readonly name: string
  readonly inks: readonly Ink[]
  /** What the map shows of it. */
  readonly sketch: readonly Ink[]
  /** What must be on the paper, mm in the drawing's frame. */
  readonly box: Box
}

export interface Tile {
  /** From 1, the first row at the front of the robot. */
  readonly row: number
  readonly column: number
  /** From 1, in the order of the pages. */
  readonly number: number
  /** Part of the drawing that it shows. */
  readonly shows: Box
}

export interface Tiling {
  readonly paper: Paper
  readonly rows: number
  readonly columns: number
  readonly tiles: readonly Tile[]
  /** Where registration marks stand in the drawing. */
  readonly marks: readonly { readonly x: number; readonly y: number; readonly name: string }[]
}

/** Lays tiles over `drawing.box`, upright or turned, whichever takes fewer sheets. Throws PdfError for too many. */
export function tilingOf(drawing: Drawing, paper: Paper, overlap: number): Tiling {
  const box = grown(drawing.box, 2)
  const ways = [paper, turnedPaper(paper)].map((p) => {
    const w = windowOf(p)
    const [wide, high] = [w.x1 - w.x0, w.y1 - w.y0]
    return {
      paper: p,
      wide,
      high,
      columns: count(box.x1 - box.x0, wide, overlap),
      rows: count(box.y1 - box.y0, high, overlap),
    }
  })
  const [upright, lying] = ways as [(typeof ways)[0], (typeof ways)[0]]
  const best = lying.columns * lying.rows < upright.columns * upright.rows ? lying : upright
  const { wide, high, columns, rows } = best
  if (rows * columns > MOST_TILES) {
    const [width, depth] = [Math.round(box.x1 - box.x0 - 4), Math.round(box.y1 - box.y0 - 4)]
    throw new PdfError(pages.tooManyTiles(drawing.name, width, depth, rows * columns, MOST_TILES))
  }
  const [stepX, stepY] = [wide - overlap, high - overlap]
  const left = (box.x0 + box.x1) / 2 - (columns * stepX + overlap) / 2
  const top = (box.y0 + box.y1) / 2 + (rows * stepY + overlap) / 2
  const tiles: Tile[] = []
  const boxes = drawing.inks.map(boxOfInk)
  for (let row = 1; row <= rows; row++) {
    for (let column = 1; column <= columns; column++) {
      const [x0, y1] = [left + (column - 1) * stepX, top - (row - 1) * stepY]
      const shows = { x0, y0: y1 - high, x1: x0 + wide, y1 }
      // Nothing on it: no sheet.
      if (boxes.some((b) => touch(b, shows))) tiles.push({ row, column, number: tiles.length + 1, shows })
    }
  }
  return { paper: best.paper, rows, columns, tiles, marks: marksOf(tiles, overlap) }
}

const count = (length: number, room: number, overlap: number): number =>
  length <= room + 1e-9 ? 1 : Math.ceil((length - overlap) / (room - overlap) - 1e-9)

/** Two marks in every overlap of neighbours, away from its ends, where a third sheet lies. */
function marksOf(tiles: readonly Tile[], overlap: number): Tiling['marks'] {
  const found: { x: number; y: number; name: string }[] = []
  const at = (row: number, column: number): Tile | undefined => tiles.find((t) => t.row === row && t.column === column)
  for (const { row, column, shows: s } of tiles) {
    if (at(row, column + 1)) {
      for (const part of [0.78, 0.22]) {
        found.push({ x: s.x1 - overlap / 2, y: s.y0 + (s.y1 - s.y0) * part, name: `${found.length + 1}` })
      }
    }
    if (at(row + 1, column)) {
      for (const part of [0.22, 0.78]) {
        found.push({ x: s.x0 + (s.x1 - s.x0) * part, y: s.y0 + overlap / 2, name: `${found.length + 1}` })
      }
    }
  }
  return found
}

/** The sheets of one drawing, in reading order. `title` heads each. */
export function tilePages(press: Press, drawing: Drawing, tiling: Tiling, overlap: number, title: string): Page[] {
  const { paper, tiles, rows, columns } = tiling
  const w = windowOf(paper)
  const boxes = drawing.inks.map(boxOfInk)
  return tiles.map((tile) => {
    const { shows } = tile
    const inks = drawing.inks.filter((_, i) => touch(boxes[i]!, shows))
    const marks = tiling.marks.filter((m) => touch({ x0: m.x, y0: m.y, x1: m.x, y1: m.y }, shows))
    const label = pages.tile(drawing.name, tile.number, tiles.length, [tile.row, rows], [tile.column, columns])
    const foot = tiles.length === 1 ? pages.oneTile : pages.tiles(overlap)
    return {
      width: paper.width,
      height: paper.height,
      inks: [
        ...frame(press, paper, { title, label, foot }),
        { kind: 'contour', contour: boxContour(w), look: { colour: colours.faint, width: 0.1, dash: [1, 1.5] } },
        {
          kind: 'group',
          at: [w.x0 - shows.x0, w.y0 - shows.y0],
          scale: 1,
          clip: shows,
          inks: [...inks, ...marks.flatMap((m) => mark(m.x, m.y, `M${m.name}`))],
        },
        ...(tiles.length === 1 ? [] : mapOf(press, drawing, tiling, mapRoom(paper), tile)),
      ],
    }
  })
}

/** A cross in a ring, small enough for an overlap of 10 mm. */
function mark(x: number, y: number, name: string): Ink[] {
  const look = { colour: colours.register, width: 0.15 } as const
  return [
    { kind: 'contour', contour: { kind: 'circle', cx: x, cy: y, r: 2 }, look },
    {
      kind: 'line',
      points: [
        [x - 3.5, y],
        [x + 3.5, y],
      ],
      look,
    },
    {
      kind: 'line',
      points: [
        [x, y - 3.5],
        [x, y + 3.5],
      ],
      look,
    },
    { kind: 'text', x: x + 1.6, y: y + 1.8, size: 2.2, text: name },
  ]
}

/** All sheets in little, numbered; `here` filled. */
export function mapOf(press: Press, drawing: Drawing, tiling: Tiling, room: Box, here?: Tile): Ink[] {
  const all = around([...tiling.tiles.map((t) => t.shows), drawing.box])!
  const scale = Math.min((room.x1 - room.x0) / (all.x1 - all.x0), (room.y1 - room.y0) / (all.y1 - all.y0))
  const at = [room.x1 - all.x1 * scale, room.y0 - all.y0 * scale] as const
  const cell = (t: Tile, fill?: Colour): Ink => ({
    kind: 'contour',
    contour: boxContour(t.shows),
    look: { colour: colours.ink, width: t === here ? 0.5 : 0.12 },
    ...(fill ? { fill } : {}),
  })
  const others = tiling.tiles.filter((t) => t !== here)
  const size = Math.min(4, (tiling.tiles[0]!.shows.y1 - tiling.tiles[0]!.shows.y0) * scale * 0.4)
  return [
    {
      kind: 'group',
      at,
      scale,
      inks: [...others.map((t) => cell(t)), ...(here ? [cell(here, colours.here)] : []), ...drawing.sketch],
    },
    ...tiling.tiles.map((t): Ink => {
      const words = shorten(press, `${t.number}`, size, 20)
      const middle = [(t.shows.x0 + t.shows.x1) / 2, (t.shows.y0 + t.shows.y1) / 2] as const
      return {
        kind: 'text',
        x: at[0] + middle[0] * scale - press.width(words, size) / 2,
        y: at[1] + middle[1] * scale - size * 0.35,
        size,
        text: words,
      }
    }),
  ]
}
