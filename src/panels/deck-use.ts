/** What the parts of the deck workshop share: the draft, the deck that is open, and the way of an edit into the document. */
import { createContext, useContext } from 'react'
import { useStore } from 'zustand'
import type { StoreApi } from 'zustand/vanilla'
import type { Made } from '../model/edit-deck.ts'
import type { Project, ProjectDeck } from '../model/index.ts'
import type { DeckDraft } from '../store/deck-draft.ts'
import { words } from '../words/index.ts'
import type { Refusal } from './length-field.tsx'
import { useActions, useDeck } from './use.ts'

export const DraftHere = createContext<StoreApi<DeckDraft> | undefined>(undefined)

export function useDraftStore(): StoreApi<DeckDraft> {
  const here = useContext(DraftHere)
  if (!here) throw new Error('the deck workshop is not open')
  return here
}

export const useDraft = <T>(select: (draft: DeckDraft) => T): T => useStore(useDraftStore(), select)

export const useProject = (): Project => useDeck((s) => s.history.doc.project)

/** The deck that is worked on; the first one where it has gone, as by undo. */
export function useOpenDeck(): ProjectDeck {
  const id = useDraft((d) => d.deck)
  const project = useProject()
  return project.decks.find((d) => d.id === id) ?? project.decks[0]!
}

/** Takes a project as one step; the answer says why it was not taken. */
export function useEdit(): (project: Project) => Refusal {
  const actions = useActions()
  return (project) => {
    const [first] = actions.change(project)
    return first && words.deck.refused(first.path, first.found, first.expected)
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
