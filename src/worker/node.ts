/** A line to a solver in a Node thread. `file` is a bundled module that calls `listen()`. */
import { parentPort, Worker } from 'node:worker_threads'
import type { Ask, OpenLine, Say } from './protocol.ts'
import { answer, type Kept } from './serve.ts'
import { threads } from './words.ts'

export const openInNode =
  (file: URL | string): OpenLine =>
  (hear, broken) => {
    const worker = new Worker(file)
    /** Threads here share memory, so a stop is seen in the middle of a slice too. */
    let flag: Int32Array | undefined
    let ended = false
    worker.on('message', (say: Say) => hear(say))
    worker.on('error', (error) => broken(error instanceof Error ? error.message : String(error)))
    worker.on('exit', () => {
      if (!ended) broken(threads.solverEnded)
    })
    return {
      ask: (ask) => {
        flag = new Int32Array(new SharedArrayBuffer(4))
        worker.postMessage({ ...ask, flag })
      },
      stop: () => {
        if (flag) Atomics.store(flag, 0, 1)
      },
      end: () => {
        ended = true
        void worker.terminate()
      },
    }
  }

/** To be called in the thread itself. */
export function listen(): void {
  const kept: Kept = {}
  parentPort?.on('message', (ask: Ask) => answer(ask, (say) => parentPort?.postMessage(say), kept))
}
