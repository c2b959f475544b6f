/** Drawings, boards and measures read for the page: what they come to, or what is to be asked, in sentences. */
import { shapeToSolver } from '../../footprints/fields.ts'
import { bounds, mm, prepare, toMm } from '../../solver/index.ts'
import { bringInBoard } from '../bring-in/board.ts'
import { bringInMeasures } from '../bring-in/caliper-result.ts'
import type { DrillAnswers } from '../bring-in/excellon-number.ts'
import { bringInDeck, type DeckBroughtIn, type DeckOptions, type Unit } from '../bring-in/index.ts'
import { keptFrom } from '../bring-in/kept.ts'
import { addItem } from '../model/edit.ts'
import { movedShape } from '../model/edit-shapes.ts'
import type { FileProblem, Project, ProjectDeck } from '../model/index.ts'
import { words } from '../words/index.ts'

export type Footprint = NonNullable<Project['footprints']>[number]

export type Got =
  | { readonly kind: 'deck'; readonly deck: ProjectDeck; readonly lines: readonly string[] }
  | { readonly kind: 'footprint'; readonly footprint: Footprint; readonly lines: readonly string[] }
  /** The file does not say its unit; `text` tells what it would come to in each. */
  | { readonly kind: 'unit'; readonly text: string }
  /** Several outlines lie side by side. */
  | { readonly kind: 'outline'; readonly decks: readonly ProjectDeck[] }
  | { readonly kind: 'refused'; readonly problems: readonly FileProblem[]; readonly lines: readonly string[] }

export interface Source {
  readonly name: string
  readonly bytes: Uint8Array
}

export interface DeckAnswers {
  readonly unit?: Unit | undefined
  /** From 1, from left to right. */
  readonly outline?: number | undefined
}

/** A drawing as the deck that takes the place of `old`: at the same corner, so that what stands on it stays where it is. */
export function deckFrom({ name, bytes }: Source, old: ProjectDeck, answers: DeckAnswers): Got {
  const box = bounds(prepare(shapeToSolver(old.outline)))
  const options: DeckOptions = {
    id: old.id,
    z: old.z,
    thickness: old.thickness,
    corner: [toMm(box.x), toMm(box.y)],
    ...(answers.unit === undefined ? {} : { unit: answers.unit }),
    ...(answers.outline === undefined ? {} : { outline: answers.outline }),
  }
  const got = bringInDeck(bytes, name, options)
  if (!got.ok) {
    const unit = got.problems.find((p) => p.path === 'unit')
    if (unit) return { kind: 'unit', text: sizesIn(unit) }
    return { kind: 'refused', problems: got.problems, lines: some(got.unused, unusedLine) }
  }
  if (got.decks.length > 1) return { kind: 'outline', decks: got.decks }
  return { kind: 'deck', deck: got.decks[0]!, lines: reportLines(got) }
}

/** The reader words it for the command; here the question stands beside. */
const sizesIn = ({ found, expected }: FileProblem): string => {
  const sizes = /: (all that is drawn .*)$/.exec(expected)?.[1]
  return text.noUnit(found, sizes ? `${sizes[0]?.toUpperCase()}${sizes.slice(1)}.` : '')
}

/** Which numbers of a board's files mean nothing until somebody says more, by the fields of the problems. */
export const boardAsks = (got: Got | undefined): { readonly units: boolean; readonly zeros: boolean } => {
  const paths = got?.kind === 'refused' ? got.problems.map((p) => p.path) : []
  return { units: paths.includes('units') || paths.includes('MO'), zeros: paths.includes('suppressed') }
}

