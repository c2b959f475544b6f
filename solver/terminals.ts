/** What terminals and pins carry, and which of them belong together. No rule reads it: it stands here for src/electric. */

export const TERMINAL_KINDS = [
  'supply-out',
  'supply-in',
  'logic-out',
  'logic-in',
  'return',
  'serial-out',
  'serial-in',
  'bus-data',
  'bus-clock',
  'digital',
  'analog-out',
  'analog-in',
  'servo-signal',
  'motor-pair',
  'reset',
  'passive',
] as const
export type TerminalKind = (typeof TERMINAL_KINDS)[number]

/** What a terminal or a pin carries, where the footprint says it. */
export interface Carries {
  readonly kind?: TerminalKind
  /** What else a controller's pin can do. */
  readonly also?: readonly TerminalKind[]
  /** Lowest and highest volts that it gives or accepts. */
  readonly volts?: readonly [number, number]
  /** The controller is programmed over this pin. */
  readonly program?: boolean
  /** How many conductors end here (a pair of screws: 2); default 2 for a motor pair that is no pin, else 1. */
  readonly conductors?: number
  /** Terminals that name the same plug are its pins, side by side in their order (a servo's: signal, supply, return). */
  readonly plug?: string
}

/** `item`, `exit`: indices. `any`: whichever pin of the item can do that. */
export type NetEnd =
  | { readonly kind: 'exit'; readonly exit: number }
  | { readonly kind: 'terminal'; readonly item: number; readonly terminal: string }
  | { readonly kind: 'any'; readonly item: number; readonly any: TerminalKind }

/** Ends that are to be one conductor. */
export interface NetAsked {
  readonly id: string
  readonly ends: readonly NetEnd[]
  /** The item that opens this line. */
  readonly switch?: number
}
