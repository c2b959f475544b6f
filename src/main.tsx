import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { loadLibrary } from '../footprints/load.ts'
import { App } from './panels/app.tsx'
import { askCostsAlong } from './store/ask-auto.ts'
import { createCaliperRows } from './store/caliper-rows.ts'
import { filesWith } from './store/files.ts'
import { createKeep } from './store/keep.ts'
import { claimsOfBrowser } from './store/keep-claims.ts'
import { indexedShelf } from './store/keep-indexed.ts'
import { keepForOffline } from './store/renewal.ts'
import { shelf } from './store/shelf.ts'
import { createStart } from './store/start.ts'
import { createDeckwright } from './store/store.ts'
import { openInBrowser } from './worker/browser.ts'
import { createPool } from './worker/pool.ts'
import './look.css'
import './plan.css'
import './sheet.css'
import './panels.css'

/** Milliseconds that the last work may take to be found; after that the start view is shown, and gives way when it comes. */
const SOON = 1500

const demos = Object.entries(
  import.meta.glob<string>('../demo-data/*.json', { query: '?raw', eager: true, import: 'default' }),
).map(([path, text]) => ({ file: path.split('/').at(-1) ?? path, text }))

/** A browser may forbid even asking for it. */
function storage(): IDBFactory | undefined {
  try {
    return window.indexedDB
  } catch {
    return undefined
  }
}

/** What this tab remembers over a reload; it too may be forbidden. */
const TAB_WORK = 'deckwright work'
const tab = {
  last: (): string | undefined => {
    try {
      return sessionStorage.getItem(TAB_WORK) ?? undefined
    } catch {
      return undefined
    }
  },
  is: (id: string): void => {
    try {
      sessionStorage.setItem(TAB_WORK, id)
    } catch {
      // The newest work is found again then.
    }
  },
}

const files = filesWith(loadLibrary())
const pool = createPool(openInBrowser)
const deckwright = createDeckwright(files, pool, files.empty(160, 120))
askCostsAlong(deckwright)
const channel = typeof BroadcastChannel === 'undefined' ? undefined : new BroadcastChannel('deckwright')
const keep = createKeep(deckwright, files, {
  shelf: indexedShelf(storage()),
  claims: claimsOfBrowser(navigator.locks as Parameters<typeof claimsOfBrowser>[0], channel),
  now: Date.now,
  // The name of a built file has a sum of all that it brings along in it, the solver's thread too.
  program: new URL(import.meta.url).pathname.split('/').at(-1) ?? '',
  tab,
  newId: () => `${Date.now().toString(36)}-${Math.random().toString(36).slice(2, 10)}`,
})
const start = createStart(deckwright, files, pool, demos)
// A page that is hidden may never be seen again.
document.addEventListener('visibilitychange', () => {
  if (document.visibilityState === 'hidden') void keep.flush()
})
window.addEventListener('pagehide', () => void keep.flush('last'))

const found = await Promise.race([keep.begin(), new Promise<false>((late) => setTimeout(() => late(false), SOON))])
if (!found && deckwright.store.getState().opened === 0) start.show()
// A server for development has no such file, and serves the newest in any case.
const renewal = keepForOffline(import.meta.hot ? undefined : navigator.serviceWorker, './offline.js')
const root = document.getElementById('root')
if (root)
  createRoot(root).render(
    <StrictMode>
      <App deckwright={deckwright} around={{ keep, start, renewal, caliper: createCaliperRows(shelf()) }} />
    </StrictMode>,
  )
