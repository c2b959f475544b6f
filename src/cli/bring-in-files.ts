/** `bring-in`, once its command line is read: which reader takes the file, and where the result goes. */
import { shapeToSolver } from '../../footprints/fields.ts'
import { formatProblem, snippet } from '../../footprints/problems.ts'
import { bounds, prepare, toMm } from '../../solver/index.ts'
import { bringInDeck, type DeckOptions, isUnit, UNITS_ASKED, type Unit } from '../bring-in/index.ts'
import type { Project, ProjectDeck } from '../model/index.ts'
import type { Given } from './args.ts'
import { BadInput, together } from './bad-input.ts'
import { measuredFrom, merged } from './bring-in-measures.ts'
import { boardAsked, boardFrom, reportLines } from './bring-in-words.ts'
import { bytesOf, inputOnce, nameOf, projectFrom, projectText } from './input.ts'
import { type Io, warner } from './io.ts'
import { checkWritable, writeWhole } from './output.ts'

/** `bring-in DRAWING`, once its command line is read: 0 done. Throws BadInput. */
export function bringIn(given: Given, io: Io): number {
  const file = given.operands[0]!
  const into = given.text('into')
  const more = given.texts('with')
  inputOnce([file, into, ...more])
  const out = given.text('out') === '-' ? undefined : given.text('out')
  const [, asked, board, project, bytes, others] = together(
    () => refuseMixed(given),
    () => deckAsked(given),
    () => boardAsked(given),
    () => (into === undefined ? undefined : projectFrom(into, warner(io, false))),
    () => bytesOf(file),
    () => together(...more.map((f) => () => ({ name: nameOf(f), bytes: bytesOf(f) }))),
    // The project itself may be written over: it is read whole before.
    () => out !== undefined && checkWritable('--out', out, [file, ...more]),
  )
  const value = given.has('measures')
    ? measuredFrom(file, bytes, project, io)
    : board === undefined
      ? deckFrom(given, asked, file, bytes, project, io)
      : boardFrom(board, [{ name: nameOf(file), bytes }, ...others], project, io)
  const text = project ? projectText(value as Project, into!, warner(io, false)) : `${JSON.stringify(value, null, 2)}\n`
  if (out === undefined) io.out(text)
  else writeWhole([{ file: out, text }])
  return 0
}

const ONLY_DECK = ['deck', 'outline', 'layer', 'tolerance', 'gap', 'z', 'thickness', 'holes-up-to', 'as-drawn']
const ONLY_BOARD = ['with', 'height', 'zeros', 'digits']

function refuseMixed(given: Given): void {
  const measures = given.has('measures')
  if (measures && given.has('board'))
    throw new BadInput(['--measures: found together with --board, expected one of them'])
  const refused = measures ? [...ONLY_DECK, ...ONLY_BOARD, 'unit'] : given.has('board') ? ONLY_DECK : ONLY_BOARD
  const wrong = refused.filter((o) => given.has(o))
  if (wrong.length === 0) return
  const why = measures
    ? 'which is for drawings, expected it without --measures: the file says it all'
    : given.has('board')
      ? 'which is for a deck, expected it without --board'
      : 'expected --board ID with it'
  throw new BadInput(wrong.map((o) => `--${o}: found it, ${why}`))
}

function unitOf(given: Given): Unit | undefined {
  const unit = given.text('unit')
  if (unit === undefined || isUnit(unit)) return unit
  throw new BadInput([`--unit: found ${snippet(unit)}, expected one of ${UNITS_ASKED.join(', ')}`])
}

/** The deck or decks, or the project with the one deck in it. */
function deckFrom(
  given: Given,
  asked: DeckAsked,
  file: string,
  bytes: Uint8Array,
  project: Project | undefined,
  io: Io,
): unknown {
  const id = given.text('deck')
  if (project && id === undefined) {
    const ids = project.decks.map((d) => d.id).join(', ')
    throw new BadInput([`--deck: found nothing, expected one of ${ids}, or the id of a new deck`])
  }
  const old = project?.decks.find((d) => d.id === id)
  const got = bringInDeck(bytes, nameOf(file), { ...optionsOf(given, asked, old), ...(id === undefined ? {} : { id }) })
  if (!got.ok) {
    const left = got.unused.slice(0, 20).map((u) => `  not used: ${u.what} (${u.where}): ${u.why}`)
    const hint = bytes[0] === 0x7b ? ['a file of measures is read with --measures'] : []
    throw new BadInput([...got.problems.map(formatProblem), ...left, ...hint])
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

type DeckAsked = ReturnType<typeof deckAsked>

/** The numbers for a deck; a board has units of its own. Throws BadInput. */
function deckAsked(given: Given) {
  return together(
    () => (given.has('board') ? undefined : unitOf(given)),
    () => given.number('tolerance', 'a length in mm', 0.001, 1),
    () => given.number('gap', 'a length in mm', 0, 5),
    () => given.number('outline', 'a whole number', 1, 50, true),
    () => given.number('z', 'a height in mm', -10_000, 10_000),
    () => given.number('thickness', 'a length in mm', 0.001, 10_000),
    () => given.number('holes-up-to', 'a diameter in mm', 0, 10_000),
  )
}

function optionsOf(given: Given, asked: DeckAsked, old: ProjectDeck | undefined): DeckOptions {
  const [unit, tolerance, gap, outline, z, thickness, holesUpTo] = asked
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
