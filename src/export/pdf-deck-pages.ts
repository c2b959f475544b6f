/** The pages of one deck: a sheet to read first, then the deck at 1:1. */
import type { Placement, Problem } from '../../solver/index.ts'
import { cautions } from './cautions.ts'
import { type Box, boxOf, contourOf } from './contour.ts'
import { madeBy } from './made.ts'
import { deckName } from './notes.ts'
import { deckDrawing } from './pdf-deck.ts'
import { type Block, flow } from './pdf-flow.ts'
import type { Page } from './pdf-ink.ts'
import type { Paper } from './pdf-paper.ts'
import type { Press } from './pdf-press.ts'
import { mapOf, tilePages, tilingOf } from './pdf-tiles.ts'
import { capital } from './pdf-words.ts'
import { type DrillRow, drillNotes } from './tables-drill.ts'
import { standingOn } from './template.ts'

export interface DeckAsked {
  readonly deck: number
  readonly paper: Paper
  /** mm. */
  readonly overlap: number
  readonly asMade: boolean
}

/** Throws PdfError where the deck takes too many sheets. */
export function deckPages(press: Press, problem: Problem, placements: readonly Placement[], asked: DeckAsked): Page[] {
  const deck = problem.decks[asked.deck]!
  const title = `${problem.name}, variant ${problem.variant}`
  const { drawing, drill } = deckDrawing(press, problem, placements, asked.deck, asked.asMade)
  const tiling = tilingOf(drawing, asked.paper, asked.overlap)
  const sheets = tiling.tiles.length
  const outline = boxOf(contourOf(deck.outline))
  const size = `${number(outline.x1 - outline.x0)} mm from left to right and ${number(outline.y1 - outline.y0)} mm from back to front`
  const { cuts } = madeBy(problem, standingOn(placements, asked.deck), deck)
  const steps = [
    'Print every page at 100 %, not fit to page. Measure both bars on every sheet: 100 mm each. If one is off by more than 0.5 mm, do not use the sheet.',
    ...(sheets === 1
      ? []
      : [
          `Trim the sheets and lay them together: mark M1 on M1, M2 on M2, and so on, against a light. Tape them down. They overlap by ${number(asked.overlap)} mm.`,
        ]),
    `Measure the whole outline on the paper: ${size}.`,
    asked.asMade
      ? 'The plate exists already: lay the drawn outline on its edges and fix the paper with tape or a glue stick.'
      : 'Fix the paper on the plate with tape or a glue stick, the cut line inside the plate all around.',
    'Centre-punch every cross before the paper is taken off or cut through.',
    ...(drill.length === 0 ? [] : ['Drill by the table: a small pilot hole first, then the size that stands there.']),
    asked.asMade
      ? 'Make only the new holes, slots and cut-outs.'
      : 'No kerf is allowed for: saw on the waste side of the line and file to it. Openings first, the outline last.',
    'De-burr every hole and edge on both faces.',
  ]
  const blocks: Block[] = [
    { kind: 'heading', text: `${capital(deckName(deck))}: read this first` },
    {
      kind: 'text',
      text: `${deck.material ? `Material: ${deck.material}. ` : ''}Plate ${number(deck.thickness / 1000)} mm thick. ${sheets === 1 ? 'One sheet' : `${sheets} sheets`} at 1:1 follow${sheets === 1 ? 's' : ''} this page.`,
    },
    { kind: 'list', sign: 'number', lines: steps },
    { kind: 'heading', text: 'Cautions' },
    { kind: 'list', sign: 'dot', lines: cautions },
    ...(sheets === 1
      ? []
      : [
          { kind: 'heading', text: 'Which sheet goes where' } as const,
          {
            kind: 'picture',
            height: 62,
            draw: (room: Box) => mapOf(press, drawing, tiling, { ...room, x1: room.x0 + 100 }),
          } as const,
        ]),
    { kind: 'heading', text: `Drill table, ${drill.length === 1 ? '1 hole' : `${drill.length} holes`}` },
    {
      kind: 'table',
      none: 'No new hole.',
      columns: [
        { head: 'No.', share: 5 },
        { head: 'x', share: 8 },
        { head: 'y', share: 8 },
        { head: 'from left', share: 9 },
        { head: 'from lower', share: 10 },
        { head: '⌀', share: 6 },
        { head: 'drill', share: 6 },
        { head: 'for', share: 22 },
        { head: 'thread, note', share: 26 },
      ],
      rows: drill.map(drillCells),
    },
    ...(drill.length === 0 ? [] : [{ kind: 'list', sign: 'dot', lines: drillNotes(problem, asked.deck) } as const]),
    { kind: 'heading', text: 'Slots and cut-outs to make for parts' },
    {
      kind: 'table',
      none: 'None.',
      columns: [
        { head: 'what', share: 40 },
        { head: 'size, x × y', share: 20 },
        { head: 'lower-left corner, x', share: 20 },
        { head: 'y', share: 20 },
      ],
      rows: cuts.map(({ name, rect }) => [
        name,
        `${number(rect.w / 1000)} × ${number(rect.h / 1000)}`,
        number(rect.x / 1000),
        number(rect.y / 1000),
      ]),
    },
  ]
  return [
    ...flow(press, asked.paper, title, `deck ${deck.id}, read first`, blocks),
    ...tilePages(press, drawing, tiling, asked.overlap, title),
  ]
}

const drillCells = (r: DrillRow): string[] => [
  `${r.number}`,
  number(r.x),
  number(r.y),
  number(r.fromLeft),
  number(r.fromLower),
  number(r.diameter),
  r.tool === null ? 'none' : number(r.tool),
  `${r.item}, ${r.hole}`,
  [r.thread, r.fit === '' ? '' : `(${r.fit})`, r.note].filter((t) => t !== '').join(' '),
]

const number = (value: number): string => String(Math.round(value * 1000) / 1000 || 0)
