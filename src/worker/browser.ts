/** A line to a solver in a browser's worker. Without workers it is broken, and says so: the page must never block on a solve. */
import type { OpenLine, Say } from './protocol.ts'
import { threads } from './words.ts'

export const openInBrowser: OpenLine = (hear, broken) => {
  if (typeof Worker === 'undefined') {
    const ask = () => queueMicrotask(() => broken(threads.noWorkers))
    return { ask, stop: () => {}, end: () => {} }
  }
  const worker = new Worker(new URL('./entry.ts', import.meta.url), { type: 'module', name: 'solver' })
  worker.addEventListener('message', (event: MessageEvent<Say>) => hear(event.data))
  worker.addEventListener('error', (event) => broken(event.message || threads.noSolver))
  return {
    ask: (ask) => worker.postMessage(ask),
    stop: (id) => worker.postMessage({ kind: 'stop', id }),
    end: () => worker.terminate(),
  }
}
