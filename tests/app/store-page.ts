/** The page's store with the real solver in this thread, for tests that wait for its answers. */
import { expect, vi } from 'vitest'
import { createDeckwright, shown } from '../../src/store/store.ts'
import { viewOf } from '../../src/store/view.ts'
import { createPool, type Pool } from '../../src/worker/pool.ts'
import { openHere } from './here.ts'
import { files, project as sample, text } from './store-sample.ts'

/** A coarse grid, so that all is soon proven. */
export const project = { ...sample, settings: { grid: 5 } }

export type Ask = Pool['ask']

/** The page's store with the real solver in this thread; `ask`: what answers its what-ifs instead. */
export async function page(document: unknown = project, ask?: Ask) {
  const opened = files.open(text(document), 'moss.json')
  if (opened.kind !== 'opened') throw new Error(JSON.stringify(opened.problems))
  const pool = createPool(openHere)
  const { store, actions, end } = createDeckwright(files, ask ? { ...pool, ask } : pool, opened.doc)
  const sheet = () => store.getState().history.doc.sheets[store.getState().active]!
  const settled = () => vi.waitFor(() => expect(viewOf(store.getState(), 0)?.looking).toBe(false), { timeout: 20_000 })
  await settled()
  return {
    store,
    actions,
    sheet,
    settled,
    asked: () => store.getState().asked.get(sheet()) ?? {},
    steps: () => store.getState().history.past.length,
    layout: () => shown(store.getState(), sheet()),
    end: () => {
      end()
      pool.end()
    },
  }
}

export const answered = <T extends { readonly kind: string } | undefined>(of: () => T) =>
  vi.waitFor(
    () => {
      const now = of()
      expect(now?.kind).toBe('answered')
      return now as Extract<NonNullable<T>, { kind: 'answered' }>
    },
    { timeout: 20_000 },
  )
