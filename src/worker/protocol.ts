/** What goes over the port between a page and a solver: tagged messages with ids; errors are values. */
import type { Placement, Problem, Progress, SolveOptions, SolveResult } from '../../solver/index.ts'

/** The part of the options that can be sent: no functions, no signal. */
export type SentOptions = Omit<SolveOptions, 'signal' | 'onProgress'>

export interface Ask {
  readonly kind: 'solve'
  readonly id: number
  readonly problem: Problem
  readonly options: SentOptions
  /** `Date.now()` of the asking: what passes until the solver begins is taken from the time. */
  readonly at: number
  /** Where threads share memory: 1 in its first place = end with the best so far. */
  readonly flag?: Int32Array
}

/** Ends what is running, with the best so far; heard between two slices. */
export interface Stop {
  readonly kind: 'stop'
  readonly id: number
}

export type Say =
  | { readonly kind: 'progress'; readonly id: number; readonly progress: Progress }
  | { readonly kind: 'done'; readonly id: number; readonly result: SolveResult }
  | { readonly kind: 'failed'; readonly id: number; readonly error: string }

/** How a solve came to its end. A cancelled one hands over the best layout so far, if any, and what is known of it. */
export type Outcome =
  | { readonly kind: 'done'; readonly result: SolveResult }
  | { readonly kind: 'cancelled'; readonly result: SolveResult; readonly best?: readonly Placement[] }
  | { readonly kind: 'failed'; readonly error: string }

/** One end of the line to one solver. `end` stops it for good, in the middle of a solve too. */
export interface Line {
  readonly ask: (ask: Ask) => void
  /** Asks it to end what it is at, soon, and to stay. */
  readonly stop: (id: number) => void
  readonly end: () => void
}

/** Opens a line; `hear` gets every message, `broken` a sentence when the solver's thread died. */
export type OpenLine = (hear: (say: Say) => void, broken: (error: string) => void) => Line

export const errorText = (error: unknown): string => (error instanceof Error ? error.message : String(error))
