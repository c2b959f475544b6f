/** Screws through board, stand-off and deck, with a washer and a nut under it. */
import { type Footprint, type MountHole, toMm, type Um, um } from '../../solver/index.ts'
import {
  CLEARANCE,
  fitOf,
  LENGTHS,
  lengthFor,
  NUT,
  PITCH,
  SCREW,
  SERIES,
  THREADS,
  type Thread,
  threadOf,
  WASHER,
} from './hardware-data.ts'
import { hardware as words } from './words-tables.ts'

/** One line of the hardware list without its count. */
export interface Pieces {
  readonly kind: 'screw' | 'washer' | 'nut' | 'stand-off' | 'strap' | 'adhesive' | 'drop-in'
  readonly what: string
  readonly standard: string
  /** Empty where the footprint states none. */
  readonly thread: string
  /** mm; null where it does not apply or cannot be told. */
  readonly length: number | null
  readonly unit: 'pieces' | 'cm²'
  readonly note: string
}

export interface Part {
  readonly piece: Pieces
  readonly amount: number
}

/** Common practice, no source: printed boards (what has stand-offs) are 1.6 mm thick; feet, flanges and brackets about 2 mm. */
const BOARD = 1600 as Um
const FOOT = 2000 as Um

/** What is under one screw's head, mm. */
interface Stack {
  readonly words: string
  readonly sum: number
}

/**
 * The pieces for a part's holes. The screw comes from above through board or foot, stand-off and deck, into washer and nut, and shows
 * one pitch of thread beyond the nut (common practice, no source); its length is rounded up to the next of ISO 888.
 */
export function screwsOf(f: Footprint, holes: readonly MountHole[], standoff: Um, deck: Um): Part[] {
  const stack = stackOf(f, standoff, deck)
  return holes.flatMap((hole): Part[] => {
    const thread = threadOf(hole.screw)
    const parts = thread ? knownThread(thread, hole, stack) : [unknownThread(hole, stack)]
    if (standoff > 0) parts.push(standoffOf(standoff, hole.screw ?? ''))
    return parts.map((piece) => ({ piece, amount: 1 }))
  })
}

function stackOf(f: Footprint, standoff: Um, deck: Um): Stack {
  // What sits right on the deck stands on a foot or a bracket: a bare board would lie on its joints.
  const board = standoff > 0 && (f.kind === 'board' || f.kind === 'sensor' || f.kind === 'part')
  const own = board ? BOARD : FOOT
  const stack = words.stack({ board, thickness: toMm(own) }, toMm(standoff), toMm(deck))
  return { words: stack, sum: toMm(um(own + standoff + deck)) }
}

function knownThread(thread: Thread, hole: MountHole, stack: Stack): Pieces[] {
  const least = stack.sum + WASHER[thread].thickness + NUT[thread].height + PITCH[thread]
  const length = lengthFor(least) ?? null
  const [shortest, longest] = SCREW.lengths[thread]
  const fits = length === null || length > longest ? undefined : Math.max(length, shortest)
  const notes = [words.through(stack.words)]
  if (fits === undefined) notes.push(words.tooLong(least, longest, SCREW.standard, thread))
  if (hole.land > 0 && toMm(hole.land) < SCREW.head[thread])
    notes.push(words.headOverLand(SCREW.head[thread], toMm(hole.land)))
  const washer = WASHER[thread]
  const tight = hole.land > 0 && toMm(hole.land) < washer.diameter
  const piece = (p: Pick<Pieces, 'kind' | 'what' | 'standard' | 'length' | 'note'>): Pieces => ({
    ...p,
    thread,
    unit: 'pieces',
  })
  const name = words.screw(thread, fits, SCREW.name)
  return [
    piece({ kind: 'screw', what: name, standard: SCREW.standard, length: fits ?? null, note: words.notes(notes) }),
    piece({
      kind: 'washer',
      what: words.washer(thread, washer.diameter),
      standard: 'ISO 7089',
      length: null,
      note: tight ? words.washerOverLand(toMm(hole.land)) : '',
    }),
    piece({
      kind: 'nut',
      what: words.nut(thread, NUT[thread].flats),
      standard: 'ISO 4032',
      length: null,
      note: '',
    }),
  ]
}

/** Without a thread, or with one that the standards' tables here do not have. The thinnest washer and nut that could be meant are not guessed. */
function unknownThread(hole: MountHole, stack: Stack): Pieces {
  const stated = hole.screw !== undefined
  const what = stated ? words.unknownScrew(hole.screw) : words.unstatedScrew
  const least = LENGTHS.find((l) => l > stack.sum)
  const hint = stated ? words.noData(hole.screw) : suggestion(toMm(hole.diameter))
  const note = words.longerThan(hint, stack.sum, least !== undefined, stack.words)
  return { kind: 'screw', what, standard: '', thread: hole.screw ?? '', length: null, unit: 'pieces', note }
}

/** Which thread a clearance hole is for, by ISO 273. */
function suggestion(diameter: number): string {
  const fit = fitOf(diameter)
  if (fit) return words.holeIs(diameter, fit.series, fit.thread)
  const thread = [...THREADS].reverse().find((t) => CLEARANCE[t].fine <= diameter)
  if (!thread) return words.holeNarrow(diameter)
  const sizes = SERIES.map((series) => ({ series, size: CLEARANCE[thread][series] }))
  if (diameter <= CLEARANCE[thread].coarse) return words.holeTakes(diameter, thread, sizes)
  if (thread === 'M5') return words.holeWide(diameter)
  return words.holeLoose(diameter, thread, sizes)
}

const standoffOf = (height: Um, thread: string): Pieces => ({
  kind: 'stand-off',
  what: words.standoff(toMm(height), thread),
  standard: '',
  thread,
  length: toMm(height),
  unit: 'pieces',
  note: words.standoffNote,
})
