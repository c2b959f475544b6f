/** All decks of a project side by side in one drawing, so that one sheet of stock is cut in one run. */
import { deckCalled, type Placement, type Problem } from '../../solver/index.ts'
import type { Box, Line, Vertex } from './contour.ts'
import type { Stroke, Template, TemplateOptions, Text } from './drawing.ts'
import { notesOf } from './notes.ts'
import { around, labelled, MARGIN, NOTES_WIDTH, type Part, partOf, viewOf } from './template.ts'
import { template as words } from './words.ts'

/** Clear room between what is drawn of two decks, arrow and its word included, mm. */
export const GAP = 10

/**
 * Decks from left to right in the project's order, each moved along x alone; the first stays in its place. Each is labelled,
 * and the notes say how far it was moved. Throws as `template` does.
 */
export function sheet(problem: Problem, placements: readonly Placement[], options: TemplateOptions = {}): Template {
  const parts: (Part & { shift: number })[] = []
  let from: number | undefined
  problem.decks.forEach((_, index) => {
    const part = partOf(problem, placements, index, options)
    const shift = from === undefined ? 0 : Math.ceil(from + GAP + MARGIN - part.drawn.x0)
    parts.push({ ...moved(part, shift), shift })
    from = part.drawn.x1 + shift
  })
  const drawn = around(parts.map((p) => ring(p.drawn)))
  const width = Math.max(drawn.x1 - drawn.x0, NOTES_WIDTH)
  const notes = notesOf({ problem, parts, options, drawn, width })
  const said = labelled(
    parts.flatMap((p) => [...p.labels, title(p)]),
    options,
  )
  return {
    title: words.sheetTitle(
      problem.name,
      problem.variant,
      problem.decks.map((d) => d.name || d.id),
    ),
    cut: parts.flatMap((p) => p.cut),
    drill: parts.flatMap((p) => p.drill),
    existing: parts.flatMap((p) => p.existing),
    mark: [...parts.flatMap((p) => p.mark), ...said.strokes],
    notes: { strokes: notes.strokes, texts: [...said.texts, ...notes.texts] },
    view: viewOf(drawn, width, notes.bottom),
  }
}

/** Which deck it is, over its upper left corner and clear of the arrow's word. */
function title({ deck, drawn }: Part): Text {
  const text = deckCalled(deck)
  const size = Math.max(0.8, Math.min(2.6, (drawn.x1 - drawn.x0) / (0.6 * [...text].length)))
  return { x: drawn.x0, y: drawn.y1 + 2, size, text }
}

const ring = (b: Box): Line => ({
  kind: 'path',
  points: [
    { x: b.x0, y: b.y0, bulge: 0 },
    { x: b.x1, y: b.y0, bulge: 0 },
    { x: b.x1, y: b.y1, bulge: 0 },
    { x: b.x0, y: b.y1, bulge: 0 },
  ],
})

function moved(part: Part, by: number): Part {
  const points = (all: readonly Vertex[]): Vertex[] => all.map((p) => ({ ...p, x: p.x + by }))
  const line = <T extends Line>(l: T): T =>
    l.kind === 'circle' ? { ...l, cx: l.cx + by } : { ...l, points: points(l.points) }
  const stroke = (s: Stroke): Stroke => {
    if (s.kind === 'open') return line(s)
    if (s.kind === 'contour') return { ...s, contour: line(s.contour) }
    return { ...s, points: s.points.map(([x, y]) => [x + by, y] as const) }
  }
  const { drawn } = part
  return {
    ...part,
    cut: part.cut.map(line),
    drill: part.drill.map(line),
    existing: part.existing.map(line),
    mark: part.mark.map(stroke),
    labels: part.labels.map((l) => ({ ...l, x: l.x + by })),
    holes: part.holes,
    drawn: { ...drawn, x0: drawn.x0 + by, x1: drawn.x1 + by },
  }
}
