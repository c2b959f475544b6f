/** What was begun and is in no project yet: kept in the browser with every edit, the newest few, each found again by its key. */
import type { Shelf } from './shelf.ts'

/** Drafts that are kept; the oldest go first. */
const MOST = 20

export interface Drafts<T> {
  /** What was made so far, and when it was kept. */
  readonly recall: (key: string) => { readonly value: T; readonly at: number } | undefined
  /** Keeps it, or forgets it where it is undefined; false where the browser refuses, and a reload would lose it. */
  readonly keep: (key: string, value: T | undefined) => boolean
}

type Row = Readonly<Record<string, unknown>> & { readonly key: string; readonly at: number }

/** `name`: of all of them on the shelf; `field`: of the draft in its row. What is not sound there is passed over. */
export function createDrafts<T>(
  shelf: Shelf | undefined,
  { name, field, isSound }: { name: string; field: string; isSound: (value: unknown) => value is T },
  clock: () => number = Date.now,
): Drafts<T> {
  /** What the browser did not take: it outlives what it was typed in, though not the page. */
  let refused: readonly Row[] | undefined
  const isRow = (value: unknown): value is Row => {
    const { key, at, [field]: draft } = (value ?? {}) as Partial<Row>
    return typeof key === 'string' && Number.isFinite(at) && isSound(draft)
  }
  const kept = (): readonly Row[] => {
    try {
      const value: unknown = JSON.parse(shelf?.getItem(name) ?? '[]')
      return Array.isArray(value) ? value.filter(isRow) : []
    } catch {
      return []
    }
  }
  const rows = (): readonly Row[] => refused ?? kept()
  return {
    recall: (key) => {
      const row = rows().find((r) => r.key === key)
      return row && { value: row[field] as T, at: row.at }
    },
    keep: (key, value) => {
      const others = rows().filter((row) => row.key !== key)
      const next = value === undefined ? others : [...others, { key, [field]: value, at: clock() }].slice(-MOST)
      try {
        if (!shelf) throw new Error(name)
        shelf.setItem(name, JSON.stringify(next))
        refused = undefined
      } catch {
        refused = next
      }
      return refused === undefined || value === undefined
    },
  }
}
