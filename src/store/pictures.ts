/**
 * Pictures that the browser keeps for the page: in its IndexedDB where there is one, else until the page is closed. The newest few stay;
 * older ones make room.
 */
import { words } from '../words/index.ts'
import { answer } from './indexed.ts'

export interface Pictures {
  /** Keeps it; the answer says whether it will still be there after a reload, and if not, why. */
  readonly keep: (
    name: string,
    picture: Blob,
  ) => Promise<{ readonly kept: true } | { readonly kept: false; readonly why: string }>
  /** `picture` is undefined where it is not (or no longer) here; `why`: the storage could not be asked. */
  readonly get: (name: string) => Promise<{ readonly picture: Blob | undefined } | { readonly why: string }>
}

const MOST = 12
const STORE = 'pictures'

interface Row {
  readonly name: string
  readonly picture: Blob
  readonly at: number
}

function opened(factory: IDBFactory | undefined): Promise<IDBDatabase> {
  return new Promise((settle, fail) => {
    if (!factory) throw new Error(words.keep.storage.noneForPictures)
    const request = factory.open('deckwright-pictures', 1)
    request.onupgradeneeded = () => request.result.createObjectStore(STORE, { keyPath: 'name' })
    request.onsuccess = () => settle(request.result)
    request.onerror = () => fail(request.error ?? new Error(words.keep.storage.storageNotOpened))
  })
}

const reasonOf = (error: unknown): string => (error instanceof Error ? error.message : String(error))

export function picturesIn(factory: IDBFactory | undefined, now: () => number = Date.now): Pictures {
  const here = new Map<string, Blob>()
  const within = async <T>(mode: IDBTransactionMode, work: (store: IDBObjectStore) => Promise<T>): Promise<T> => {
    const base = await opened(factory)
    try {
      const transaction = base.transaction(STORE, mode)
      const ended = new Promise<void>((settle, fail) => {
        transaction.oncomplete = () => settle()
        transaction.onabort = () => fail(transaction.error ?? new Error(words.keep.storage.noReason))
      })
      ended.catch(() => {})
      const value = await work(transaction.objectStore(STORE))
      await ended
      return value
    } finally {
      base.close()
    }
  }
  return {
    keep: async (name, picture) => {
      here.set(name, picture)
      try {
        await within('readwrite', async (store) => {
          store.put({ name, picture, at: now() } satisfies Row)
          const rows = await answer(store.getAll() as IDBRequest<Row[]>)
          for (const old of rows.sort((a, b) => b.at - a.at).slice(MOST)) store.delete(old.name)
        })
        return { kept: true }
      } catch (error) {
        return { kept: false, why: reasonOf(error) }
      }
    },
    get: async (name) => {
      const known = here.get(name)
      if (known) return { picture: known }
      try {
        const row = await within('readonly', (store) => answer(store.get(name) as IDBRequest<Row | undefined>))
        if (row) here.set(name, row.picture)
        return { picture: row?.picture }
      } catch (error) {
        return { why: reasonOf(error) }
      }
    },
  }
}
