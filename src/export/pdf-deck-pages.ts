/** The pages of one deck: a sheet to read first, then the deck at 1:1. */
import { deckCalled, type Placement, type Problem } from '../../solver/index.ts'
import { cautions } from './cautions.ts'
import { type Box, boxOf, contourOf } from './contour.ts'
import { madeBy } from './made.ts'
import { type OwnCut, ownCuts, thereAlready } from './own-cuts.ts'
import { deckDrawing } from './pdf-deck.ts'
import { type Block, flow } from './pdf-flow.ts'
import type { Page } from './pdf-ink.ts'
import type { Paper } from './pdf-paper.ts'
import type { Press } from './pdf-press.ts'
import { mapOf, tilePages, tilingOf } from './pdf-tiles.ts'
import { type DrillRow, drillNotes, notDrilled } from './tables-drill.ts'
import { called, number, sizes } from './words.ts'
import { deck as words } from './words-sheets.ts'

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
  const title = called.variant(problem.name, problem.variant)
  const { drawing, drill } = deckDrawing(press, problem, placements, asked.deck, asked.asMade)
  const tiling = tilingOf(drawing, asked.paper, asked.overlap)
  const sheets = tiling.tiles.length
  const outline = boxOf(contourOf(deck.outline))
  const { cuts } = madeBy(problem, placements, asked.deck)
  const { steps } = words
  const beside = drill.length === 0 ? notDrilled(problem, asked.deck) : drillNotes(problem, asked.deck)
  const there = thereAlready(deck)
  const lines = [
    steps.print,
    ...(sheets === 1 ? [] : [steps.trim(asked.overlap)]),
    steps.measure(outline.x1 - outline.x0, outline.y1 - outline.y0),
    asked.asMade ? steps.layOn : steps.fix,
    ...(there.length === 0 ? [] : [asked.asMade ? steps.there(sizes(there)) : steps.thereNew(sizes(there))]),
    steps.punch,
    ...(drill.length === 0 ? [] : [steps.drill]),
    asked.asMade ? steps.onlyNew : steps.saw,
    steps.deburr,
  ]
  const blocks: Block[] = [
    { kind: 'heading', text: words.readFirst(deckCalled(deck)) },
    {
      kind: 'text',
      text: words.plate(deck.material, deck.thickness / 1000, sheets),
    },
    { kind: 'list', sign: 'number', lines },
    { kind: 'heading', text: words.cautions },
    { kind: 'list', sign: 'dot', lines: cautions },
    ...(sheets === 1
      ? []
      : [
          { kind: 'heading', text: words.map } as const,
          {
            kind: 'picture',
            height: 62,
            draw: (room: Box) => mapOf(press, drawing, tiling, { ...room, x1: room.x0 + 100 }),
          } as const,
        ]),
    { kind: 'heading', text: words.drillTable(drill.length) },
    {
      kind: 'table',
      none: words.noHole,
      columns: [
        { head: words.drillHeads.number, share: 5 },
        { head: words.drillHeads.x, share: 8 },
        { head: words.drillHeads.y, share: 8 },
        { head: words.drillHeads.fromLeft, share: 9 },
        { head: words.drillHeads.fromLower, share: 10 },
        { head: words.drillHeads.diameter, share: 6 },
        { head: words.drillHeads.tool, share: 6 },
        { head: words.drillHeads.for, share: 22 },
        { head: words.drillHeads.note, share: 26 },
      ],
      rows: drill.map(drillCells),
    },
    ...(beside.length === 0 ? [] : [{ kind: 'list', sign: 'dot', lines: beside } as const]),
    { kind: 'heading', text: words.cuts },
    {
      kind: 'table',
      none: words.noCut,
      columns: [
        { head: words.cutHeads.what, share: 40 },
        { head: words.cutHeads.size, share: 20 },
        { head: words.cutHeads.x, share: 20 },
        { head: words.cutHeads.y, share: 20 },
      ],
      rows: cuts.map(({ name, rect }) => [
        name,
        `${number(rect.w / 1000)} × ${number(rect.h / 1000)}`,
        number(rect.x / 1000),
        number(rect.y / 1000),
      ]),
    },
  ]
  // A plate that is there has all of this already.
  const own = asked.asMade ? [] : ownCuts(problem, asked.deck)
  if (own.length > 0) blocks.push({ kind: 'heading', text: words.own }, ownTable(own))
  return [
    ...flow(press, asked.paper, title, words.label(deckCalled(deck)), blocks),
    ...tilePages(press, drawing, tiling, asked.overlap, title),
  ]
}

const ownTable = (own: readonly OwnCut[]): Block => ({
  kind: 'table',
  none: '',
  columns: [
    { head: words.ownHeads.what, share: 30 },
    { head: words.ownHeads.name, share: 22 },
    { head: words.ownHeads.size, share: 22 },
    { head: words.ownHeads.fromLeft, share: 14 },
    { head: words.ownHeads.fromLower, share: 12 },
  ],
  rows: own.map((o) => [
    words.ownKinds[o.kind],
    o.id,
    words.ownSize(o.size, o.round, o.radius),
    number(o.fromLeft),
    number(o.fromLower),
  ]),
})

const drillCells = (r: DrillRow): string[] => [
  `${r.number}`,
  number(r.x),
  number(r.y),
  number(r.fromLeft),
  number(r.fromLower),
  number(r.diameter),
  r.tool === null ? words.noTool : number(r.tool),
  `${r.item}, ${r.hole}`,
  [r.thread, r.fit === '' ? '' : `(${r.fit})`, r.note].filter((t) => t !== '').join(' '),
]