export function boardFrom(
  sources: readonly Source[],
  id: string,
  height: number | undefined,
  answers: DrillAnswers = {},
): Got {
  const files = sources.map(({ name, bytes }) => ({ name, text: new TextDecoder('utf-8').decode(bytes) }))
  const got = bringInBoard(files, { id, height, answers })
  if (!got.ok) return { kind: 'refused', problems: got.problems, lines: [] }
  const { assumptions, unused } = got.report
  const lines = [...some(assumptions, text.assumed), ...some(unused, text.unused)]
  return { kind: 'footprint', footprint: got.footprint, lines }
}

export function measuresFrom({ name, bytes }: Source, old: ProjectDeck): Got {
  const got = bringInMeasures(bytes, name)
  if (!got.ok) return { kind: 'refused', problems: got.problems, lines: [] }
  const { made, text } = got.value
  if (!made) {
    const problem = { file: name, path: 'measures', found: words.bring.unsettled, expected: words.bring.settled }
    return { kind: 'refused', problems: [problem], lines: text }
  }
  if (made.kind === 'footprint') return { kind: 'footprint', footprint: made.footprint, lines: text }
  return { kind: 'deck', deck: laidAs(old, { ...made.deck, id: old.id }), lines: text }
}

/** A measured plate at the old one's corner, so that what stands on it stays where it is. */
export function laidAs(old: ProjectDeck, made: ProjectDeck): ProjectDeck {
  const box = bounds(prepare(shapeToSolver(old.outline)))
  const [x, y] = [toMm(box.x), toMm(box.y)]
  const outline = movedShape(made.outline, x, y)
  const at = ([u, v]: readonly [number, number]): [number, number] => [toMm(mm(u + x)), toMm(mm(v + y))]
  return { ...made, outline, holes: (made.holes ?? []).map((h) => ({ ...h, at: at(h.at) })) }
}

/** The project with the outline, openings and holes in place of those of the deck of the same id, whose other fields stay. */
export function withDeck(project: Project, made: ProjectDeck): Project {
  return {
    ...project,
    decks: project.decks.map((deck) => {
      if (deck.id !== made.id) return deck
      const { openings: _, holes: __, ...rest } = deck
      return { ...rest, ...keptFrom(deck, made), ...(deck.name === undefined ? {} : { name: deck.name }) }
    }),
  }
}

/** The project with the footprint among its own, in place of one of that id, and if wanted with one item of it. */
export function withFootprint(project: Project, footprint: Footprint, place: boolean): Project {
  const others = (project.footprints ?? []).filter((f) => f.id !== footprint.id)
  const more = { ...project, footprints: [...others, footprint] }
  return place ? addItem(more, footprint.id) : more
}

const MOST = 30
const text = words.bring

function some<T>(all: readonly T[], line: (one: T) => string): string[] {
  const lines = all.slice(0, MOST).map(line)
  return all.length > MOST ? [...lines, text.moreLike(all.length - MOST)] : lines
}

const unusedLine = (u: { what: string; where: string; why: string }): string => text.unusedAt(u.what, u.where, u.why)

function reportLines({ decks, report }: Extract<DeckBroughtIn, { ok: true }>): string[] {
  const { unit, flattened, tiny } = report
  const told = unit.from === 'file'
  return [
    `${deckWords(decks[0]!)}.`,
    text.oneUnit(Number(unit.mm.toPrecision(7)), told),
    ...some(report.closedGaps, (g) => text.closedGap(g.width, g.at.join(', '))),
    ...some(report.twice, (t) => text.twice(t.what, t.where)),
    ...(tiny > 0 ? [text.tiny(tiny)] : []),
    ...(flattened.count > 0 ? [text.flattened(flattened.count, flattened.tolerance)] : []),
    ...report.assumed.map(text.assumed),
    ...some(report.unused, unusedLine),
  ]
}

/** `210 × 148 mm, 2 openings, 14 holes`. */
export function deckWords(deck: ProjectDeck): string {
  const { w, h } = bounds(prepare(shapeToSolver(deck.outline)))
  return text.deck(toMm(w), toMm(h), deck.openings?.length ?? 0, deck.holes?.length ?? 0)
}
