/** The service worker as the build writes it, in surroundings of the test's own: what it keeps, serves and lets go. */
import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { runInNewContext } from 'node:vm'
import { transformWithOxc } from 'vite'
import { describe, expect, it } from 'vitest'
import { keepForOffline, type WorkersLike } from '../../src/store/renewal.ts'

const file = fileURLToPath(new URL('../../src/offline.ts', import.meta.url))
const SCOPE = 'http://robot.test/deck/'

/** Caches of the browser, shared by all versions of the worker, and a network that can be cut. */
function world() {
  const stores = new Map<string, Map<string, string>>()
  const network = { files: new Map<string, string>(), cut: false, asked: 0 }
  const urlOf = (request: Request | string): string => (typeof request === 'string' ? request : request.url)
  const fetch = async (request: Request | string): Promise<Response> => {
    network.asked++
    const body = network.cut ? undefined : network.files.get(urlOf(request))
    if (body === undefined) throw new TypeError('no network')
    return new Response(body)
  }
  const find = (store: Map<string, string> | undefined, request: Request | string): Response | undefined => {
    const body = store?.get(urlOf(request))
    return body === undefined ? undefined : new Response(body)
  }
  const caches = {
    keys: async () => [...stores.keys()],
    delete: async (name: string) => stores.delete(name),
    match: async (request: Request) => [...stores.values()].map((s) => find(s, request)).find((r) => r),
    open: async (name: string) => {
      const store = stores.get(name) ?? new Map<string, string>()
      stores.set(name, store)
      return {
        match: async (request: Request | string) => find(store, request),
        addAll: async (requests: Request[]) => {
          const all = await Promise.all(requests.map(async (r) => [r.url, await (await fetch(r)).text()] as const))
          for (const [url, body] of all) store.set(url, body)
        },
      }
    },
  }
  return { stores, network, fetch, caches }
}

async function worker(around: ReturnType<typeof world>, version: string, files: readonly string[]) {
  const hearers = new Map<string, (event: object) => void>()
  const state = { skipped: 0, claimed: 0, windows: 1 }
  const self = {
    location: new URL(SCOPE),
    registration: { scope: SCOPE },
    clients: {
      claim: async () => void state.claimed++,
      matchAll: async () => Array.from({ length: state.windows }, () => ({})),
    },
    skipWaiting: async () => void state.skipped++,
    addEventListener: (kind: string, hear: (event: object) => void) => hearers.set(kind, hear),
  }
  const { code } = await transformWithOxc(readFileSync(file, 'utf8'), file)
  const { caches, fetch } = around
  runInNewContext(code, { self, caches, fetch, URL, Request, OFFLINE_FILES: files, OFFLINE_VERSION: version })
  const send = async (kind: string, more: object = {}): Promise<Response | undefined> => {
    const works: Promise<unknown>[] = []
    let answer: Promise<Response> | undefined
    hearers.get(kind)!({
      waitUntil: (work: Promise<unknown>) => works.push(work),
      respondWith: (given: Promise<Response>) => {
        answer = given
      },
      ...more,
    })
    await Promise.all(works)
    return answer
  }
  const get = async (path: string, mode = 'cors', method = 'GET'): Promise<string | undefined> => {
    const url = new URL(path, SCOPE).href
    return (await send('fetch', { request: { url, mode, method } }))?.text()
  }
  return { state, send, get }
}

const put = (w: ReturnType<typeof world>, files: Record<string, string>): void => {
  for (const [path, body] of Object.entries(files)) w.network.files.set(new URL(path, SCOPE).href, body)
}

describe('the service worker', () => {
  it('keeps all files of its build, and serves them and the page without a network', async () => {
    const w = world()
    put(w, { 'index.html': 'page 1', 'assets/a-1.js': 'a 1' })
    const one = await worker(w, '1', ['index.html', 'assets/a-1.js'])
    await one.send('install')
    await one.send('activate')
    expect(one.state).toMatchObject({ skipped: 1, claimed: 1 })
    w.network.cut = true
    expect(await one.get('', 'navigate')).toBe('page 1')
    expect(await one.get('assets/a-1.js')).toBe('a 1')
    await expect(one.get('assets/none.js')).rejects.toThrow('no network')
    expect(await one.get('assets/a-1.js', 'cors', 'POST')).toBeUndefined()
    expect(await one.get('http://elsewhere.test/x')).toBeUndefined()
  })

  it('of a newer build serves loads from its own files, and the open page from those that it began with', async () => {
    const w = world()
    put(w, { 'index.html': 'page 1', 'assets/a-1.js': 'a 1' })
    const one = await worker(w, '1', ['index.html', 'assets/a-1.js'])
    await one.send('install')
    w.network.files.clear()
    put(w, { 'index.html': 'page 2', 'assets/a-2.js': 'a 2' })
    const two = await worker(w, '2', ['index.html', 'assets/a-2.js'])
    await two.send('install')
    await two.send('activate')
    w.network.cut = true
    expect(await two.get('assets/a-1.js')).toBe('a 1')
    two.state.windows = 2
    expect(await two.get('', 'navigate')).toBe('page 2')
    expect([...w.stores.keys()].length).toBe(2)
    // The last page of the old build is gone.
    two.state.windows = 1
    expect(await two.get('', 'navigate')).toBe('page 2')
    expect([...w.stores.keys()]).toEqual(['deckwright-2'])
  })

  it('that cannot get all of its files does not take over', async () => {
    const w = world()
    put(w, { 'index.html': 'page 1' })
    const one = await worker(w, '1', ['index.html', 'assets/missing.js'])
    await expect(one.send('install')).rejects.toThrow()
    expect(one.state.skipped).toBe(0)
  })

  it('leaves caches of others on the same site alone', async () => {
    const w = world()
    w.stores.set('somebody-else', new Map())
    put(w, { 'index.html': 'page 1' })
    const one = await worker(w, '1', ['index.html'])
    await one.send('install')
    await one.get('', 'navigate')
    expect([...w.stores.keys()]).toEqual(['somebody-else', 'deckwright-1'])
  })
})

describe('the page', () => {
  const container = (controller: unknown) => {
    let hear = (): void => {}
    const workers: WorkersLike = {
      controller,
      register: async () => {},
      addEventListener: (_, given) => {
        hear = given
      },
    }
    return { workers, change: () => hear() }
  }

  it('says that a newer version has come, and not that the first one has', () => {
    const first = container(null)
    const store = keepForOffline(first.workers, './offline.js')
    first.change()
    expect(store.getState().renewed).toBe(false)
    first.change()
    expect(store.getState().renewed).toBe(true)
    const later = container({})
    const again = keepForOffline(later.workers, './offline.js')
    later.change()
    expect(again.getState().renewed).toBe(true)
  })

  it('does without where the browser has no such thing, or refuses', async () => {
    expect(keepForOffline(undefined, './offline.js').getState().renewed).toBe(false)
    const { workers } = container(null)
    keepForOffline({ ...workers, register: () => Promise.reject(new Error('no')) }, './offline.js')
    await Promise.resolve()
  })
})
