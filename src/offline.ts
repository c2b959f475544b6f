/**
 * The page without a network: a service worker that keeps the files of one build and serves them from then on. It is a file of its
 * own without imports; the build puts the names of the files, and a version made of their contents, in front of it.
 */

/** Of a service worker's surroundings, what is used here: the DOM's types and a worker's do not go together. */
interface OfflineScope {
  readonly location: { readonly origin: string }
  readonly registration: { readonly scope: string }
  readonly clients: {
    readonly claim: () => Promise<void>
    readonly matchAll: (options: { type: 'window' }) => Promise<readonly unknown[]>
  }
  readonly skipWaiting: () => Promise<void>
  readonly addEventListener: (kind: 'install' | 'activate' | 'fetch', hear: (event: OfflineEvent) => void) => void
}

interface OfflineEvent {
  readonly request: Request
  readonly waitUntil: (work: Promise<unknown>) => void
  readonly respondWith: (answer: Promise<Response>) => void
}

/** Written by the build. Paths are relative to the page's folder. */
declare const OFFLINE_FILES: readonly string[]
declare const OFFLINE_VERSION: string

function serveOffline(scope: OfflineScope, files: readonly string[], version: string): void {
  const PREFIX = 'deckwright-'
  const name = PREFIX + version
  const page = new URL('index.html', scope.registration.scope).href

  const others = async (): Promise<string[]> =>
    (await caches.keys()).filter((key) => key.startsWith(PREFIX) && key !== name)

  const install = async (): Promise<void> => {
    const cache = await caches.open(name)
    // Not what the browser may still have of them: names without a hash in them would be old.
    await cache.addAll(files.map((file) => new Request(new URL(file, scope.registration.scope), { cache: 'reload' })))
    // From now on loads get this version. Pages of the one before still find its files, as long as they are open.
    await scope.skipWaiting()
  }

  /** Once a single page is left it is one of this version: it has just been loaded. */
  const tidy = async (): Promise<void> => {
    if ((await scope.clients.matchAll({ type: 'window' })).length > 1) return
    await Promise.all((await others()).map((key) => caches.delete(key)))
  }

  const answer = async (request: Request): Promise<Response> => {
    const cache = await caches.open(name)
    if (request.mode === 'navigate') return (await cache.match(page)) ?? fetch(request)
    return (await cache.match(request)) ?? (await caches.match(request)) ?? fetch(request)
  }

  scope.addEventListener('install', (event) => event.waitUntil(install()))
  scope.addEventListener('activate', (event) => event.waitUntil(scope.clients.claim()))
  scope.addEventListener('fetch', (event) => {
    const { request } = event
    if (request.method !== 'GET' || !request.url.startsWith(scope.registration.scope)) return
    event.respondWith(answer(request))
    if (request.mode === 'navigate') event.waitUntil(tidy())
  })
}

serveOffline(self as unknown as OfflineScope, OFFLINE_FILES, OFFLINE_VERSION)
