/** Offline use: asks the browser to keep the page's files, and tells when it has newer ones than the page that is running. */
import { createStore, type StoreApi } from 'zustand/vanilla'

export interface RenewalState {
  /** A newer version is there, and is what the next load shows. */
  readonly renewed: boolean
}

/** The part of the browser's container of service workers that is used. */
export interface WorkersLike {
  readonly controller: unknown
  readonly register: (file: string) => Promise<unknown>
  readonly addEventListener: (kind: 'controllerchange', hear: () => void) => void
}

/** `file`: the worker's own file. A browser that refuses it is not told on: the page only needs its server then, as any other. */
export function keepForOffline(workers: WorkersLike | undefined, file: string): StoreApi<RenewalState> {
  const store = createStore<RenewalState>(() => ({ renewed: false }))
  if (!workers) return store
  // On the first visit there was none before, and what comes is what is running.
  let before = workers.controller !== null
  workers.addEventListener('controllerchange', () => {
    if (before) store.setState({ renewed: true })
    before = true
  })
  void workers.register(file).catch(() => {})
  return store
}
