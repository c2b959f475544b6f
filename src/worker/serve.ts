/** The solver's end of the line: the same for a browser's worker, a Node thread, and the caller's own thread. */
import { solving } from '../../solver/index.ts'
import { type Ask, errorText, type OpenLine, type Say, type Stop } from './protocol.ts'

type Signal = { readonly aborted: boolean }

/** Answers one ask in slices; the generator yields where the caller may pause or stop. */
export function* answering(ask: Ask, say: (say: Say) => void, signal: Signal): Generator<void, void, void> {
  try {
    const { time } = ask.options
    const run = solving(ask.problem, {
      ...ask.options,
      ...(time === undefined ? {} : { time: Math.max(0, time - Math.max(0, Date.now() - ask.at)) }),
      signal,
      onProgress: (progress) => say({ kind: 'progress', id: ask.id, progress }),
    })
    for (;;) {
      const next = run.next()
      if (next.done) {
        say({ kind: 'done', id: ask.id, result: next.value })
        return
      }
      yield
    }
  } catch (error) {
    say({ kind: 'failed', id: ask.id, error: errorText(error) })
  }
}

/** Answers one ask to its end, without a pause; only the shared flag can stop it. */
export function answer(ask: Ask, say: (say: Say) => void): void {
  const { flag } = ask
  const signal = {
    get aborted() {
      return flag !== undefined && Atomics.load(flag, 0) !== 0
    },
  }
  for (const _ of answering(ask, say, signal));
}

/** Answers asks in slices; between two of them `later` lets messages in, so that a stop is heard. One ask at a time. */
export function answerer(say: (say: Say) => void, later: (go: () => void) => void): (heard: Ask | Stop) => void {
  let running: { id: number; aborted: boolean } | undefined
  return (heard) => {
    if (heard.kind === 'stop') {
      if (running?.id === heard.id) running.aborted = true
      return
    }
    const mine = { id: heard.id, aborted: false }
    running = mine
    const run = answering(heard, say, mine)
    const slice = (): void => {
      if (!run.next().done) later(slice)
    }
    slice()
  }
}

/** A line without a thread, for where there are none: between slices the caller's own thread is free. */
export const openHere: OpenLine = (hear) => {
  let ended = false
  const later = (go: () => void): void => {
    setTimeout(() => {
      if (!ended) go()
    }, 0)
  }
  const heard = answerer((say) => {
    if (!ended) hear(say)
  }, later)
  return {
    ask: (ask) => later(() => heard(ask)),
    stop: (id) => heard({ kind: 'stop', id }),
    end: () => {
      ended = true
    },
  }
}
