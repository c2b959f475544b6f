/**
 * A deck from a drawing: a DXF or SVG file's text to decks of the project file, with a report of everything that was done to it
 * and everything that was left out. Never throws.
 */
import { clip, type FileProblem, MOST_LISTED } from '../../footprints/problems.ts'
import type { Project, ProjectDeck } from '../model/index.ts'
import { readProject } from '../model/index.ts'
import { Draft, Refused, type Run, type Unused } from './contours.ts'
import { join } from './contours-join.ts'
import { type Box, boxOf, circleOf, shapeOf } from './contours-shape.ts'
import { chosen } from './deck-layers.ts'
import { type Format, formatOf, textOf } from './deck-text.ts'
import { drawDxf, dxfUnit } from './dxf.ts'
import { dxfFile } from './dxf-groups.ts'
import { type Nested, nest } from './nesting.ts'
import { drawSvg, svgUnit } from './svg.ts'
import { svgTree } from './svg-tree.ts'
import { UNITS, type Unit } from './units.ts'
import { digits, whereText } from './words.ts'
import { drawing } from './words-drawings.ts'

export interface DeckOptions {
  readonly format?: Format
  /** What one unit of the drawing is, whatever the file says. */
  readonly unit?: Unit
  /** mm that a flattened curve may be off; default 0.01. */
  readonly tolerance?: number
  /** mm between line ends that are closed; default 0.1. */
  readonly gap?: number
  /** Id of the deck; with several outlines `-1`, `-2` … is put behind it. Default `deck`. */
  readonly id?: string
  /** mm, default 0 and 3: no drawing says them. */
  readonly z?: number
  readonly thickness?: number
  /** Only what is on these layers, or in groups of these names. */
  readonly layers?: readonly string[]
  /** Only the n-th outline, from 1, counted from left to right. */
  readonly outline?: number
  /** Where the lower left corner of each outline's box goes, mm; `as-drawn` leaves it. Default [0, 0]. */
  readonly corner?: readonly [number, number] | 'as-drawn'
  /** Full circles up to this diameter, mm, are holes and larger ones openings; default: all are holes. */
  readonly holesUpTo?: number
}

export interface DeckReport {
  readonly format: Format
  /** `mm`: of one unit of the drawing; `from`: who said so. */
  readonly unit: {
    readonly name: string
    readonly mm: number
    readonly from: 'file' | 'options'
    readonly fileSays: string
  }
  readonly closedGaps: readonly {
    readonly at: readonly [number, number]
    readonly width: number
    readonly where: string
  }[]
  readonly unused: readonly Unused[]
  readonly twice: readonly { readonly what: string; readonly where: string }[]
  /** Segments shorter than a micrometre, left out. */
  readonly tiny: number
  readonly flattened: { readonly count: number; readonly tolerance: number }
  /** By how much each deck was moved from where it is drawn, mm. */
  readonly moved: readonly (readonly [number, number])[]
  /** What was taken although no drawing says it. */
  readonly assumed: readonly string[]
}

export type DeckBroughtIn =
  | { readonly ok: true; readonly decks: readonly ProjectDeck[]; readonly report: DeckReport }
  | { readonly ok: false; readonly problems: readonly FileProblem[]; readonly unused: readonly Unused[] }

const MOST_DECKS = 50
/** Of all contours together: a project file holds a million values. */
const MOST_CORNERS = 300_000

/** `name` of the file is only for the messages. */
export function bringInDeck(source: string | Uint8Array, name: string, options: DeckOptions = {}): DeckBroughtIn {
  const unused: Unused[] = []
  try {
    return brought(textOf(source), name, options, unused)
  } catch (error) {
    if (!(error instanceof Refused)) throw error
    return { ok: false, problems: [problem(name, error)], unused: listed(unused) }
  }
}

const problem = (file: string, r: Refused): FileProblem => ({
  file,
  path: r.path,
  found: r.found,
  expected: r.expected,
  ...(r.line === undefined ? {} : { line: r.line }),
})

const listed = (all: readonly Unused[]): Unused[] => {
  const bare = all.slice(0, MOST_LISTED).map(({ what, where, why }) => ({ what, where, why }))
  const more = all.length - bare.length
  return more > 0 ? [...bare, { what: drawing.more(more), where: '', why: drawing.notListed }] : bare
}

