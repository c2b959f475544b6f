/**
 * The printed pages of a layout as one PDF: each deck at 1:1 over sheets to stick together, an assembly sheet, and paper dummies
 * of every part; before them, where it is handed over, the check list before power. Not re-exported by index.ts: the page fetches this file, and the font and writer with it, when somebody asks.
 */
import type { Placement, Problem, Um } from '../../solver/index.ts'
import { plainIn } from '../model/called.ts'
import type { LaidLead } from '../model/laid-lead.ts'
import { upwards } from './assembly-order.ts'
import { assemblyPages } from './pdf-assembly.ts'
import { type CheckList, checkListPages } from './pdf-check-list.ts'
import { deckPages } from './pdf-deck-pages.ts'
import { dummyPages } from './pdf-dummies.ts'
import type { Page } from './pdf-ink.ts'
import { type PaperName, papers } from './pdf-paper.ts'
import { type PdfPart, pdfParts } from './pdf-parts.ts'
import { openPress } from './pdf-press.ts'
import { PdfError } from './pdf-tiles.ts'
import type { OtherLayout } from './tables.ts'
import { called } from './words.ts'
import { pages as words } from './words-sheets.ts'

export { type CheckList, type PaperName, PdfError }

export interface PdfOptions {
  /** Default A4. */
  readonly paper?: PaperName
  /** Index of the one deck that is wanted; default all. */
  readonly deck?: number
  /** How far the sheets of a deck overlap, Um, 10 mm to 40 mm; default 10 mm. */
  readonly overlap?: Um
  /** The plates exist: outline and openings are not made again. */
  readonly asMade?: boolean
  /** Default all, in this order. */
  readonly parts?: readonly PdfPart[]
  /** Layouts of other variants: the wire list then says the longest cut over all. */
  readonly others?: readonly OtherLayout[]
  /** How leads lie round what is in their way; missing = lengths are for straight ways, and the sheet says so. */
  readonly laid?: readonly LaidLead[]
  /** Without it there is no check list before power. */
  readonly checkList?: CheckList
}

/**
 * All parts that are asked for in one file: the same layout gives the same bytes. `pdfPages(problem, placements)` → the bytes.
 * Throws PdfError, in words for the user, for what takes more paper than anybody prints, and for options out of range.
 */
export async function pdfPages(
  problem: Problem,
  placements: readonly Placement[],
  options: PdfOptions = {},
): Promise<Uint8Array> {
  const { asMade = false, parts = pdfParts, others = [] } = options
  const overlap = (options.overlap ?? 10_000) / 1000
  if (!(overlap >= 10 && overlap <= 40)) throw new PdfError(words.overlap(overlap))
  const paper = papers[options.paper ?? 'A4']
  const decks = options.deck === undefined ? upwards(problem) : [options.deck]
  const press = await openPress(plainIn([problem, ...others.map((o) => o.problem)]))
  const pages: Page[] = []
  if (parts.includes('template')) {
    for (const deck of decks) pages.push(...deckPages(press, problem, placements, { deck, paper, overlap, asMade }))
  }
  if (parts.includes('assembly'))
    pages.push(...assemblyPages(press, problem, placements, paper, asMade, others, options.laid))
  if (parts.includes('before-power') && options.checkList)
    pages.push(...checkListPages(press, problem, options.checkList, paper))
  if (parts.includes('dummies')) {
    const here = placements.filter((p) => decks.includes(p.deck))
    pages.push(...dummyPages(press, problem, here, paper, overlap))
  }
  if (pages.length === 0) throw new PdfError(words.noPage)
  return press.print(called.variant(problem.name, problem.variant), pages)
}
