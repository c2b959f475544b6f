/**
 * The deck template as one drawing: what is cut, drilled, already there, marked and said, in the file's frame (y to the
 * front, mm). The writers turn it into their format; the one flip of y happens there (contract §1, §8).
 */
import type { Deck, Placement, Problem, Um } from '../../solver/index.ts'
import { deckCalled, turnedSize, turnPoint } from '../../solver/index.ts'
import { type Box, boxOf, type Contour, circle, contourKey, contourOf, type Line, rectContour } from './contour.ts'
import type { Stroke, Template, TemplateOptions, Text } from './drawing.ts'
import { drawable, letters } from './letters.ts'
import { madeBy, type NewHole } from './made.ts'
import { apart, mergeGroups, type Named, sharing } from './merge.ts'
import { labelsOf, notesOf } from './notes.ts'
import { OffsetError, offset } from './offset.ts'
import { insideFirst } from './order.ts'
import { tabbed } from './tabs.ts'
import { called, refused, template as words } from './words.ts'

export type { TemplateOptions } from './drawing.ts'

export const MARGIN = 12
export const NOTES_WIDTH = 96

/** One deck without the words below it. */
export interface Part {
  readonly deck: Deck
  readonly cut: readonly Line[]
  readonly drill: readonly Contour[]
  readonly existing: readonly Contour[]
  readonly mark: readonly Stroke[]
  /** Words on the drawing: names of items, `front`. */
  readonly labels: readonly Text[]
  readonly holes: readonly NewHole[]
  /** Around plate and bodies. */
  readonly drawn: Box
}

/**
 * Draws one deck of a legal layout. Throws OffsetError, naming the contour, where the kerf leaves nothing of one, and
 * MergeError where two run along one another so that no clean line is left.
 */
export function template(
  problem: Problem,
  placements: readonly Placement[],
  deckIndex: number,
  options: TemplateOptions = {},
): Template {
  const part = partOf(problem, placements, deckIndex, options)
  const { deck, drawn } = part
  const width = Math.max(drawn.x1 - drawn.x0, NOTES_WIDTH)
  const notes = notesOf({ problem, parts: [{ ...part, shift: 0 }], options, drawn, width })
  const said = labelled(part.labels, options)
  return {
    title: words.title(problem.name, problem.variant, deckCalled(deck)),
    cut: part.cut,
    drill: part.drill,
    existing: part.existing,
    mark: [...part.mark, ...said.strokes],
    notes: { strokes: notes.strokes, texts: [...said.texts, ...notes.texts] },
    view: viewOf(drawn, width, notes.bottom),
  }
}

/** Whole millimetres around a drawing and the words below it. */
export const viewOf = (drawn: Box, width: number, bottom: number): Box => ({
  x0: Math.floor(drawn.x0 - MARGIN),
  y0: Math.floor(bottom - 4),
  x1: Math.ceil(drawn.x0 + width + MARGIN),
  y1: Math.ceil(drawn.y1 + MARGIN),
})

/** Labels as asked for: text, or strokes where every letter can be drawn. */
export function labelled(labels: readonly Text[], options: TemplateOptions): { strokes: Stroke[]; texts: Text[] } {
  const strokes: Stroke[] = []
  const texts: Text[] = []
  for (const label of labels) {
    if (!options.marksAsPaths || !drawable(label.text)) texts.push(label)
    else {
      for (const points of letters(label.text, label.x, label.y, label.size)) strokes.push({ kind: 'open', points })
    }
  }
  return { strokes, texts }
}

