/** A line to a solver in a Node thread. `file` is a bundled module that calls `listen()`. */
import { parentPort, Worker } from 'node:worker_threads'
import type { Ask, OpenLine, Say } from './protocol.ts'
import { answer } from './serve.ts'

export const openInNode =
  (file: URL | string): OpenLine =>
  (hear, broken) => {
    const worker = new Worker(file)
    worker.on('message', (say: Say) => hear(say))
    worker.on('error', (error) => broken(error instanceof Error ? error.message : String(error)))
    return { ask: (ask) => worker.postMessage(ask), end: () => void worker.terminate() }
  }

/** To be called in the thread itself. */
export function listen(): void {
  parentPort?.on('message', (ask: Ask) => answer(ask, (say) => parentPort?.postMessage(say)))
}
