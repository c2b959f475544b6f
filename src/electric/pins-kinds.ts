/**
 * Which kinds of terminals may be one conductor, and why. All of it common practice, no source: it follows from what drives a line and
 * what listens on it. What is not listed is refused.
 */
import type { TerminalKind } from '../../solver/index.ts'
import { refusal } from './words.ts'

export interface KindPair {
  readonly kinds: readonly [TerminalKind, TerminalKind]
}

const pair = (a: TerminalKind, b: TerminalKind): KindPair => ({ kinds: [a, b] })

export const ALLOWED: readonly KindPair[] = [
  // a supply feeds a load, where the voltages agree
  pair('supply-out', 'supply-in'),
  // a supply feeds logic, where the voltages agree
  pair('supply-out', 'logic-in'),
  // a regulated output feeds logic, where the voltages agree
  pair('logic-out', 'logic-in'),
  // a regulated output feeds a small load, where the voltages agree
  pair('logic-out', 'supply-in'),
  // several loads share a supply
  pair('supply-in', 'supply-in'),
  pair('supply-in', 'logic-in'),
  pair('logic-in', 'logic-in'),
  // all returns meet
  pair('return', 'return'),
  // one talks, one or more listen
  pair('serial-out', 'serial-in'),
  // more than one may listen
  pair('serial-in', 'serial-in'),
  // the parts of a bus share its lines
  pair('bus-data', 'bus-data'),
  pair('bus-clock', 'bus-clock'),
  // the program says which end drives
  pair('digital', 'digital'),
  // the program times the pulses
  pair('digital', 'servo-signal'),
  // a pin may hold another part in reset
  pair('digital', 'reset'),
  // the program sends the bits itself
  pair('digital', 'serial-in'),
  // the program reads the bits itself
  pair('digital', 'serial-out'),
  // a pin feeds a very small load; look at what it may give
  pair('digital', 'logic-in'),
  // two servos may follow one signal
  pair('servo-signal', 'servo-signal'),
  // a voltage to be measured
  pair('analog-out', 'analog-in'),
  // one wire of a motor to one side of its driver
  pair('motor-pair', 'motor-pair'),
  // one button resets them all
  pair('reset', 'reset'),
]

interface Refused extends KindPair {
  readonly why: string
}

const never = (a: TerminalKind, b: TerminalKind, why: string): Refused => ({ kinds: [a, b], why })

const REFUSED: readonly Refused[] = [
  never('supply-out', 'supply-out', refusal.supplies),
  never('supply-out', 'logic-out', refusal.supplies),
  never('logic-out', 'logic-out', refusal.regulators),
  never('serial-out', 'serial-out', refusal.outputs),
  never('supply-out', 'return', refusal.short),
  never('logic-out', 'return', refusal.short),
  never('motor-pair', 'digital', refusal.motor),
]

const has = ({ kinds: [x, y] }: KindPair, a: TerminalKind, b: TerminalKind): boolean =>
  (x === a && y === b) || (x === b && y === a)

/** Nothing where the two may be joined; else why not. `passive` (switches, screw blocks, headers) goes with everything. */
export function refused(a: TerminalKind, b: TerminalKind): string | undefined {
  if (a === 'passive' || b === 'passive' || ALLOWED.some((r) => has(r, a, b))) return undefined
  return REFUSED.find((r) => has(r, a, b))?.why ?? refusal.unknown(a, b)
}

export const GIVES: readonly TerminalKind[] = ['supply-out', 'logic-out']
export const TAKES: readonly TerminalKind[] = ['supply-in', 'logic-in']
/** Kinds that are no signal. */
export const POWER: readonly TerminalKind[] = [...GIVES, ...TAKES, 'return']
