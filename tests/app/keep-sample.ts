/** What keeping needs of a browser, for tests: a shelf, locks and channels, and tabs. */
import { expect, vi } from 'vitest'
import { createKeep } from '../../src/store/keep.ts'
import { type Claims, claimsOfBrowser } from '../../src/store/keep-claims.ts'
import { type Kept, Refused, type Shelf, type Work } from '../../src/store/keep-shelf.ts'
import { createDeckwright } from '../../src/store/store.ts'
import { files, handPool, project, text } from './store-sample.ts'

/** A shelf in memory, as the browser's is: it refuses to write over what the writer has not seen, or all of it when told to. */
export function memoryShelf() {
  const kept = new Map<string, Kept>()
  const state = { refusing: undefined as Refused | undefined, silent: false, writes: 0 }
  const may = async (): Promise<void> => {
    if (state.silent) await new Promise(() => {})
    if (state.refusing) throw state.refusing
  }
  const shelf: Shelf = {
    works: async () => {
      await may()
      return [...kept.values()].map(({ text: _, active: __, ...head }): Work => head).sort((a, b) => b.at - a.at)
    },
    read: async (id) => {
      await may()
      return kept.get(id)
    },
    write: async (one, unseen) => {
      await may()
      if (!unseen && (kept.get(one.id)?.writing ?? 0) >= one.writing) throw new Refused('overtaken', 'newer')
      state.writes++
      kept.set(one.id, one)
    },
    writeFound: async (id, { writing, found }) => {
      await may()
      const one = kept.get(id)
      if (one?.writing === writing) kept.set(id, { ...one, found: structuredClone(found) })
    },
    remove: async (id) => {
      await may()
      kept.delete(id)
    },
  }
  return { kept, state, shelf }
}

/** The browser's locks and channels for several tabs of one test. */
export function tabs() {
  const held = new Map<string, { steal: () => void; waiting: (() => void)[] }>()
  const channels = new Set<{ onmessage: ((e: MessageEvent) => void) | null }>()
  const locks: Parameters<typeof claimsOfBrowser>[0] = {
    request: (name, options, callback) =>
      new Promise((settle, fail) => {
        const grant = (): void => {
          const own = { steal: () => fail(new Error('stolen')), waiting: held.get(name)?.waiting ?? [] }
          held.set(name, own)
          void callback().then(() => {
            if (held.get(name) !== own) return
            held.delete(name)
            own.waiting.shift()?.()
            settle(undefined)
          })
        }
        const now = held.get(name)
        if (!now) grant()
        else if (options.steal) {
          now.steal()
          grant()
        } else {
          now.waiting.push(grant)
          options.signal?.addEventListener('abort', () => {
            now.waiting.splice(now.waiting.indexOf(grant), 1)
            fail(new Error('too late'))
          })
        }
      }),
  }
  const channel = () => {
    const own = {
      onmessage: null as ((e: MessageEvent) => void) | null,
      postMessage: (data: unknown) => {
        for (const other of channels)
          if (other !== own) queueMicrotask(() => other.onmessage?.({ data } as MessageEvent))
      },
    }
    channels.add(own)
    return own as unknown as BroadcastChannel
  }
  return { claims: (): Claims => claimsOfBrowser(locks, channel()), stuck: () => channels.clear() }
}

let ids = 0
export function tab(
  shelf: Shelf,
  claims: Claims = claimsOfBrowser(undefined, undefined),
  memory?: string[],
  program = 'this',
) {
  const { pool, asked } = handPool()
  const deckwright = createDeckwright(files, pool, files.empty(160, 120))
  const keep = createKeep(deckwright, files, {
    shelf,
    claims,
    now: () => 1_800_000_000_000 + ids * 1000,
    newId: () => `work-${++ids}`,
    program,
    ...(memory ? { tab: { last: () => memory.at(-1), is: (id: string) => void memory.push(id) } } : {}),
  })
  const rename = (name: string): void => {
    const { doc } = deckwright.store.getState().history
    expect(deckwright.actions.change({ ...doc.project, name })).toEqual([])
  }
  const name = (): string => deckwright.store.getState().history.doc.project.name
  const open = (value: unknown = project): void => void deckwright.actions.open(text(value), 'moss.json')
  return { ...deckwright, asked, keep, rename, name, open, keeping: () => keep.store.getState().keeping }
}

export const moment = (ms = 300): Promise<unknown> => vi.advanceTimersByTimeAsync(ms)
