/**
 * The printed pages of a layout as one PDF: each deck at 1:1 over sheets to stick together, an assembly sheet, and paper dummies
 * of every part. Not re-exported by index.ts: the page fetches this file, and the font and writer with it, when somebody asks.
 */
import type { Placement, Problem, Um } from '../../solver/index.ts'
import { deckPages } from './pdf-deck-pages.ts'
import { dummyPages } from './pdf-dummies.ts'
import type { Page } from './pdf-ink.ts'
import { type PaperName, papers } from './pdf-paper.ts'
import { openPress } from './pdf-press.ts'

export { PdfError } from './pdf-tiles.ts'
export type { PaperName }

export interface PdfOptions {
  /** Default A4. */
  readonly paper?: PaperName
  /** Index of the one deck that is wanted; default all. */
  readonly deck?: number
  /** How far the sheets of a deck overlap, Um, 10 mm to 40 mm; default 10 mm. */
  readonly overlap?: Um
  /** The plates exist: outline and openings are not made again. */
  readonly asMade?: boolean
}

const overlapOf = (options: PdfOptions): number => (options.overlap ?? 10_000) / 1000

/** Sheets that bring a deck to the drill: `pdfTemplate(problem, placements)` → the bytes of a PDF. Throws PdfError. */
export async function pdfTemplate(
  problem: Problem,
  placements: readonly Placement[],
  options: PdfOptions = {},
): Promise<Uint8Array> {
  const press = await openPress()
  const paper = papers[options.paper ?? 'A4']
  const overlap = overlapOf(options)
  const pages: Page[] = []
  for (const deck of options.deck === undefined ? problem.decks.keys() : [options.deck]) {
    pages.push(...deckPages(press, problem, placements, { deck, paper, overlap, asMade: options.asMade ?? false }))
  }
  return press.print(problem.name, pages)
}

/** Every part of the layout in paper: `pdfDummies(problem, placements)` → the bytes of a PDF. Throws PdfError. */
export async function pdfDummies(
  problem: Problem,
  placements: readonly Placement[],
  options: PdfOptions = {},
): Promise<Uint8Array> {
  const press = await openPress()
  const here = options.deck === undefined ? placements : placements.filter((p) => p.deck === options.deck)
  return press.print(problem.name, dummyPages(press, problem, here, papers[options.paper ?? 'A4'], overlapOf(options)))
}
