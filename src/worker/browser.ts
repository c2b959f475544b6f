/** A line to a solver in a browser's worker; in the caller's own thread where workers are not to be had. */
import type { OpenLine, Say } from './protocol.ts'
import { openHere } from './serve.ts'

export const openInBrowser: OpenLine = (hear, broken) => {
  if (typeof Worker === 'undefined') return openHere(hear, broken)
  const worker = new Worker(new URL('./entry.ts', import.meta.url), { type: 'module', name: 'solver' })
  worker.addEventListener('message', (event: MessageEvent<Say>) => hear(event.data))
  worker.addEventListener('error', (event) => broken(event.message || 'the solver could not be loaded'))
  return { ask: (ask) => worker.postMessage(ask), end: () => worker.terminate() }
}
