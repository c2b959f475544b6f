/** What is told about a drawing brought in, and the half of the command that brings in boards. */
import { type FileProblem, formatProblem } from '../../footprints/problems.ts'
import { bringInBoard } from '../bring-in/board.ts'
import type { DrillAnswers } from '../bring-in/excellon-number.ts'
import type { DeckBroughtIn } from '../bring-in/index.ts'
import type { Project, ProjectDeck } from '../model/index.ts'
import type { Given } from './args.ts'
import { BadInput, together } from './bad-input.ts'
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

/** What is asked for a board, undefined where there is none. */
export type BoardAsked = NonNullable<ReturnType<typeof boardAsked>>

/** Throws BadInput. */
export function boardAsked(given: Given) {
  const id = given.text('board')
  const [height, answers] = together(
    () => given.number('height', 'a height in mm', 0.001, 10_000),
    () => (id === undefined ? undefined : answersOf(given)),
  )
  return id === undefined ? undefined : { id, height, answers: answers! }
}

/** The footprint, or the project with it among its own. Throws BadInput. */
export function boardFrom(
  asked: BoardAsked,
  files: readonly { readonly name: string; readonly bytes: Uint8Array }[],
  project: Project | undefined,
  io: Io,
): unknown {
  const decode = (b: Uint8Array): string => new TextDecoder('utf-8').decode(b)
  const texts = files.map(({ name, bytes }) => ({ name, text: decode(bytes) }))
  const got = bringInBoard(texts, asked)
  if (!got.ok) throw new BadInput(got.problems.map(boardProblem))
  for (const line of got.report.assumptions) io.err(`assumed: ${line}`)
  for (const line of got.report.unused) io.err(`not used: ${line}`)
  if (!project) return got.footprint
  const others = (project.footprints ?? []).filter((f) => f.id !== got.footprint.id)
  return { ...project, footprints: [...others, got.footprint] }
}

/** What the files do not say of their numbers. Throws BadInput. */
function answersOf(given: Given): DrillAnswers {
  const one = <T>(option: string, forms: ReadonlyMap<string, T>): T | undefined => {
    const text = given.text(option)
    if (text === undefined || forms.has(text)) return forms.get(text ?? '')
    throw new BadInput([
      `--${option}: found ${JSON.stringify(text)}, expected ${[...forms.keys()].join(' or ')} for a board`,
    ])
  }
  const [units, suppressed, digits] = together(
    () => one('unit', new Map([['mm', 'mm'] as const, ['in', 'inch'] as const])),
    () => one('zeros', new Map([['leading', 'leading'] as const, ['trailing', 'trailing'] as const])),
    () => {
      const text = given.text('digits')
      const [, whole, part] = /^([0-9]),([0-9])$/.exec(text ?? '') ?? []
      if (text !== undefined && whole === undefined)
        throw new BadInput([`--digits: found ${JSON.stringify(text)}, expected N,M like 3,3 or 2,4`])
      return whole === undefined ? undefined : ([Number(whole), Number(part)] as const)
    },
  )
  return { units, suppressed, digits }
}

/** The option by which what is asked can be said. */
const ASKED_BY: Readonly<Record<string, string>> = {
  id: 'board',
  height: 'height',
  units: 'unit',
  MO: 'unit',
  suppressed: 'zeros',
  digits: 'digits',
}

function boardProblem(p: FileProblem): string {
  const option = ASKED_BY[p.path]
  if (p.file !== '') return option ? `${formatProblem(p)}, with --${option}` : formatProblem(p)
  return `${option ? `--${option}` : p.path || 'board'}: found ${p.found}, expected ${p.expected}`
}
