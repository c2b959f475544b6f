/**
 * The deck template as one drawing: what is cut, drilled, already there, marked and said, in the file's frame (y to the
 * front, mm). The writers turn it into their format; the one flip of y happens there (contract §1, §8).
 */
import type { Deck, Placement, Problem, Um } from '../../solver/index.ts'
import { turnedSize, turnPoint } from '../../solver/index.ts'
import { type Box, boxOf, type Contour, circle, contourKey, contourOf, rectContour } from './contour.ts'
import type { Stroke, Template } from './drawing.ts'
import { madeBy } from './made.ts'
import { notesOf } from './notes.ts'
import { OffsetError, offset } from './offset.ts'

export interface TemplateOptions {
  /** Full width of the cut, Um; default 0 = off. */
  readonly kerf?: Um
  /** The plate exists: outline and openings are not made again. */
  readonly asMade?: boolean
}

const MARGIN = 12
const NOTES_WIDTH = 96

/** The placements that stand on one deck. */
export const standingOn = (placements: readonly Placement[], deck: number): Placement[] =>
  placements.filter((p) => p.deck === deck)

/**
 * Draws one deck of a legal layout. Throws OffsetError, naming the contour, where the kerf leaves nothing of one.
 */
export function template(
  problem: Problem,
  placements: readonly Placement[],
  deckIndex: number,
  options: TemplateOptions = {},
): Template {
  const deck = problem.decks[deckIndex]!
  const kerf = options.kerf ?? 0
  const here = standingOn(placements, deckIndex)
  const made = madeBy(problem, here, deck)

  const plate: { name: string; contour: Contour; by: number }[] = [
    { name: `the outline of deck ${deck.id}`, contour: contourOf(deck.outline), by: kerf / 2000 },
    ...windowsOf(problem, deck, deckIndex).map((w) => ({ ...w, by: -kerf / 2000 })),
  ]
  const cut = [
    ...(options.asMade ? [] : plate),
    ...made.cuts.map((c) => ({ name: c.name, contour: rectContour(c.rect), by: -kerf / 2000 })),
  ].map((c) => moved(c.name, c.contour, c.by))
  const existing = [
    ...(options.asMade ? plate.map((c) => c.contour) : []),
    ...deck.holes.map((h) => circle(h.at.x / 1000, h.at.y / 1000, h.diameter / 2000)),
  ]
  const drill = made.holes.map((h) => circle(h.at.x / 1000, h.at.y / 1000, h.diameter / 2000))

  const seen = new Set<string>()
  const once = (contours: readonly Contour[]): Contour[] =>
    contours.filter((c) => {
      const key = contourKey(c)
      return !seen.has(key) && seen.add(key)
    })
  // Existing first: what is there already is not made a second time.
  const there = once(existing)
  const groups = { existing: there, cut: once(cut), drill: once(drill) }

  const items = here.map((p) => outlineOf(problem, p))
  const drawn = around([...groups.cut, ...groups.drill, ...there, ...items.map((i) => i.contour)])
  const width = Math.max(drawn.x1 - drawn.x0, NOTES_WIDTH)
  const notes = notesOf({
    problem,
    deck,
    kerf,
    asMade: options.asMade ?? false,
    here,
    drilled: made.holes,
    drawn,
    width,
  })
  return {
    title: `${problem.name}, variant ${problem.variant}, deck ${deck.name || deck.id}`,
    ...groups,
    mark: [...items, ...firstPins(problem, here), ...frontArrow(drawn)],
    notes: { strokes: notes.strokes, texts: notes.texts },
    view: {
      x0: Math.floor(drawn.x0 - MARGIN),
      y0: Math.floor(notes.bottom - 4),
      x1: Math.ceil(drawn.x0 + width + MARGIN),
      y1: Math.ceil(drawn.y1 + MARGIN),
    },
  }
}

function moved(name: string, contour: Contour, by: number): Contour {
  try {
    return offset(contour, by)
  } catch (error) {
    if (error instanceof OffsetError) throw new OffsetError(`${name}: ${error.message}`)
    throw error
  }
}

/** Openings, and the exits and passes that need one. */
function windowsOf(problem: Problem, deck: Deck, index: number): { name: string; contour: Contour }[] {
  const round = (name: string, at: { x: Um; y: Um }, diameter: Um) => ({
    name,
    contour: circle(at.x / 1000, at.y / 1000, diameter / 2000),
  })
  return [
    ...deck.openings.map((o) => ({ name: `opening ${o.id} of deck ${deck.id}`, contour: contourOf(o.shape) })),
    ...problem.exits.flatMap((e) => (e.deck === index && e.diameter ? [round(`exit ${e.id}`, e.at, e.diameter)] : [])),
    ...problem.passes.flatMap((p) =>
      p.decks.includes(index) && p.diameter ? [round(`pass ${p.id}`, p.at, p.diameter)] : [],
    ),
  ]
}

function outlineOf(problem: Problem, p: Placement): Extract<Stroke, { kind: 'contour' }> {
  const item = problem.items[p.item]!
  const size = turnedSize(item.footprint.width, item.footprint.depth, p.turn)
  return { kind: 'contour', contour: rectContour({ ...p.at, ...size }), dashed: item.later }
}

/** A small ring on the first pin of every plug-in part. */
function firstPins(problem: Problem, here: readonly Placement[]): Stroke[] {
  return here.flatMap((p) => {
    const { footprint } = problem.items[p.item]!
    const pin = footprint.plug?.pins[0]
    if (!pin) return []
    const at = turnPoint(pin.at, footprint.width, footprint.depth, p.turn)
    return [{ kind: 'contour' as const, contour: circle((p.at.x + at.x) / 1000, (p.at.y + at.y) / 1000, 0.6) }]
  })
}

/** Left of the drawing, so that it is never taken for a part of it. */
function frontArrow(drawn: Box): Stroke[] {
  const x = drawn.x0 - MARGIN / 2
  const tip = drawn.y1
  return [
    {
      kind: 'line',
      points: [
        [x, tip - 14],
        [x, tip],
      ],
    },
    {
      kind: 'line',
      points: [
        [x - 2.5, tip - 4],
        [x, tip],
        [x + 2.5, tip - 4],
      ],
    },
  ]
}

function around(contours: readonly Contour[]): Box {
  return contours.map(boxOf).reduce((a, b) => ({
    x0: Math.min(a.x0, b.x0),
    y0: Math.min(a.y0, b.y0),
    x1: Math.max(a.x1, b.x1),
    y1: Math.max(a.y1, b.y1),
  }))
}
