/** What comes out: findings, and the union that a solve returns. */
import type { LazyRule } from './lazy.ts'
import type { ObjectiveName, Placement } from './problem.ts'
import type { Turn, Um } from './units.ts'

export type RuleId = 'R1' | 'R2' | 'R3' | 'R4' | 'R5' | 'R6' | 'R7' | 'R8' | 'R9' | 'R10'

/** One broken rule. `items` = ids of items, zones, wires, decks and exits; `by` = how much is short, in Um (0 where no length says it). */
export interface Finding {
  readonly rule: RuleId
  readonly items: readonly string[]
  readonly text: string
  readonly by: number
}

/** A member of an irreducible conflict. */
export interface ConflictMember {
  /** R1 … R10, or the name of a lazy rule. */
  readonly rule: string
  readonly items: readonly string[]
  readonly text: string
}

/** `value` and `bound`: contacts, value, holes to make, Um × conductors, Um. Proven = bound equals value (balance: to 10 Um). */
export interface ObjectiveValue {
  readonly name: ObjectiveName
  readonly value: number
  readonly bound: number
  readonly proven: boolean
}

/** `length` along R7, `cut` = length + loop. A wire with an end left out is not listed. */
export interface WireLength {
  readonly wire: number
  readonly length: Um
  readonly cut: Um
}

/** What a layout measures, worked out from the placements alone. */
export interface Figures {
  readonly freeTiePoints: number
  readonly optionalValue: number
  /** Holes, slots and cut-outs to make; none for items marked `later`. */
  readonly newHoles: number
  /** Σ length × conductors, Um. */
  readonly wireLength: number
  /** Um from the centre of gravity to the contact polygon's centroid; absent without chassis. */
  readonly balance?: number
  readonly wires: readonly WireLength[]
}

export interface Solved {
  readonly status: 'optimal' | 'feasible'
  readonly objectives: readonly ObjectiveValue[]
  readonly placements: readonly Placement[]
  readonly figures: Figures
}

export type SolveResult =
  | Solved
  | {
      readonly status: 'infeasible'
      readonly conflict: readonly ConflictMember[]
      readonly conflictIrreducible: boolean
    }
  | { readonly status: 'unknown' }

/** What a running search says: every improvement, and each time a bound moves. */
export interface Progress {
  readonly phase: ObjectiveName | 'legal' | 'moves'
  readonly value?: number
  readonly bound?: number
  readonly steps: number
  /** Only with a new best layout. */
  readonly placements?: readonly Placement[]
}

export interface Hold {
  readonly item: number
  readonly deck: number
  readonly at: { readonly x: Um; readonly y: Um }
  readonly turn: Turn
}

export interface SolveOptions {
  /** Milliseconds from now; default none. */
  readonly time?: number
  /** Search steps (conflicts and decisions); default none. */
  readonly steps?: number
  /** Items held where they are. */
  readonly pins?: readonly Hold[]
  /** A layout to start from; need not be legal. */
  readonly hint?: readonly Placement[]
  /** With `hint`: first move as few of its items as possible, then as little as possible, instead of the project's objective. */
  readonly keep?: boolean
  /** False: where nothing fits it is not asked why, and `conflict` stays empty. Default true. */
  readonly explain?: boolean
  /** Rules asked of whole layouts only. */
  readonly lazy?: readonly LazyRule[]
  /** Set `aborted` to stop with the best so far. */
  readonly signal?: { readonly aborted: boolean }
  readonly onProgress?: (p: Progress) => void
}
