/**
 * Parts that were begun on the bench and are in no project yet: kept in the browser with every edit, whatever closes the bench, and found
 * again by what they began with. They are nobody's work: a part that was begun over one deck may go on another.
 */
import type { FootprintFile } from '../../footprints/schema.ts'
import type { Shelf } from './shelf.ts'

export const PARTS_KEY = 'deckwright-parts-begun'
/** Parts that are kept; the oldest go first. */
const MOST = 20

interface Row {
  readonly key: string
  readonly footprint: FootprintFile
  /** When it was kept, in milliseconds since 1970. */
  readonly at: number
}

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

export function createPartDrafts(shelf: Shelf | undefined, clock: () => number = Date.now): PartDrafts {
  /** What the browser did not take: it outlives the bench, though not the page. */
  let refused: readonly Row[] | undefined
  const rows = (): readonly Row[] => refused ?? kept(shelf)
  return {
    recall: (start) => {
      const key = keyOf(start)
      return rows().find((row) => row.key === key)
    },
    keep: (start, now) => {
      const key = keyOf(start)
      const others = rows().filter((row) => row.key !== key)
      const begun = JSON.stringify(now) !== JSON.stringify(start)
      const next = begun ? [...others, { key, footprint: now, at: clock() }].slice(-MOST) : others
      try {
        if (!shelf) throw new Error(PARTS_KEY)
        shelf.setItem(PARTS_KEY, JSON.stringify(next))
        refused = undefined
      } catch {
        refused = next
      }
      return refused === undefined || !begun
    },
  }
}

/** What the storage has; what is damaged there is passed over. */
function kept(shelf: Shelf | undefined): readonly Row[] {
  try {
    const value: unknown = JSON.parse(shelf?.getItem(PARTS_KEY) ?? '[]')
    return Array.isArray(value) ? value.filter(isRow) : []
  } catch {
    return []
  }
}

/** A draft may lack much that a part needs, but not what it is drawn by. */
function isRow(value: unknown): value is Row {
  const { key, footprint, at } = (value ?? {}) as Partial<Row>
  const { body, mount } = (footprint ?? {}) as Partial<FootprintFile>
  const sizes = [body?.width, body?.depth, body?.height, at]
  return typeof key === 'string' && typeof mount?.kind === 'string' && sizes.every(Number.isFinite)
}
