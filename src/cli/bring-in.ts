/** Drawings into project files: a deck from DXF or SVG, a board's footprint from its fabrication files. */
import { shapeToSolver } from '../../footprints/fields.ts'
import { loadLibrary } from '../../footprints/load.ts'
import { formatProblem, snippet } from '../../footprints/problems.ts'
import { bounds, prepare, toMm } from '../../solver/index.ts'
import { bringInDeck, type DeckOptions, isUnit, UNITS_ASKED, type Unit } from '../bring-in/index.ts'
import { type Project, type ProjectDeck, readProject, writeProject } from '../model/index.ts'
import { type Form, type Given, readArgs } from './args.ts'
import { BadInput, together } from './bad-input.ts'
import { boardFrom, reportLines } from './bring-in-words.ts'
import { bytesOf, nameOf, projectFrom, taken } from './input.ts'
import { type Io, warner } from './io.ts'
import { checkWritable, writeWhole } from './output.ts'

export const form: Form = {
  command: 'bring-in',
  about:
    'Makes a deck from a drawing (DXF or SVG), or a footprint from the files of a circuit board (IDF; Gerber outline and drill\nfiles), and prints it as JSON. What was closed, flattened, assumed or left out is told on stderr.\nExit code 0: done; 2: bad input.',
  operands: ['DRAWING'],
  options: {
    into: { value: 'PROJECT', about: 'print this project file with the deck or footprint in it' },
    deck: { value: 'ID', about: 'id of the deck; one that the project has keeps its place, height and name' },
    outline: { value: 'N', about: 'only the n-th outline of several side by side, from left to right' },
    layer: { value: 'NAME', many: true, about: 'only this layer, or group of that name' },
    unit: {
      value: 'UNIT',
      about: `what one unit of the drawing is, whatever the file says: ${UNITS_ASKED.join(', ')}`,
    },
    tolerance: { value: 'MM', about: 'how far a flattened curve may be off; default 0.01' },
    gap: { value: 'MM', about: 'how far apart line ends may be and still be joined; default 0.1' },
    z: { value: 'MM', about: 'height of the deck, default 0' },
    thickness: { value: 'MM', about: 'default 3' },
    'holes-up-to': {
      value: 'MM',
      about: 'circles up to this diameter are holes, larger ones openings; default all holes',
    },
    'as-drawn': { about: 'keep the coordinates of the drawing; without it the lower left corner goes to 0,0' },
    board: { value: 'ID', about: 'DRAWING is a circuit board; id of its footprint' },
    with: { value: 'F', many: true, about: 'a further file of the board: drill file, parts library' },
    height: { value: 'MM', about: 'of the board with its parts on both faces' },
    out: { value: 'F', about: 'the file to write instead of standard output' },
  },
}

/** `bring-in DRAWING`: 0 done. */
export async function run(args: readonly string[], io: Io): Promise<number> {
  const given = readArgs(form, args)
  const file = given.operands[0]!
  const into = given.text('into')
  const board = given.text('board')
  if (file === '-' && into === '-') throw new BadInput(['found - twice, expected it once: there is one standard input'])
  refuseMixed(given, board !== undefined)
  const out = given.text('out')
  // The project itself may be written over: it is read whole before.
  if (out !== undefined) checkWritable('--out', out, [file, ...given.texts('with')])
  const [project, bytes] = together(
    () => (into === undefined ? undefined : projectFrom(into, warner(io, false))),
    () => bytesOf(file),
  )
  const value =
    board === undefined ? deckFrom(given, file, bytes, project, io) : boardFrom(given, board, file, bytes, project, io)
  const text = project ? checked(value as Project, into!, io) : `${JSON.stringify(value, null, 2)}\n`
  if (out === undefined) io.out(text)
  else writeWhole([{ file: out, text }])
  return 0
}

const ONLY_DECK = ['deck', 'outline', 'layer', 'tolerance', 'gap', 'z', 'thickness', 'holes-up-to', 'as-drawn']
const ONLY_BOARD = ['with', 'height']

function refuseMixed(given: Given, board: boolean): void {
  const wrong = (board ? ONLY_DECK : ONLY_BOARD).filter((o) => given.has(o))
  if (wrong.length === 0) return
  const why = board ? 'which is for a deck, expected it without --board' : 'expected --board ID with it'
  throw new BadInput(wrong.map((o) => `--${o}: found it, ${why}`))
}

