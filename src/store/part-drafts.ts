/**
 * Parts that were begun on the bench and are in no project yet, found again by what they began with, whatever closes the bench. They are
 * nobody's work: a part that was begun over one deck may go on another.
 */
import type { FootprintFile } from '../../footprints/schema.ts'
import { createDrafts } from './drafts.ts'
import type { Shelf } from './shelf.ts'

export const PARTS_KEY = 'deckwright-parts-begun'

export interface PartDrafts {
  /** What was made of that beginning so far. */
  readonly recall: (start: FootprintFile) => { readonly footprint: FootprintFile; readonly at: number } | undefined
  /** Keeps it, or forgets it where it is as it began; false where the browser refuses, and a reload would lose it. */
  readonly keep: (start: FootprintFile, now: FootprintFile) => boolean
}

/** New parts and copies have no source yet, and an id that depends on what else there is; a part of the project is known by its own. */
function keyOf(start: FootprintFile): string {
  const { id, ...rest } = start
  return JSON.stringify(start.source === undefined ? rest : { id, ...rest })
}

export function createPartDrafts(shelf: Shelf | undefined, clock?: () => number): PartDrafts {
  const drafts = createDrafts(shelf, { name: PARTS_KEY, field: 'footprint', isSound }, clock)
  return {
    recall: (start) => {
      const found = drafts.recall(keyOf(start))
      return found && { footprint: found.value, at: found.at }
    },
    keep: (start, now) => drafts.keep(keyOf(start), JSON.stringify(now) === JSON.stringify(start) ? undefined : now),
  }
}

/** A draft may lack much that a part needs, but not what it is drawn by. */
function isSound(value: unknown): value is FootprintFile {
  const { body, mount } = (value ?? {}) as Partial<FootprintFile>
  return typeof mount?.kind === 'string' && [body?.width, body?.depth, body?.height].every(Number.isFinite)
}
