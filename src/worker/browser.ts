/** A line to a solver in a browser's worker; in the page's own thread where workers are not to be had. */
import { errorText, type OpenLine, type Say } from './protocol.ts'

/** The solver is large, so the page's first script is without it. */
const openLate: OpenLine = (hear, broken) => {
  const line = import('./serve.ts').then((serve) => serve.openHere(hear, broken))
  line.catch((error: unknown) => broken(errorText(error)))
  const then = (act: (opened: Awaited<typeof line>) => void): void => {
    line.then(act, () => {})
  }
  return { ask: (ask) => then((opened) => opened.ask(ask)), end: () => then((opened) => opened.end()) }
}

export const openInBrowser: OpenLine = (hear, broken) => {
  if (typeof Worker === 'undefined') return openLate(hear, broken)
  const worker = new Worker(new URL('./entry.ts', import.meta.url), { type: 'module', name: 'solver' })
  worker.addEventListener('message', (event: MessageEvent<Say>) => hear(event.data))
  worker.addEventListener('error', (event) => broken(event.message || 'the solver could not be loaded'))
  return { ask: (ask) => worker.postMessage(ask), end: () => worker.terminate() }
}