function brought(text: string, name: string, options: DeckOptions, unused: Unused[]): DeckBroughtIn {
  const tolerance = options.tolerance ?? 0.01
  const gap = options.gap ?? 0.1
  if (!(tolerance >= 0.001 && tolerance <= 1)) throw bad('tolerance', tolerance, drawing.tolerance)
  if (!(gap >= 0 && gap <= 5)) throw bad('gap', gap, drawing.gap)
  const format = options.format ?? formatOf(text)
  const read = format === 'dxf' ? dxf(text) : svg(text)
  const says = 'said' in read.unit ? read.unit.said : drawing.unitIs(digits(read.unit.mm * 1000) / 1000, read.unit.name)
  const unit = options.unit !== undefined ? { name: options.unit, mm: UNITS[options.unit] } : read.unit
  if ('said' in unit) throw askUnit(read.draw, options, unit.said)
  const draft = new Draft(tolerance)
  read.draw(draft, unit.mm, options.unit === undefined)
  const kept = chosen(draft, options.layers)
  unused.push(...kept.unused)
  const joined = join(kept.runs, gap)
  unused.push(...joined.unused)
  if (joined.contours.length === 0) return nothingClosed(name, kept.runs, unused)

  const corners = joined.contours.reduce((n, c) => n + c.points.length, 0)
  if (corners > MOST_CORNERS) {
    throw new Refused(drawing.manyCorners(corners), drawing.atMostCorners(MOST_CORNERS))
  }
  const nested = nest(joined.contours)
  const outlines = nested.map((_, i) => i).filter((i) => nested[i]!.depth === 0)
  const boxes = new Map(outlines.map((i) => [i, boxOf(nested[i]!.contour.points)] as const))
  outlines.sort((a, b) => boxes.get(a)!.x0 - boxes.get(b)!.x0 || boxes.get(a)!.y0 - boxes.get(b)!.y0)
  for (const lost of joined.unused) refuseOpenOutline(lost, [...boxes.values()], gap)
  if (options.outline !== undefined && outlines[options.outline - 1] === undefined) {
    throw bad('outline', options.outline, drawing.outlineNumber(outlines.length))
  }
  if (options.outline === undefined && outlines.length > MOST_DECKS) {
    throw new Refused(drawing.manyOutlines(outlines.length), drawing.atMostDecks(MOST_DECKS))
  }
  const picked = options.outline === undefined ? outlines : [outlines[options.outline - 1]!]
  for (const i of outlines) {
    if (!picked.includes(i)) unused.push(left(nested[i]!, drawing.otherOutline))
  }
  for (const n of nested) {
    if (n.depth > 1 && picked.includes(n.outline)) {
      unused.push(left(n, drawing.fallsOut))
    }
  }
  const decks = picked.map((o, k) => {
    const id = `${options.id ?? 'deck'}${picked.length > 1 ? `-${k + 1}` : ''}`
    const box = boxes.get(o)!
    const corner = options.corner ?? [0, 0]
    const by: [number, number] = corner === 'as-drawn' ? [0, 0] : [corner[0] - box.x0, corner[1] - box.y0]
    const inner = nested.filter((n) => n.depth === 1 && n.outline === o)
    return { by, deck: deckOf(id, nested[o]!, inner, by, options, kept.cutLayer) }
  })
  const value = decks.map((d) => d.deck)
  const problems = refusedByModel(value, name, drawing.unitTaken(unit.mm))
  if (problems.length > 0) return { ok: false, problems, unused: listed(unused) }
  return {
    ok: true,
    decks: value,
    report: {
      format,
      unit: { ...unit, from: options.unit === undefined ? 'file' : 'options', fileSays: says },
      closedGaps: joined.gaps.map((g) => ({
        at: [digits(g.at[0]), digits(g.at[1])],
        width: Number(g.width.toPrecision(3)),
        where: g.where,
      })),
      unused: listed(unused),
      twice: joined.twice.slice(0, MOST_LISTED),
      tiny: joined.tiny,
      flattened: { count: kept.runs.reduce((n, r) => n + r.flat, 0), tolerance },
      moved: decks.map((d) => [digits(d.by[0]), digits(d.by[1])]),
      assumed: [
        ...(options.z === undefined ? [drawing.assumedZ] : []),
        ...(options.thickness === undefined ? [drawing.assumedThickness] : []),
        ...(value.some((d) => d.openings) ? [drawing.assumedOpenings] : []),
      ],
    },
  }
}

