/**
 * Whether the deck workshop is open: the start view, the head and whatever else leads there ask for it here. And the caliper's rows, which
 * are no part of the document and must outlive a closed dialog.
 */
import { createStore } from 'zustand/vanilla'

export interface HoleRow {
  readonly id: string
  /** As typed; empty = to be measured. */
  readonly diameter: string
  readonly nearX: string
  readonly nearY: string
}

export interface MeasureRow {
  readonly from: string
  /** Empty: the diameter of the hole `from`. */
  readonly to: string
  readonly jaws: 'centre' | 'near' | 'far' | 'inner' | 'outer'
  /** One distance read several times, kept apart by `;`. */
  readonly readings: string
}

export interface CaliperForm {
  readonly holes: readonly HoleRow[]
  readonly measures: readonly MeasureRow[]
}

interface DeckDoor {
  readonly open: boolean
  /** `opened`: the count of documents opened when they were typed; those of another document do not count. */
  readonly rows: { readonly opened: number; readonly form: CaliperForm } | undefined
}

export const deckDoor = createStore<DeckDoor>(() => ({ open: false, rows: undefined }))

export const openDecks = (): void => deckDoor.setState({ open: true })
export const leaveDecks = (): void => deckDoor.setState({ open: false })
