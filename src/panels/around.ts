/** What surrounds the document on the page: where it is kept, the start view, and newer versions of the page. */
import { createContext, useContext } from 'react'
import { useStore } from 'zustand'
import type { StoreApi } from 'zustand/vanilla'
import type { CaliperRows } from '../store/caliper-rows.ts'
import type { Keep, KeepState } from '../store/keep.ts'
import type { RenewalState } from '../store/renewal.ts'
import type { Start, StartState } from '../store/start.ts'

export interface AroundDeck {
  readonly keep: Keep
  readonly start: Start
  readonly renewal: StoreApi<RenewalState>
  /** What was typed off a caliper. */
  readonly caliper: CaliperRows
}

export const Around = createContext<AroundDeck | undefined>(undefined)

export function useAround(): AroundDeck {
  const around = useContext(Around)
  if (!around) throw new Error('the page has nothing around its document')
  return around
}

export const useKeep = <T>(select: (state: KeepState) => T): T => useStore(useAround().keep.store, select)
export const useStart = <T>(select: (state: StartState) => T): T => useStore(useAround().start.store, select)
