/** The store's binding to React. */
import { createContext, useContext, useMemo } from 'react'
import { useStore } from 'zustand'
import type { Actions, Deckwright, State } from '../store/store.ts'
import { type View, viewOf } from '../store/view.ts'

export const Here = createContext<Deckwright | undefined>(undefined)

export function useDeckwright(): Deckwright {
  const here = useContext(Here)
  if (!here) throw new Error('the page has no document')
  return here
}

export const useActions = (): Actions => useDeckwright().actions

export const useDeck = <T>(select: (state: State) => T): T => useStore(useDeckwright().store, select)

/** What there is to show of a sheet; the same object until something of it changes. */
export function useView(index: number): View | undefined {
  const sheet = useDeck((s) => s.history.doc.sheets[index])
  const known = useDeck((s) => (sheet ? s.known.get(sheet.problem) : undefined))
  const trial = useDeck((s) => (sheet ? s.trials.get(sheet) : undefined))
  const bounds = useDeck((s) => (sheet ? s.trialBounds.get(sheet) : undefined))
  const carry = useDeck((s) => (s.active === index ? s.carry : undefined))
  const { store } = useDeckwright()
  // biome-ignore lint/correctness/useExhaustiveDependencies: these five are all of the state that a view is made of
  return useMemo(() => viewOf(store.getState(), index), [store, index, sheet, known, trial, bounds, carry])
}
