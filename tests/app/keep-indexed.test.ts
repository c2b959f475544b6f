/** The shelf in IndexedDB leaves nothing behind of a work that is gone. The base is one in memory: rows, and requests in turn. */
import { expect, it } from 'vitest'
import { indexedShelf } from '../../src/store/keep-indexed.ts'
import type { Kept } from '../../src/store/keep-shelf.ts'

type Row = { readonly id: string }
type Request = { result?: unknown; onsuccess?: () => void; onupgradeneeded?: () => void }

function memoryBase() {
  const stores = new Map<string, Map<string, Row>>()
  const later = (work: () => unknown): Request => {
    const request: Request = {}
    queueMicrotask(() => {
      request.result = work()
      request.onsuccess?.()
    })
    return request
  }
  const storeOf = (name: string) => {
    const rows = stores.get(name)!
    return {
      get: (id: string) => later(() => rows.get(id)),
      getAll: () => later(() => [...rows.values()]),
      getAllKeys: () => later(() => [...rows.keys()]),
      put: (row: Row) => later(() => rows.set(row.id, structuredClone(row))),
      delete: (id: string) => later(() => rows.delete(id)),
    }
  }
  const base = {
    createObjectStore: (name: string) => stores.set(name, new Map()),
    transaction: () => {
      const one = { objectStore: storeOf, commit: () => {}, oncomplete: undefined as (() => void) | undefined }
      // Longer than any of the requests in a row takes.
      setTimeout(() => one.oncomplete?.())
      return one
    },
  }
  const open = (): Request => {
    const request: Request = { result: base }
    queueMicrotask(() => {
      request.onupgradeneeded?.()
      request.onsuccess?.()
    })
    return request
  }
  return { factory: { open } as unknown as IDBFactory, names: () => [...stores.get('texts')!.keys()] }
}

const work = (id: string, writing = 1): Kept => ({
  id,
  name: id,
  file: id,
  at: 1,
  writing,
  touched: true,
  text: '{}',
  active: 0,
  found: 'first',
})
const turn = () => new Promise((settle) => setTimeout(settle))

it('writes what was found for the writing that it was found for, and for a work that is there', async () => {
  const { factory, names } = memoryBase()
  const shelf = indexedShelf(factory)
  await shelf.write(work('moss'))
  await shelf.writeFound('moss', { writing: 1, found: 'second' })
  expect((await shelf.read('moss'))?.found).toBe('second')
  await shelf.write(work('moss', 2))
  await shelf.writeFound('moss', { writing: 1, found: 'late' })
  expect((await shelf.read('moss'))?.found).toBe('first')
  await shelf.remove('moss')
  await shelf.writeFound('moss', { writing: 2, found: 'later' })
  expect(names()).toEqual([])
})

it('clears what a tab wrote as it went for a work that was gone, when works are listed', async () => {
  const { factory, names } = memoryBase()
  const shelf = indexedShelf(factory)
  await shelf.write(work('fern'))
  await shelf.writeFound('moss', { writing: 1, found: 'as it went' }, 'unseen')
  expect(names()).toEqual(['fern', 'found fern', 'found moss'])
  expect((await shelf.works()).map((w) => w.id)).toEqual(['fern'])
  await turn()
  expect(names()).toEqual(['fern', 'found fern'])
})
