/**
 * Which kinds of terminals may be one conductor, and why. All of it common practice, no source: it follows from what drives a line and
 * what listens on it. What is not listed is refused.
 */
import type { TerminalKind } from '../../solver/index.ts'

export interface KindRule {
  readonly kinds: readonly [TerminalKind, TerminalKind]
  readonly why: string
}

const rule = (a: TerminalKind, b: TerminalKind, why: string): KindRule => ({ kinds: [a, b], why })

export const ALLOWED: readonly KindRule[] = [
  rule('supply-out', 'supply-in', 'a supply feeds a load, where the voltages agree'),
  rule('supply-out', 'logic-in', 'a supply feeds logic, where the voltages agree'),
  rule('logic-out', 'logic-in', 'a regulated output feeds logic, where the voltages agree'),
  rule('logic-out', 'supply-in', 'a regulated output feeds a small load, where the voltages agree'),
  rule('supply-in', 'supply-in', 'several loads share a supply'),
  rule('supply-in', 'logic-in', 'several loads share a supply'),
  rule('logic-in', 'logic-in', 'several loads share a supply'),
  rule('return', 'return', 'all returns meet'),
  rule('serial-out', 'serial-in', 'one talks, one or more listen'),
  rule('serial-in', 'serial-in', 'more than one may listen'),
  rule('bus-data', 'bus-data', 'the parts of a bus share its lines'),
  rule('bus-clock', 'bus-clock', 'the parts of a bus share its lines'),
  rule('digital', 'digital', 'the program says which end drives'),
  rule('digital', 'servo-signal', 'the program times the pulses'),
  rule('digital', 'reset', 'a pin may hold another part in reset'),
  rule('digital', 'serial-in', 'the program sends the bits itself'),
  rule('digital', 'serial-out', 'the program reads the bits itself'),
  rule('digital', 'logic-in', 'a pin feeds a very small load; look at what it may give'),
  rule('servo-signal', 'servo-signal', 'two servos may follow one signal'),
  rule('analog-out', 'analog-in', 'a voltage to be measured'),
  rule('motor-pair', 'motor-pair', 'one wire of a motor to one side of its driver'),
  rule('reset', 'reset', 'one button resets them all'),
]

const REFUSED: readonly KindRule[] = [
  rule('supply-out', 'supply-out', 'supplies that meet drive current into each other'),
  rule('supply-out', 'logic-out', 'supplies that meet drive current into each other'),
  rule('logic-out', 'logic-out', 'regulators that meet drive current into each other'),
  rule('serial-out', 'serial-out', 'two outputs would drive one line; cross them: out goes to in'),
  rule('supply-out', 'return', 'that is a short circuit'),
  rule('logic-out', 'return', 'that is a short circuit'),
  rule('motor-pair', 'digital', 'a pin cannot carry a motor, whose currents and sparks would destroy it'),
]

const has = ({ kinds: [x, y] }: KindRule, a: TerminalKind, b: TerminalKind): boolean =>
  (x === a && y === b) || (x === b && y === a)

/** Nothing where the two may be joined; else why not. `passive` (switches, screw blocks, headers) goes with everything. */
export function refused(a: TerminalKind, b: TerminalKind): string | undefined {
  if (a === 'passive' || b === 'passive' || ALLOWED.some((r) => has(r, a, b))) return undefined
  return REFUSED.find((r) => has(r, a, b))?.why ?? `nothing lets ${one(a)} and ${one(b)} share a wire`
}

/** `a digital`, `an analog-out`. */
export const one = (kind: TerminalKind): string => `${/^[aeiou]/.test(kind) ? 'an' : 'a'} ${kind}`

export const GIVES: readonly TerminalKind[] = ['supply-out', 'logic-out']
export const TAKES: readonly TerminalKind[] = ['supply-in', 'logic-in']
/** Kinds that are no signal. */
export const POWER: readonly TerminalKind[] = [...GIVES, ...TAKES, 'return']
