/** What is told about a drawing brought in, and the half of the command that brings in boards. */
import { formatProblem } from '../../footprints/problems.ts'
import { bringInBoard } from '../bring-in/board.ts'
import type { DeckBroughtIn } from '../bring-in/index.ts'
import type { Project, ProjectDeck } from '../model/index.ts'
import type { Given } from './args.ts'
import { BadInput } from './bad-input.ts'
import { bytesOf, nameOf } from './input.ts'
import type { Io } from './io.ts'

/** Of each kind; the rest is counted. */
const MOST_LINES = 100

/** Lines for people, all that was done and all that was not. */
export function reportLines(file: string, got: Extract<DeckBroughtIn, { ok: true }>): string[] {
  const { report } = got
  const { unit } = report
  const told = unit.from === 'file' ? 'as the file says' : `as --unit says (the file: ${unit.fileSays})`
  const some = <T>(all: readonly T[], line: (one: T) => string): string[] => {
    const shown = all.slice(0, MOST_LINES).map(line)
    return all.length > shown.length ? [...shown, `  … and ${all.length - shown.length} more like the last`] : shown
  }
  return [
    `${file}: one unit of the drawing is ${Number(unit.mm.toPrecision(7))} mm, ${told}`,
    ...got.decks.map((d, i) => `${d.id}: ${deckWords(d)}; moved by (${report.moved[i]!.join(', ')}) mm`),
    ...some(
      report.closedGaps,
      (g) => `closed a gap of ${g.width} mm at (${g.at.join(', ')}) of the drawing, ${g.where}`,
    ),
    ...some(report.twice, (t) => `used once, though there twice: ${t.what} (${t.where})`),
    ...(report.tiny > 0 ? [`left out ${report.tiny} segments shorter than 0.001 mm`] : []),
    ...(report.flattened.count > 0
      ? [`${report.flattened.count} curves became short lines, at most ${report.flattened.tolerance} mm off`]
      : []),
    ...report.assumed.map((a) => `assumed: ${a}`),
    ...some(report.unused, (u) => `not used: ${u.what} (${u.where}): ${u.why}`),
  ]
}

function deckWords(d: ProjectDeck): string {
  const o = d.outline
  const outline =
    'rect' in o
      ? `a rectangle ${o.rect[2]} × ${o.rect[3]} mm${o.radius === undefined ? '' : ` with corners of ${o.radius} mm`}`
      : 'circle' in o
        ? `a circle of ${Math.round(o.circle[2] * 2000) / 1000} mm`
        : 'polygon' in o
          ? `an outline of ${o.polygon.length} corners`
          : 'a sector'
  return `${outline}, ${count(d.openings?.length ?? 0, 'opening')}, ${count(d.holes?.length ?? 0, 'hole')}`
}

const count = (n: number, what: string): string => `${n} ${what}${n === 1 ? '' : 's'}`

/** The footprint, or the project with it among its own. Throws BadInput. */
export function boardFrom(
  given: Given,
  id: string,
  file: string,
  bytes: Uint8Array,
  project: Project | undefined,
  io: Io,
): unknown {
  const height = given.number('height', 'a height in mm', 0.001, 10_000)
  const unit = given.text('unit')
  if (unit !== undefined && unit !== 'mm' && unit !== 'in') {
    throw new BadInput([`--unit: found ${JSON.stringify(unit)}, expected mm or in for a board`])
  }
  const decode = (b: Uint8Array): string => new TextDecoder('utf-8').decode(b)
  const files = [
    { name: nameOf(file), text: decode(bytes) },
    ...given.texts('with').map((f) => ({ name: nameOf(f), text: decode(bytesOf(f)) })),
  ]
  const units = unit === undefined ? {} : { answers: { units: unit === 'in' ? ('inch' as const) : ('mm' as const) } }
  const got = bringInBoard(files, { id, height, ...units })
  if (!got.ok) throw new BadInput(got.problems.map(formatProblem))
  for (const line of got.report.assumptions) io.err(`assumed: ${line}`)
  for (const line of got.report.unused) io.err(`not used: ${line}`)
  if (!project) return got.footprint
  const others = (project.footprints ?? []).filter((f) => f.id !== got.footprint.id)
  return { ...project, footprints: [...others, got.footprint] }
}
