/** The solver's end of the line: the same for a browser's worker and a Node thread; tests run it in their own. */
import { differing, loosening, type Problem, type Progress, Session } from '../../solver/index.ts'
import { type Ask, type DragAsk, errorText, type Say, type Stop } from './protocol.ts'
import { ruling } from './ruled.ts'
import { limitsOf, type Rules, wiringRules } from './rules.ts'

type Signal = { readonly aborted: boolean }

/** What a thread keeps from one ask to the next: the session of a drag. */
export interface Kept {
  session?: Session
}

/** Answers one ask in slices; the generator yields where the caller may pause or stop. */
export function* answering(
  ask: Ask,
  say: (say: Say) => void,
  signal: Signal,
  kept: Kept = {},
): Generator<void, void, void> {
  const { id } = ask
  try {
    switch (ask.kind) {
      case 'solve': {
        const onProgress = (progress: Progress) => say({ kind: 'progress', id, progress })
        const options = { ...inTime(ask.options, ask.at), signal, onProgress }
        const { result, short } = yield* slices(ruling(ask.problem, ask.rules ?? {}, options))
        say({ kind: 'done', id, result, ...(short.length > 0 ? { short } : {}) })
        return
      }
      case 'loosen': {
        const options = { ...inTime(ask.options, ask.at), signal, lazy: limitsOf(ask.problem) }
        say({ kind: 'answered', id, answer: yield* slices(loosening(ask.problem, ask.conflict, options)) })
        return
      }
      case 'equal': {
        const lazy = allRules(ask.problem, ask.rules)
        const options = { ...inTime(ask.options, ask.at), signal, lazy }
        say({ kind: 'answered', id, answer: yield* slices(differing(ask.problem, ask.count, options)) })
        return
      }
      case 'drag':
        say(dragged(ask, kept))
    }
  } catch (error) {
    say({ kind: 'failed', id, error: errorText(error) })
  }
}

/** Where equal figures are asked for, a layout must keep every rule that the best one keeps. */
const allRules = (problem: Problem, rules: Rules | undefined) => [
  ...limitsOf(problem),
  ...wiringRules(problem, rules ?? {}),
]

function dragged({ id, problem, holds, hint }: DragAsk, kept: Kept): Say {
  if (problem) kept.session = new Session(problem)
  const placements = kept.session?.next(holds, hint)
  return { kind: 'dragged', id, ...(placements ? { placements } : {}) }
}

/** The options with what has passed since the asking taken from the time. */
function inTime<O extends { readonly time?: number }>(options: O, at: number): O {
  const { time } = options
  return time === undefined ? options : { ...options, time: Math.max(0, time - Math.max(0, Date.now() - at)) }
}

function* slices<T>(run: Generator<undefined, T, void>): Generator<void, T, void> {
  for (;;) {
    const next = run.next()
    if (next.done) return next.value
    yield
  }
}

/** Answers one ask to its end, without a pause; only the shared flag can stop it. */
export function answer(ask: Ask, say: (say: Say) => void, kept?: Kept): void {
  const flag = ask.kind === 'drag' ? undefined : ask.flag
  const signal = {
    get aborted() {
      return flag !== undefined && Atomics.load(flag, 0) !== 0
    },
  }
  for (const _ of answering(ask, say, signal, kept));
}

/** Answers asks in slices; between two of them `later` lets messages in, so that a stop is heard. One ask at a time. */
export function answerer(say: (say: Say) => void, later: (go: () => void) => void): (heard: Ask | Stop) => void {
  let running: { id: number; aborted: boolean } | undefined
  const kept: Kept = {}
  return (heard) => {
    if (heard.kind === 'stop') {
      if (running?.id === heard.id) running.aborted = true
      return
    }
    const mine = { id: heard.id, aborted: false }
    running = mine
    const run = answering(heard, say, mine, kept)
    const slice = (): void => {
      if (!run.next().done) later(slice)
    }
    slice()
  }
}