/** An open chain around all of an outline is the real one: what it holds must not be taken for the deck. */
function refuseOpenOutline(lost: Unused & { readonly box?: Box }, outlines: readonly Box[], gap: number): void {
  const b = lost.box
  if (!b || !outlines.some((o) => b.x0 < o.x0 && b.y0 < o.y0 && b.x1 > o.x1 && b.y1 > o.y1)) return
  throw new Refused(drawing.openAround(lost.why, lost.what, lost.where), drawing.closedOrGap(gap))
}

type Draw = (draft: Draft, scale: number, said: boolean) => void
type Read = { unit: { name: string; mm: number } | { said: string }; draw: Draw }

function dxf(text: string): Read {
  const file = dxfFile(text)
  return { unit: dxfUnit(file), draw: (draft, scale) => drawDxf(file, draft, scale) }
}

function svg(text: string): Read {
  const root = svgTree(text)
  return { unit: svgUnit(root), draw: (draft, scale, said) => drawSvg(root, draft, scale, said) }
}

const bad = (field: string, found: unknown, expected: string): Refused =>
  new Refused(String(found), expected, undefined, field)

/** Nobody can guess a unit, but the sizes help to know it. */
function askUnit(draw: Draw, options: DeckOptions, said: string): Refused {
  const draft = new Draft(0.01)
  draw(draft, 1, false)
  const { runs } = chosen(draft, options.layers)
  const boxes = runs.map((r) => boxOf(r.closed ? r.points : [...r.points, r.points.at(-1)!]))
  const span = (low: 'x0' | 'y0', high: 'x1' | 'y1'): number =>
    boxes.reduce((v, b) => Math.max(v, b[high]), -Infinity) - boxes.reduce((v, b) => Math.min(v, b[low]), Infinity)
  const [w, h] = [span('x0', 'x1'), span('y0', 'y1')]
  const units = boxes.length > 0 ? (['mm', 'cm', 'in', 'px'] as const) : []
  const sizes = units.map((unit) => ({ unit, width: short(w * UNITS[unit]), height: short(h * UNITS[unit]) }))
  return new Refused(said, drawing.sayUnit(sizes), undefined, 'unit')
}

const short = (v: number): number => Number(v.toPrecision(5))

function nothingClosed(file: string, runs: readonly Run[], unused: readonly Unused[]): DeckBroughtIn {
  const found = runs.length === 0 ? drawing.nothingToCut(unused.length) : drawing.nothingClosed(runs.length)
  const first: FileProblem = { file, path: '', found, expected: drawing.closedOutline }
  return { ok: false, problems: [first], unused: listed(unused) }
}

const left = (n: Nested, why: string): Unused => ({
  what: n.contour.where.what,
  where: whereText(n.contour.where),
  why,
})

function deckOf(
  id: string,
  outline: Nested,
  inner: readonly Nested[],
  [dx, dy]: readonly [number, number],
  options: DeckOptions,
  cutLayer: (n: Nested['contour']['where']) => boolean,
): ProjectDeck {
  const openings: NonNullable<ProjectDeck['openings']> = []
  const holes: NonNullable<ProjectDeck['holes']> = []
  for (const { contour } of inner) {
    const round = circleOf(contour.points)
    // A template of ours says which circles are cut and which are drilled.
    const hole = round && !cutLayer(contour.where) && 2 * round.r <= (options.holesUpTo ?? Number.POSITIVE_INFINITY)
    if (hole) {
      const at: [number, number] = [digits(round.cx + dx), digits(round.cy + dy)]
      holes.push({ id: `hole-${holes.length + 1}`, at, diameter: digits(2 * round.r) })
    } else openings.push({ id: `opening-${openings.length + 1}`, shape: shapeOf(contour.points, dx, dy) })
  }
  return {
    id,
    z: options.z ?? 0,
    thickness: options.thickness ?? 3,
    outline: shapeOf(outline.contour.points, dx, dy),
    ...(openings.length > 0 ? { openings } : {}),
    ...(holes.length > 0 ? { holes } : {}),
  }
}

/** The reader of project files has the last word: what it would refuse is refused here. */
function refusedByModel(decks: ProjectDeck[], file: string, hint: string): FileProblem[] {
  const project: Project = {
    format: 'deckwright-project',
    version: 1,
    units: 'mm',
    name: 'deck brought in',
    decks,
    items: [],
  }
  const read = readProject(JSON.stringify(project), file, new Map())
  if (read.ok) return []
  return read.problems.map(({ path, found, expected }) => ({
    file,
    path,
    found: clip(found),
    expected: `${expected} (${hint})`,
  }))
}
