/** The document: one project and, for each of its variants, what is held and what is shown. All of it can be undone. */
import type { Placement, Problem, SolveResult } from '../../solver/index.ts'
import type { Project } from '../model/index.ts'
import type { Heard } from '../worker/best.ts'

/** What the solver said to a layout with holds. */
export type Answer =
  /** `short`: why leads are too short in the layout, though the project asks for routes. */
  | { readonly kind: 'result'; readonly result: SolveResult; readonly short?: readonly string[] }
  /** `bounds`: what was proven by then of the layout that is shown. */
  | { readonly kind: 'stopped'; readonly bounds?: Heard['bounds'] }
  | { readonly kind: 'failed'; readonly error: string; readonly bounds?: Heard['bounds'] }

/** One variant. The problem stands for itself: what was solved for it is remembered by its identity. */
export interface Sheet {
  readonly variant: string
  readonly name: string
  readonly problem: Problem
  /** Ids of the items that stay where they are. */
  readonly holds: readonly string[]
  /** Those of the holds that are built: they never move, and are not freed with the others. */
  readonly built?: readonly string[]
  /** Names of items that were held before the edit that made this one, and are not any more: their places have gone. */
  readonly lost?: readonly string[]
  /** A layout of one's own; missing = the best that the solver knows. */
  readonly placements?: readonly Placement[]
  /** The layout that a hand changed into `placements`: what differs afterwards has moved. */
  readonly before?: readonly Placement[]
  /** Ask for the best layout with what is held, and not for the nearest. */
  readonly anew?: true
  /** The solver's answer to `holds` and `placements`; missing = it has not been heard yet. */
  readonly answer?: Answer
}

export interface Doc {
  readonly project: Project
  /** The name to save under. */
  readonly file: string
  readonly sheets: readonly Sheet[]
}

/** A sheet that is asked anew: what is fixed of it, and nothing that was answered. */
export const question = ({ variant, name, problem, built }: Sheet): Omit<Sheet, 'holds'> => ({
  variant,
  name,
  problem,
  ...(built ? { built } : {}),
})

const DONE = ['name', 'problem', 'holds', 'built', 'lost', 'before', 'anew'] as const

/** Whether no deed lies between two sheets of one variant: an answer that came in meanwhile is none, whatever moved with it. */
export function nothingDone(one: Sheet, other: Sheet): boolean {
  if (DONE.some((field) => one[field] !== other[field]) || !one.placements !== !other.placements) return false
  return !one.answer || !other.answer || JSON.stringify(one.placements) === JSON.stringify(other.placements)
}

/** Past and future of a document; `doc` is the present. */
export interface History {
  readonly past: readonly Doc[]
  readonly doc: Doc
  readonly future: readonly Doc[]
}

/** One step forward: what was undone is forgotten. There is no last step: documents share what they have in common. */
export const step = (history: History, doc: Doc): History => ({
  past: [...history.past, history.doc],
  doc,
  future: [],
})

/** The present improved without a step of its own, as when a solve comes to its end. */
export const patch = (history: History, doc: Doc): History => ({ ...history, doc })

/** The last step made to lead elsewhere. What was undone came after what it led to before, and is forgotten. */
export const amended = (history: History, doc: Doc): History => ({ ...history, doc, future: [] })

/** The last step taken out, where `doc` shows what stood before it: to undo it would show nothing. */
export const withoutStep = (history: History, doc: Doc): History => ({
  ...amended(history, doc),
  past: history.past.slice(0, -1),
})

export function undo(history: History): History {
  const doc = history.past.at(-1)
  if (!doc) return history
  return { past: history.past.slice(0, -1), doc, future: [history.doc, ...history.future] }
}

export function redo(history: History): History {
  const [doc, ...future] = history.future
  if (!doc) return history
  return { past: [...history.past, history.doc], doc, future }
}

export const withSheet = (doc: Doc, index: number, sheet: Sheet): Doc => ({
  ...doc,
  sheets: doc.sheets.map((old, i) => (i === index ? sheet : old)),
})
