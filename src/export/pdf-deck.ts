/** One deck at 1:1 as a drawing for paper: the template's lines, a cross to punch at every hole, its number and size beside it. */
import { deckCalled, type Placement, type Problem } from '../../solver/index.ts'
import { type Box, boxOf, contourOf, segmentsOf } from './contour.ts'
import { cross, type Stroke, type Template } from './drawing.ts'
import { around, boxOfInk, colours, grown, type Ink, type Look, touch } from './pdf-ink.ts'
import type { Press } from './pdf-press.ts'
import type { Drawing } from './pdf-tiles.ts'
import { shorten } from './pdf-words.ts'
import { type DrillRow, drillTable } from './tables-drill.ts'
import { template } from './template.ts'

const pens = {
  cut: { colour: colours.cut, width: 0.15 },
  drill: { colour: colours.drill, width: 0.15 },
  existing: { colour: colours.existing, width: 0.12 },
  mark: { colour: colours.mark, width: 0.12 },
  notes: { colour: colours.ink, width: 0.15 },
} as const satisfies Record<string, Look>

const LABEL = 2.3
const MOST_CHOSEN = 1000

/** `asMade`: the plate exists; outline and openings are drawn as there already. Holes are numbered as in the drill table. */
export function deckDrawing(
  press: Press,
  problem: Problem,
  placements: readonly Placement[],
  deckIndex: number,
  asMade: boolean,
): { drawing: Drawing; drill: readonly DrillRow[] } {
  const deck = problem.decks[deckIndex]!
  const t = template(problem, placements, deckIndex, { asMade })
  const drill = drillTable(problem, placements, deckIndex)
  const outline = boxOf(contourOf(deck.outline))
  const lines: Ink[] = [
    ...t.existing.map((contour): Ink => ({ kind: 'contour', contour, look: pens.existing })),
    ...t.mark.map((s) => stroke(s, pens.mark)),
    ...t.cut.map((contour): Ink => ({ kind: 'contour', contour, look: pens.cut })),
    ...t.drill.map((contour): Ink => ({ kind: 'contour', contour, look: pens.drill })),
  ]
  const box = around([outline, ...lines.map(boxOfInk)])!
  const said = saidOn(press, t, grown(box, 3), outline)
  const crosses = drill.map(punch)
  const inks = [...lines, ...said, ...crosses.flat(), ...labels(press, drill, said, lines)]
  const sketch: Ink[] = [...t.cut, ...t.existing].map((contour) => ({
    kind: 'contour',
    contour,
    look: { colour: colours.existing, width: 0.1 },
  }))
  return { drawing: { name: deckCalled(deck), inks, sketch, box }, drill }
}

/** Names and datum; what stands under the drawing (bar, cautions) has pages of its own here. */
function saidOn(press: Press, t: Template, within: Box, outline: Box): Ink[] {
  const texts = t.notes.texts
    .filter((text) => text.y >= outline.y0 - 1 && inside(text, within))
    .map(({ x, y, size, text }): Ink => ({ kind: 'text', x, y, size, text: shorten(press, text, size, 60) }))
  const strokes = t.notes.strokes.map((s) => stroke(s, pens.notes)).filter((ink) => boxOfInk(ink).y1 >= outline.y0 - 1)
  return [...strokes, ...texts]
}

const inside = (p: { x: number; y: number }, b: Box): boolean =>
  p.x >= b.x0 && p.x <= b.x1 && p.y >= b.y0 && p.y <= b.y1

function stroke(s: Stroke, look: Look): Ink {
  if (s.kind === 'line') return { kind: 'line', points: s.points, look }
  if (s.kind === 'contour') {
    return { kind: 'contour', contour: s.contour, look: s.dashed ? { ...look, dash: [2, 1] } : look }
  }
  return { kind: 'contour', contour: s, look }
}

/** Its arms pass the hole's edge, so that they can still be seen when the punch stands on the middle. */
function punch({ x, y, diameter }: DrillRow): Ink[] {
  return cross(x, y, Math.max(3, diameter / 2 + 1.5)).map((line) => ({ ...line, look: pens.drill }))
}

/** `4 ⌀3.4` beside each hole, on the side where least is in the way: other holes and words first of all, then lines. */
function labels(press: Press, drill: readonly DrillRow[], said: readonly Ink[], lines: readonly Ink[]): Ink[] {
  const taken: Box[] = said.flatMap((ink) => (ink.kind === 'text' ? [wordBox(press, ink)] : []))
  const straight = lines.flatMap(straightOf)
  const holes = drill.map(({ x, y, diameter }) => {
    const r = diameter / 2
    return { x0: x - r, y0: y - r, x1: x + r, y1: y + r }
  })
  return drill.map(({ number, x, y, diameter }, i) => {
    const text = `${number} ⌀${diameter}`
    const wide = press.width(text, LABEL)
    const off = diameter / 2 + 0.5
    const [right, left, upper, lower] = [x + off, x - off - wide, y + 0.7, y - 0.6 - LABEL * 0.75]
    const places = [
      [right, upper],
      [right, lower],
      [left, upper],
      [left, lower],
      [x - wide / 2, y + Math.max(3, off) + 0.7],
      [x - wide / 2, y - Math.max(3, off) - LABEL * 0.75 - 0.7],
      [right + 3, upper],
      [left - 3, lower],
    ].map(([px, py]) => ({ kind: 'text' as const, x: px!, y: py!, size: LABEL, text }))
    // Among so many there is no room to choose from, and looking for it would take its time.
    const first = places[0]!
    if (drill.length > MOST_CHOSEN) return { ...first, colour: colours.drill }
    const others = [...holes.filter((_, k) => k !== i), ...taken]
    const inWay = places.map((p) => {
      const own = wordBox(press, p)
      const hits = (boxes: readonly Box[]): number => boxes.filter((o) => touch(own, o)).length
      return 10 * hits(others) + hits(straight)
    })
    const best = places[inWay.indexOf(Math.min(...inWay))]!
    taken.push(wordBox(press, best))
    return { ...best, colour: colours.drill }
  })
}

/** The sides of a contour that run along x or y; a slanted one's box would be in the way everywhere. */
const straightOf = (ink: Ink): Box[] =>
  ink.kind === 'contour' && ink.contour.kind === 'path'
    ? segmentsOf(ink.contour.points)
        .filter(({ a, b, arc }) => !arc && (a.x === b.x || a.y === b.y))
        .map(({ a, b }) => ({
          x0: Math.min(a.x, b.x),
          y0: Math.min(a.y, b.y),
          x1: Math.max(a.x, b.x),
          y1: Math.max(a.y, b.y),
        }))
    : []

const wordBox = (press: Press, t: { x: number; y: number; size: number; text: string }): Box => ({
  x0: t.x,
  y0: t.y - t.size * 0.2,
  x1: t.x + press.width(t.text, t.size),
  y1: t.y + t.size * 0.8,
})