/** Everything of one deck but the notes. Throws OffsetError and MergeError. */
export function partOf(
  problem: Problem,
  placements: readonly Placement[],
  deckIndex: number,
  options: TemplateOptions,
): Part {
  const deck = problem.decks[deckIndex]!
  const here = placements.filter((p) => p.deck === deckIndex)
  const made = madeBy(problem, placements, deckIndex)
  const holes = made.holes.map(
    (h): Asked => ({
      name: called.hole(h.item),
      contour: circle(h.at.x / 1000, h.at.y / 1000, h.diameter / 2000),
      solid: false,
      hole: true,
    }),
  )
  const outline: Asked = { name: called.outline(deckCalled(deck)), contour: contourOf(deck.outline), solid: true }
  const windows = windowsOf(problem, deck, deckIndex)

  const seen = new Set<string>()
  const once = <T extends { readonly contour: Contour }>(all: readonly T[]): T[] =>
    all.filter(({ contour }) => {
      const key = contourKey(contour)
      return !seen.has(key) && seen.add(key)
    })
  // Existing first: what is there already is not made a second time.
  const existing = once<{ readonly contour: Contour }>([
    ...(options.asMade ? [outline, ...windows] : []),
    ...deck.holes.map((h) => ({ contour: circle(h.at.x / 1000, h.at.y / 1000, h.diameter / 2000) })),
  ]).map((c) => c.contour)
  const [edge, ...voids] = [
    options.asMade ? [] : once([outline]),
    once(options.asMade ? [] : windows),
    once(made.cuts.map((c): Asked => ({ name: c.name, contour: rectContour(c.rect), solid: false }))),
    once(options.laserHoles ? holes : []),
  ]
  // Last, so that it is the last among contours that cross.
  const asked = [...voids.flat(), ...edge!]
  const drill = options.laserHoles ? [] : once(holes).map((h) => h.contour)
  const cut = kerfed(apart(asked), (options.kerf ?? 0) / 2000)
  const ordered = insideFirst(cut.map((c) => c.contour))

  const items = here.map((p) => outlineOf(problem, p))
  const pins = firstPins(problem, here)
  const drawn = around([...ordered, ...drill, ...existing, ...items.map((i) => i.contour)])
  return {
    deck,
    cut: withTabs(ordered, new Set(cut.filter((c) => c.hole).map((c) => c.contour)), options),
    drill,
    existing,
    mark: [...items, ...pins, ...frontArrow(drawn)],
    labels: labelsOf(problem, here, drawn, [
      ...pins.map((p) => p.contour),
      ...[...windows, ...holes].map((c) => c.contour),
      ...made.cuts.map((c) => rectContour(c.rect)),
      ...deck.holes.map((h) => circle(h.at.x / 1000, h.at.y / 1000, h.diameter / 2000)),
    ]),
    holes: made.holes,
    drawn,
  }
}

interface Asked extends Named {
  /** A mounting hole: no tab is ever left in it. */
  readonly hole?: boolean
}

/** Outlines out, all else in, by half a kerf; what comes to lie on one line by that is merged first. */
function kerfed(contours: readonly Asked[], half: number): readonly Asked[] {
  let whole = contours
  for (;;) {
    const out = whole.map((c): Asked => ({ ...c, contour: moved(c.name, c.contour, c.solid ? half : -half) }))
    const groups = half === 0 ? [] : sharing(out.map((c) => c.contour))
    if (groups.length === 0) return out
    const merged = mergeGroups(whole, groups)
    // Where merging makes no fewer, there is nothing left to be gained by it.
    if (merged.length >= whole.length) return out
    whole = merged
  }
}

function moved(name: string, contour: Contour, by: number): Contour {
  try {
    return offset(contour, by)
  } catch (error) {
    if (error instanceof OffsetError) throw new OffsetError(refused.of(name, error.message))
    throw error
  }
}

function withTabs(contours: readonly Contour[], holes: ReadonlySet<Contour>, options: TemplateOptions): Line[] {
  const { tabs } = options
  if (!tabs) return [...contours]
  const asked = { count: tabs.count, width: tabs.width / 1000 }
  return contours.flatMap((c) => (holes.has(c) ? [c] : tabbed(c, asked, (options.kerf ?? 0) / 1000)))
}

/** Openings, and the exits and passes that need one. */
function windowsOf(problem: Problem, deck: Deck, index: number): Asked[] {
  const round = (name: string, at: { x: Um; y: Um }, diameter: Um): Asked => ({
    name,
    contour: circle(at.x / 1000, at.y / 1000, diameter / 2000),
    solid: false,
  })
  return [
    ...deck.openings.map((o) => ({
      name: called.opening(o.id, deckCalled(deck)),
      contour: contourOf(o.shape),
      solid: false,
    })),
    ...problem.exits.flatMap((e) =>
      e.deck === index && e.diameter ? [round(called.exit(e.id), e.at, e.diameter)] : [],
    ),
    ...problem.passes.flatMap((p) =>
      p.decks.includes(index) && p.diameter ? [round(called.pass(p.id), p.at, p.diameter)] : [],
    ),
  ]
}

function outlineOf(problem: Problem, p: Placement): Extract<Stroke, { kind: 'contour' }> {
  const item = problem.items[p.item]!
  const size = turnedSize(item.footprint.width, item.footprint.depth, p.turn)
  return { kind: 'contour', contour: rectContour({ ...p.at, ...size }), dashed: item.later }
}

/** A small ring on the first pin of every plug-in part. */
function firstPins(problem: Problem, here: readonly Placement[]): Extract<Stroke, { kind: 'contour' }>[] {
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

/** The bounding box of all, mm. `contours` not empty. */
export function around(contours: readonly Line[]): Box {
  return contours.map(boxOf).reduce((a, b) => ({
    x0: Math.min(a.x0, b.x0),
    y0: Math.min(a.y0, b.y0),
    x1: Math.max(a.x1, b.x1),
    y1: Math.max(a.y1, b.y1),
  }))
}
