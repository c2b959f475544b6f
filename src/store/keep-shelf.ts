/** Where works are kept between visits: what a shelf can do, and how it says no. The browser's own is in keep-indexed.ts. */

/** A kept work without its text, for lists. */
export interface Work {
  readonly id: string
  /** The project's name. */
  readonly name: string
  /** The name to save under. */
  readonly file: string
  /** When it was kept, in milliseconds since 1970. */
  readonly at: number
  /** Counts the writings, from 1: whoever writes the next one must have seen the last. */
  readonly writing: number
  /** Whether its user did anything to it; what was only looked at makes room for what is opened next. */
  readonly touched: boolean
}

export interface Kept extends Work {
  /** The project file's text. */
  readonly text: string
  /** Index of the variant on the stage. */
  readonly active: number
  /** What was found for it; for found.ts to read, who believes none of it. */
  readonly found?: unknown
}

/** What was found for a writing of a work: none of it counts for another. */
export interface FoundRow {
  readonly writing: number
  readonly found: unknown
}

/** What a storage holds may be damaged, or another program's: that is no work, and no reason to show nothing at all. */
export function isWork(row: unknown): row is Work {
  const { id, name, file, at, writing } = (row ?? {}) as Partial<Work>
  return [id, name, file].every((t) => typeof t === 'string') && Number.isFinite(at) && Number.isFinite(writing)
}

/** A work of its two rows, and what was found for it; undefined where one of the two is missing or damaged. */
export function soundKept(head: unknown, row: unknown, extra?: unknown): Kept | undefined {
  const { text, active } = (row ?? {}) as Partial<Kept>
  const { writing, found } = (extra ?? {}) as Partial<FoundRow>
  if (!isWork(head) || typeof text !== 'string') return undefined
  const kept = { ...head, text, active: Number.isInteger(active) ? Number(active) : 0 }
  return found !== undefined && writing === head.writing ? { ...kept, found } : kept
}

/** Why something was not kept: no room, no storage at all, somebody else wrote since, or something else. */
export type Refusal = 'full' | 'closed' | 'overtaken' | 'failed'

export class Refused extends Error {
  readonly why: Refusal
  constructor(why: Refusal, message: string) {
    super(message)
    this.why = why
  }
}

/** All of these reject with `Refused` and with nothing else. */
export interface Shelf {
  /** Newest first. */
  readonly works: () => Promise<readonly Work[]>
  readonly read: (id: string) => Promise<Kept | undefined>
  /**
   * `overtaken` where the shelf has this writing or a later one. `unseen`: nobody else can have written it, or there is no time to
   * look; it is handed over in one go, so that it holds even if the page is gone a moment later.
   */
  readonly write: (kept: Kept, unseen?: 'unseen') => Promise<void>
  /**
   * What was found since for a writing, in place of what was kept of it; the work itself stays as old as it is. Nothing where the work
   * is gone or was written since, unless there is no time to look (`unseen`, as in `write`).
   */
  readonly writeFound: (id: string, row: FoundRow, unseen?: 'unseen') => Promise<void>
  readonly remove: (id: string) => Promise<void>
}

/** What a browser's storage says, as one of our reasons. */
export function refusalOf(error: unknown): Refused {
  if (error instanceof Refused) return error
  const { name, message } = error instanceof Error || error instanceof DOMException ? error : new Error(String(error))
  if (/quota/i.test(name)) return new Refused('full', message)
  if (name === 'SecurityError' || name === 'InvalidStateError') return new Refused('closed', message)
  return new Refused('failed', message || name)
}
