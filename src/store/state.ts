/** What the store holds and what can be done with it: types, and what is read of a state everywhere. */
import type { StoreApi } from 'zustand/vanilla'
import type { Placement, Problem } from '../../solver/index.ts'
import type { EditProblem, FileProblem, Project } from '../model/index.ts'
import type { Heard } from '../worker/best.ts'
import type { Along } from './along.ts'
import type { AskActions, Asked } from './asks.ts'
import type { Doc, History, Sheet } from './document.ts'
import type { FoundAgain } from './found.ts'
import type { Known } from './solves.ts'

/** An item on its way, by pointer or by arrow keys: nothing of it is in the document yet. */
export interface Carry {
  readonly item: number
  /** The layout that it was lifted from; there the item may be missing. */
  readonly from: readonly Placement[]
  /** The same with the item where it hangs now. */
  readonly placements: readonly Placement[]
  readonly by: 'pointer' | 'keys'
  /** A layout with the item where it hangs, the others moved as little as must; missing where none must, or none is known. */
  readonly preview?: readonly Placement[]
}

export interface Broken {
  readonly file: string
  readonly problems: readonly FileProblem[]
  /** What is odd in it besides: fields that are not known, perhaps the misspelt one that is missing. */
  readonly strange?: readonly FileProblem[]
  /** Where the file is sound, or may be, but of no use here: what it is. */
  readonly kind?: 'layout' | 'unreadable' | 'nothing' | 'picture' | 'other'
}

export interface State {
  readonly history: History
  /** Counts the documents that were begun or opened: another number is another document. */
  readonly opened: number
  /** Index of the sheet on the stage. */
  readonly active: number
  readonly selected: string | undefined
  readonly hovered: string | undefined
  /** Index of a wire that is pointed at. */
  readonly hoveredWire: number | undefined
  readonly carry: Carry | undefined
  /** What the solver has said to each problem as the file puts it, without holds. */
  readonly known: ReadonlyMap<Problem, Known>
  /** Better layouts for a sheet that is being solved. */
  readonly trials: ReadonlyMap<Sheet, readonly Placement[]>
  /** The bounds that were told while a sheet is being solved. */
  readonly trialBounds: ReadonlyMap<Sheet, Heard['bounds']>
  /** What was asked of a sheet beside its layout: loosenings, layouts as good, what holds cost. */
  readonly asked: ReadonlyMap<Sheet, Asked>
  /** A file that could not be opened. */
  readonly broken: Broken | undefined
  /** What a file that was opened had in it that is not understood. */
  readonly notices: readonly FileProblem[]
}

/**
 * What an edit leaves of the layouts: with `anew` only what is held stays where it is, and the best is asked for again; with
 * `found-again` that is so where the layout is the solver's own, and a layout of one's own stays as far as it can.
 */
export type How = 'anew' | 'found-again'

export interface Actions extends AskActions {
  /** `again`: what was found for the document before. */
  readonly open: (text: string | Uint8Array, file: string, again?: (doc: Doc) => FoundAgain) => boolean
  /** `taken`: names of other works. */
  readonly newDeck: (width: number, depth: number, taken?: readonly string[]) => void
  /** Says why a file was not taken; the document stays as it is. */
  readonly refuse: (broken: Broken) => void
  /** Says what is not understood in files that were taken. */
  readonly notice: (strange: readonly FileProblem[]) => void
  /** A layout of a variant that comes from elsewhere, on the stage as one step of history. */
  readonly lay: (variant: string, placements: readonly Placement[]) => void
  readonly save: () => { readonly file: string; readonly text: string }
  readonly choose: (index: number) => void
  readonly select: (id: string | undefined) => void
  readonly hover: (id: string | undefined) => void
  readonly hoverWire: (index: number | undefined) => void
  readonly lift: (id: string, by: Carry['by']) => void
  readonly carryTo: (wish: Placement) => void
  readonly nudge: (dx: number, dy: number) => void
  /** Puts down what is carried: held there, one step of history; none where it was lifted. */
  readonly drop: () => void
  readonly takeBack: () => void
  /** A quarter turn to the next that the item allows: 1 anticlockwise, -1 clockwise. */
  readonly turn: (id: string, way?: 1 | -1) => void
  readonly hold: (id: string) => void
  readonly free: (id: string) => void
  readonly freeAll: () => void
  /** Built where they stand: held, and neither moved nor freed before they are unmarked; a board with what is built on it. One step. */
  readonly markBuilt: (ids: readonly string[]) => void
  /** With what is plugged into it, which moves with it. All stay held. */
  readonly unmarkBuilt: (id: string) => void
  /** Puts an item that is left out into the middle of a deck, held. */
  readonly place: (id: string) => void
  readonly toDeck: (id: string, deck: number) => void
  /** Looks for the best layout again, with what is held. */
  readonly rearrange: () => void
  readonly stop: () => void
  /** Looks on for a variant whose search ended before it was through. What is shown stays until there is something better. */
  readonly lookOn: () => void
  /**
   * Another project in place of this one, as one step; problems: nothing was changed. What is held and shown stays, or what `how`
   * says. `along`: what it means for the layout.
   */
  readonly change: (project: Project, how?: How, along?: Along) => readonly EditProblem[]
  /** What the layout on show asks for becomes holes and openings of the decks. */
  readonly build: () => readonly EditProblem[]
  /** A hole of a deck where it was really drilled, mm. */
  readonly moveHole: (
    deck: string,
    hole: string,
    at: readonly [number, number],
    diameter?: number,
  ) => readonly EditProblem[]
  readonly undo: () => void
  readonly redo: () => void
  readonly dismiss: () => void
}

export interface Deckwright {
  readonly store: StoreApi<State>
  readonly actions: Actions
  readonly end: () => void
}

/** The layout on show for a sheet: its own, or the best that is known for its problem. */
export const shown = (state: State, sheet: Sheet): readonly Placement[] =>
  state.trials.get(sheet) ?? sheet.placements ?? state.known.get(sheet.problem)?.placements ?? []

export const isBuilt = (sheet: Sheet, id: string): boolean => sheet.built?.includes(id) === true
