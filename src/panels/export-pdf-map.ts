/** What can be told of a PDF before it is printed: its pages, and which sheet shows which part of a deck. */
import { PDFDocument } from 'pdf-lib'
import type { Placement, Problem } from '../../solver/index.ts'
import { upwards } from '../export/assembly-order.ts'
import { boxOf, contourOf } from '../export/contour.ts'
import { deckDrawing } from '../export/pdf-deck.ts'
import { type PaperName, papers } from '../export/pdf-paper.ts'
import { openPress } from '../export/pdf-press.ts'
import { tilingOf } from '../export/pdf-tiles.ts'
import { plainIn } from '../model/called.ts'

/** mm, y downwards, ready to be drawn. */
interface Room {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

export interface PageMap {
  readonly deck: string
  readonly sheets: readonly (Room & { readonly number: number })[]
  /** Box of the plate's outline. */
  readonly plate: Room
  readonly whole: Room
}

/** Counted in the file itself. */
export const pagesIn = async (pdf: Uint8Array): Promise<number> =>
  (await PDFDocument.load(pdf, { updateMetadata: false })).getPageCount()

/** The sheets at 1:1 as the PDF lays them, deck by deck. Throws PdfError where there would be too many. */
export async function pageMaps(
  problem: Problem,
  placements: readonly Placement[],
  paper: PaperName,
  asMade: boolean,
): Promise<PageMap[]> {
  const press = await openPress(plainIn([problem]))
  return upwards(problem).map((index) => {
    const { drawing } = deckDrawing(press, problem, placements, index, asMade)
    const tiles = tilingOf(drawing, papers[paper], OVERLAP).tiles
    const room = (b: { x0: number; y0: number; x1: number; y1: number }): Room => ({
      x: b.x0,
      y: -b.y1,
      width: b.x1 - b.x0,
      height: b.y1 - b.y0,
    })
    const shows = tiles.map((t) => t.shows)
    const deck = problem.decks[index]!
    return {
      deck: deck.name || deck.id,
      sheets: tiles.map((t) => ({ ...room(t.shows), number: t.number })),
      plate: room(boxOf(contourOf(deck.outline))),
      whole: room({
        x0: Math.min(...shows.map((s) => s.x0)),
        y0: Math.min(...shows.map((s) => s.y0)),
        x1: Math.max(...shows.map((s) => s.x1)),
        y1: Math.max(...shows.map((s) => s.y1)),
      }),
    }
  })
}

/** The PDF's own default, mm. */
const OVERLAP = 10
