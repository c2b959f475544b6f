/** The solver's end of the line: the same for a browser's worker, a Node thread, and the caller's own thread. */
import { solving } from '../../solver/index.ts'
import { type Ask, errorText, type OpenLine, type Say } from './protocol.ts'

/** Answers one ask in slices; the generator yields where the caller may pause or stop. */
export function* answering(ask: Ask, say: (say: Say) => void): Generator<void, void, void> {
  try {
    const run = solving(ask.problem, {
      ...ask.options,
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

/** Answers one ask to its end. */
export function answer(ask: Ask, say: (say: Say) => void): void {
  for (const _ of answering(ask, say));
}

/** A line without a thread, for where there are none: between slices the caller's own thread is free. */
export const openHere: OpenLine = (hear) => {
  let ended = false
  const heard = (say: Say): void => {
    if (!ended) hear(say)
  }
  return {
    ask: (ask) => {
      const run = answering(ask, heard)
      const slice = (): void => {
        if (!ended && !run.next().done) setTimeout(slice, 0)
      }
      setTimeout(slice, 0)
    },
    end: () => {
      ended = true
    },
  }
}
