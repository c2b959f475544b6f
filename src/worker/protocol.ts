/** What goes over the port between a page and a solver: tagged messages with ids; errors are values. */
import type {
  ConflictMember,
  DifferentResult,
  Hold,
  Loosenings,
  Placement,
  Problem,
  Progress,
  SolveOptions,
  SolveResult,
} from '../../solver/index.ts'
import type { Rules } from './rules.ts'

/** The part of the options that can be sent: no functions, no signal. Rules of whole layouts go as plain data beside them. */
export type SentOptions = Omit<SolveOptions, 'signal' | 'onProgress' | 'lazy'>

interface Asked {
  readonly id: number
  readonly problem: Problem
  /** `Date.now()` of the asking: what passes until the solver begins is taken from the time. */
  readonly at: number
  /** Where threads share memory: 1 in its first place = end with the best so far. */
  readonly flag?: Int32Array
}

export interface SolveAsk extends Asked {
  readonly kind: 'solve'
  readonly options: SentOptions
  readonly rules?: Rules
}

/** What a what-if may be told. */
export interface WhatIf {
  /** Milliseconds. */
  readonly time?: number
  readonly pins?: readonly Hold[]
}

/** What would make it fit; the conflict is one of this problem with these pins. */
export interface LoosenAsk extends Asked {
  readonly kind: 'loosen'
  readonly conflict: readonly ConflictMember[]
  readonly options: WhatIf
}

/** Further layouts with the figures of the best. */
export interface EqualAsk extends Asked {
  readonly kind: 'equal'
  readonly count: number
  readonly options: WhatIf & { readonly hint?: readonly Placement[] }
  readonly rules?: Rules
}

/** Where the others would go. The thread keeps the session of the last problem; `problem` is sent when it changes. */
export interface DragAsk {
  readonly kind: 'drag'
  readonly id: number
  readonly problem?: Problem
  readonly holds: readonly Hold[]
  readonly hint: readonly Placement[]
}

export type Ask = SolveAsk | LoosenAsk | EqualAsk | DragAsk

/** A question without its id and time. */
export type Question = Omit<LoosenAsk, 'id' | 'at' | 'flag'> | Omit<EqualAsk, 'id' | 'at' | 'flag'>

export interface Answers {
  readonly loosen: Loosenings
  readonly equal: DifferentResult
}

/** Ends what is running, with the best so far; heard between two slices. */
export interface Stop {
  readonly kind: 'stop'
  readonly id: number
}

export type Say =
  | { readonly kind: 'progress'; readonly id: number; readonly progress: Progress }
  /** `short`: why leads are too short in the layout handed out, though routes were asked for. */
  | { readonly kind: 'done'; readonly id: number; readonly result: SolveResult; readonly short?: readonly string[] }
  | { readonly kind: 'answered'; readonly id: number; readonly answer: Answers[keyof Answers] }
  | { readonly kind: 'dragged'; readonly id: number; readonly placements?: readonly Placement[] }
  | { readonly kind: 'failed'; readonly id: number; readonly error: string }

/** How a solve came to its end. A cancelled one hands over the best layout so far, if any, and what is known of it. */
export type Outcome =
  | { readonly kind: 'done'; readonly result: SolveResult; readonly short?: readonly string[] }
  | {
      readonly kind: 'cancelled'
      readonly result: SolveResult
      readonly best?: readonly Placement[]
      readonly short?: readonly string[]
    }
  | { readonly kind: 'failed'; readonly error: string }

/** How a question came to its end. A cancelled one may hand over what was known by then. */
export type Reply<A> =
  | { readonly kind: 'done'; readonly answer: A }
  | { readonly kind: 'cancelled'; readonly answer?: A }
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
