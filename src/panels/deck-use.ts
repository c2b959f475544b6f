/** What the parts of the deck workshop share: the draft, the deck that is open, and the way of an edit into the document. */
import { createContext, useContext, useMemo } from 'react'
import { useStore } from 'zustand'
import type { StoreApi } from 'zustand/vanilla'
import { type Corner, faultOf, polygonOf, type ShapeAt, withShapeAt } from '../model/edit-corners.ts'
import type { Made } from '../model/edit-deck.ts'
import { leftOutBy, ownPlates, seenIn, written } from '../model/edit-deck-variant.ts'
import type { Project, ProjectDeck } from '../model/index.ts'
import type { DeckDraft } from '../store/deck-draft.ts'
import type { State } from '../store/store.ts'
import { words } from '../words/index.ts'
import type { Refusal } from './length-field.tsx'
import { useActions, useDeck, useDeckwright } from './use.ts'

export const DraftHere = createContext<StoreApi<DeckDraft> | undefined>(undefined)

export function useDraftStore(): StoreApi<DeckDraft> {
  const here = useContext(DraftHere)
  if (!here) throw new Error('the deck workshop is not open')
  return here
}

export const useDraft = <T>(select: (draft: DeckDraft) => T): T => useStore(useDraftStore(), select)

/** The variant that is open, by its id. */
export const variantIn = ({ history, active }: State): string => history.doc.sheets[active]?.variant ?? ''
export const useVariant = (): string => useDeck(variantIn)

/** The project with its decks as the open variant has them. */
export function useProject(): Project {
  const project = useDeck((s) => s.history.doc.project)
  const variant = useVariant()
  return useMemo(() => seenIn(project, variant), [project, variant])
}

/** A deck that the open variant has: the one to begin with. */
export const firstDeck = (state: State): string => {
  const { decks } = state.history.doc.project
  const has = (id: string): boolean => !leftOutBy(state.history.doc.project, id).includes(variantIn(state))
  return (decks.find((d) => has(d.id)) ?? decks[0]!).id
}

/** The deck that is worked on; the first one where it has gone, as by undo. */
export function useOpenDeck(): ProjectDeck {
  const id = useDraft((d) => d.deck)
  const project = useProject()
  return project.decks.find((d) => d.id === id) ?? project.decks[0]!
}

/**
 * Takes an edit of what `useProject` gave as one step, in the variant or in all; the answer says why it was not taken. A plate that is
 * new as a whole (`plate`: its deck) is not torn apart: it goes into the variant where that has any of it for itself.
 */
export function useEdit(): (next: Project, plate?: string) => Refusal {
  const actions = useActions()
  const { store } = useDeckwright()
  const draft = useDraftStore()
  return (next, plate) => {
    const state = store.getState()
    const variant = variantIn(state)
    const { project } = state.history.doc
    const own = plate !== undefined && ownPlates(project, plate).includes(variant)
    const only = own || draft.getState().onlyIn === variant
    const [first] = actions.change(written(project, variant, only, next))
    return first && words.deck.refused(first.found, first.expected)
  }
}

/** Takes what was made, and chooses it. */
export function useMake(): (part: NonNullable<DeckDraft['chosen']>['part'], made: Made | undefined) => Refusal {
  const edit = useEdit()
  const draft = useDraftStore()
  return (part, made) => {
    if (!made) return undefined
    const refused = edit(made.project)
    if (refused === undefined) draft.setState({ chosen: { part, id: made.id } })
    return refused
  }
}

/** Takes a shape's corners, where they make one. */
export function useTakeCorners(): (of: ShapeAt, corners: readonly Corner[]) => Refusal {
  const project = useProject()
  const deck = useOpenDeck()
  const edit = useEdit()
  return (of, corners) => {
    const fault = faultOf(corners)
    return fault
      ? words.corners.refused(words.corners.fault(fault))
      : edit(withShapeAt(project, deck.id, of, polygonOf(corners)))
  }
}
