/** The shelf in the browser's IndexedDB: heads and texts apart, so that a list of works does not read them all. */
import { words } from '../words/index.ts'
import { answer } from './indexed.ts'
import { type FoundRow, isWork, type Kept, Refused, refusalOf, type Shelf, soundKept, type Work } from './keep-shelf.ts'

const BASE = 'deckwright'
const HEADS = 'works'
const TEXTS = 'texts'

interface TextRow {
  readonly id: string
  readonly text: string
  readonly active: number
}

/** Beside the text, by a name that no work has: a store of its own would lock out older tabs. */
const FOUND = 'found '
const foundName = (id: string): string => `${FOUND}${id}`

const over = (transaction: IDBTransaction): Promise<void> =>
  new Promise((settle, fail) => {
    transaction.oncomplete = () => settle()
    transaction.onabort = () => fail(transaction.error ?? new Error(words.keep.storage.noReason))
    // An error that nobody handles aborts, and is told there.
  })

function opened(factory: IDBFactory | undefined): Promise<IDBDatabase> {
  return new Promise((settle, fail) => {
    if (!factory) throw new Refused('closed', words.keep.storage.none)
    const request = factory.open(BASE, 1)
    request.onupgradeneeded = () => {
      request.result.createObjectStore(HEADS, { keyPath: 'id' })
      request.result.createObjectStore(TEXTS, { keyPath: 'id' })
    }
    request.onsuccess = () => {
      // A later version of the page in another tab must not wait for this one for ever.
      request.result.onversionchange = () => request.result.close()
      settle(request.result)
    }
    // Whatever the reason is: without a database nothing is kept.
    request.onerror = () => fail(new Refused('closed', request.error?.message ?? words.keep.storage.notOpened))
    request.onblocked = () => fail(new Refused('closed', words.keep.storage.olderForm))
  })
}

/** Opens the database at the first use, and again after a failure. */
export function indexedShelf(factory: IDBFactory | undefined): Shelf {
  let base: Promise<IDBDatabase> | undefined
  const open = (): Promise<IDBDatabase> => {
    base ??= opened(factory).then((ready) => {
      ready.onclose = () => {
        base = undefined
      }
      return ready
    })
    return base
  }

  const within = async <T>(mode: IDBTransactionMode, work: (t: IDBTransaction) => Promise<T>): Promise<T> => {
    try {
      const transaction = (await open()).transaction([HEADS, TEXTS], mode)
      const ended = over(transaction)
      // Both are waited for; the reason is the one that comes first.
      ended.catch(() => {})
      const value = await work(transaction)
      await ended
      return value
    } catch (error) {
      base?.catch(() => {
        base = undefined
      })
      throw refusalOf(error)
    }
  }

  const put = (transaction: IDBTransaction, { text, active, found, ...head }: Kept): void => {
    transaction.objectStore(HEADS).put(head)
    transaction.objectStore(TEXTS).put({ id: head.id, text, active } satisfies TextRow)
    putFound(transaction, head.id, { writing: head.writing, found })
  }
  const putFound = (transaction: IDBTransaction, id: string, row: FoundRow): void => {
    transaction.objectStore(TEXTS).put({ id: foundName(id), ...row })
  }

  const headOf = (t: IDBTransaction, id: string): Promise<Work | undefined> =>
    answer(t.objectStore(HEADS).get(id) as IDBRequest<Work | undefined>)

  /** A tab that went may have written for a work that another one had thrown away. */
  const clear = (ids: readonly string[]): Promise<void> =>
    within('readwrite', async (t) => {
      for (const id of ids) if (!(await headOf(t, id))) t.objectStore(TEXTS).delete(foundName(id))
    })

  return {
    works: async () => {
      const [heads, names] = await within('readonly', (t) =>
        Promise.all([
          answer(t.objectStore(HEADS).getAll() as IDBRequest<unknown[]>),
          answer(t.objectStore(TEXTS).getAllKeys()),
        ]),
      )
      const works = heads.filter(isWork).sort((a, b) => b.at - a.at)
      const there = new Set(works.map((w) => w.id))
      const found = names.map(String).filter((name) => name.startsWith(FOUND))
      const without = found.map((name) => name.slice(FOUND.length)).filter((id) => !there.has(id))
      // The list is there without it, and it is tried again with the next one.
      if (without.length > 0) clear(without).catch(() => {})
      return works
    },
    read: (id) =>
      within('readonly', async (t) => {
        const [head, row, found] = await Promise.all([
          answer(t.objectStore(HEADS).get(id) as IDBRequest<unknown>),
          answer(t.objectStore(TEXTS).get(id) as IDBRequest<unknown>),
          answer(t.objectStore(TEXTS).get(foundName(id)) as IDBRequest<unknown>),
        ])
        return soundKept(head, row, found)
      }),
    write: async (kept, unseen) => {
      const one = (whole: Kept): Promise<void> =>
        within('readwrite', async (t) => {
          if (!unseen) {
            const head = await headOf(t, kept.id)
            if (head && head.writing >= kept.writing) {
              t.abort()
              throw new Refused('overtaken', words.keep.storage.overtaken)
            }
          }
          put(t, whole)
          // A page that goes hears of no success, and what it has not committed by itself would be undone.
          if (unseen) t.commit()
        })
      try {
        await one(kept)
      } catch (error) {
        if (refusalOf(error).why !== 'full' || kept.found === undefined) throw error
        // The work is worth more than what was found for it, which can be found again.
        const { found: _, ...bare } = kept
        await one(bare)
      }
    },
    writeFound: (id, row, unseen) =>
      within('readwrite', async (t) => {
        if (unseen || (await headOf(t, id))?.writing === row.writing) putFound(t, id, row)
        t.commit()
      }),
    remove: (id) =>
      within('readwrite', async (t) => {
        t.objectStore(HEADS).delete(id)
        t.objectStore(TEXTS).delete(id)
        t.objectStore(TEXTS).delete(foundName(id))
      }),
  }
}