export function unitOf(given: Given): Unit | undefined {
  const unit = given.text('unit')
  if (unit === undefined || isUnit(unit)) return unit
  throw new BadInput([`--unit: found ${snippet(unit)}, expected one of ${UNITS_ASKED.join(', ')}`])
}

/** The deck or decks, or the project with the one deck in it. */
function deckFrom(given: Given, file: string, bytes: Uint8Array, project: Project | undefined, io: Io): unknown {
  const id = given.text('deck')
  if (project && id === undefined) {
    const ids = project.decks.map((d) => d.id).join(', ')
    throw new BadInput([`--deck: found nothing, expected one of ${ids}, or the id of a new deck`])
  }
  const old = project?.decks.find((d) => d.id === id)
  const got = bringInDeck(bytes, nameOf(file), { ...optionsOf(given, old), ...(id === undefined ? {} : { id }) })
  if (!got.ok) {
    const left = got.unused.slice(0, 20).map((u) => `  not used: ${u.what} (${u.where}): ${u.why}`)
    throw new BadInput([...got.problems.map(formatProblem), ...left])
  }
  for (const line of reportLines(nameOf(file), got)) io.err(line)
  if (!project) return got.decks.length === 1 ? got.decks[0] : got.decks
  if (got.decks.length > 1) {
    throw new BadInput([
      `--outline: found nothing, expected a number from 1 to ${got.decks.length}: so many lie side by side`,
    ])
  }
  const own = (project.variants ?? []).filter((v) => id !== undefined && v.decks?.[id]?.outline !== undefined)
  if (own.length > 0) {
    io.err(
      `warning: ${own.map((v) => `variant ${snippet(v.id)}`).join(', ')} still gives this deck an outline of its own`,
    )
  }
  return { ...project, decks: merged(project.decks, old, got.decks[0]!) }
}

/** In place of the old deck, with its other fields; or behind all. */
function merged(decks: readonly ProjectDeck[], old: ProjectDeck | undefined, made: ProjectDeck): ProjectDeck[] {
  if (!old) return [...decks, made]
  const { openings: _, holes: __, ...rest } = old
  return decks.map((d) => (d === old ? { ...rest, ...made } : d))
}

function optionsOf(given: Given, old: ProjectDeck | undefined): DeckOptions {
  const [unit, tolerance, gap, outline, z, thickness, holesUpTo] = together(
    () => unitOf(given),
    () => given.number('tolerance', 'a length in mm', 0.001, 1),
    () => given.number('gap', 'a length in mm', 0, 5),
    () => given.number('outline', 'a whole number', 1, 50, true),
    () => given.number('z', 'a height in mm', -10_000, 10_000),
    () => given.number('thickness', 'a length in mm', 0.001, 10_000),
    () => given.number('holes-up-to', 'a diameter in mm', 0, 10_000),
  )
  // A deck that is there already keeps its corner, so that what stands on it stays where it is.
  const box = old && bounds(prepare(shapeToSolver(old.outline)))
  const layers = given.texts('layer')
  const kept: { -readonly [K in keyof DeckOptions]: DeckOptions[K] } = {}
  if (unit !== undefined) kept.unit = unit
  if (tolerance !== undefined) kept.tolerance = tolerance
  if (gap !== undefined) kept.gap = gap
  if (outline !== undefined) kept.outline = outline
  if (holesUpTo !== undefined) kept.holesUpTo = holesUpTo
  if (layers.length > 0) kept.layers = layers
  const height = z ?? old?.z
  const thick = thickness ?? old?.thickness
  if (height !== undefined) kept.z = height
  if (thick !== undefined) kept.thickness = thick
  if (given.has('as-drawn')) kept.corner = 'as-drawn'
  else if (box) kept.corner = [toMm(box.x), toMm(box.y)]
  return kept
}

/** The project's text, read back as any other would be before it is handed out. */
function checked(project: Project, into: string, io: Io): string {
  const text = writeProject(project)
  taken(readProject(text, `${nameOf(into)} with what was brought in`, loadLibrary()), warner(io, false))
  return text
}
