/** What is open for adding and describing parts; no part of the document. */
import { createStore, type StoreApi } from 'zustand/vanilla'
import type { FootprintFile } from '../../footprints/schema.ts'
import { baseOf } from '../model/variants.ts'
import { createPartDrafts, type PartDrafts } from './part-drafts.ts'
import type { Shelf } from './shelf.ts'

/** A point of a deck in its own frame, Um. */
export interface DeckPoint {
  readonly deck: number
  readonly x: number
  readonly y: number
}

export interface Search {
  /** Where on the screen it opens, pixels from the window's corner. */
  readonly x: number
  readonly y: number
  /** The point that was pointed at, if one was. */
  readonly at?: DeckPoint
  /** An item that is to be another part, if one is. */
  readonly swap?: string
}

export interface Describing {
  readonly draft: FootprintFile
  /** What it was copied from, for its source. */
  readonly from?: string
  /** An item that is to be this part. */
  readonly item?: string
}

export interface PartsState {
  readonly search: Search | undefined
  readonly describing: Describing | undefined
  /** Id of the item whose fields are open. */
  readonly open: string | undefined
  /** Whether the focus is to go into the fields that were opened. */
  readonly going: boolean
  /** Id of the wire whose fields are open. */
  readonly openWire: string | undefined
  /** What was done last, to be read out. */
  readonly said: string
  /** The step of history after which it was said. The next may make it untrue. */
  readonly saidOf?: unknown
}

/** What is still so of what was said. */
export const stillSo = ({ said, saidOf }: PartsState, step: unknown): string => (saidOf === step ? said : '')

export interface PartsDesk {
  readonly store: StoreApi<PartsState>
  /** Parts that were begun. */
  readonly drafts: PartDrafts
  readonly search: (search: Search) => void
  readonly describe: (describing: Describing) => void
  readonly close: (what: 'search' | 'describing') => void
  /** Opens the fields of an item, or shuts them where they are open. */
  readonly openItem: (id: string | undefined) => void
  /** Opens the fields of an item, of which a copy may be named, and sends the focus there. */
  readonly goTo: (id: string) => void
  /** The focus has gone where it was to go. */
  readonly arrived: () => void
  readonly openWire: (id: string | undefined) => void
  readonly say: (text: string) => void
}

/** `step`: what is another thing after each step of history, and the same while a layout only gets better. */
export function createPartsDesk(step: () => unknown, shelf?: Shelf): PartsDesk {
  const store = createStore<PartsState>(() => ({
    search: undefined,
    describing: undefined,
    open: undefined,
    going: false,
    openWire: undefined,
    said: '',
  }))
  const { getState: get, setState: set } = store
  return {
    store,
    drafts: createPartDrafts(shelf),
    search: (search) => set({ search, said: '' }),
    describe: (describing) => set({ describing, said: '' }),
    close: (what) => set({ [what]: undefined }),
    openItem: (id) => set({ open: get().open === id ? undefined : id, going: false }),
    goTo: (id) => set({ open: baseOf(id), going: true }),
    arrived: () => set({ going: false }),
    openWire: (id) => set({ openWire: get().openWire === id ? undefined : id }),
    say: (said) => set({ said, saidOf: step() }),
  }
}

/** A box's left or top side so that it lies inside the window, near `wish`. */
export const insideWindow = (wish: number, size: number, room: number, edge = 8): number =>
  Math.max(edge, Math.min(wish, room - size - edge))
