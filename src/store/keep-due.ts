/** How soon what has changed is to be kept: a change and a search's last word in a moment, what a search comes by on its way now and then. */
import type { Problem } from '../../solver/index.ts'
import type { State } from './state.ts'

/** Milliseconds to the writing; what changes meanwhile goes along. */
export const WAIT = { change: 250, search: 1000 } as const

const anyOf = (state: State, test: (problem: Problem) => boolean): boolean =>
  state.history.doc.sheets.some(({ problem }) => test(problem))

/** Whether a search came to its end between the two. */
export const answered = (state: State, before: State): boolean =>
  anyOf(state, (problem) => {
    const now = state.known.get(problem)
    return now?.answer !== undefined && now !== before.known.get(problem)
  })

/** Whether one that had ended was begun again. */
export const lookedOn = (state: State, before: State): boolean =>
  anyOf(
    state,
    (problem) => before.known.get(problem)?.answer !== undefined && state.known.get(problem)?.answer === undefined,
  )

/** Whether one has come by a layout, or by a bound of the one that it has. */
export const nearer = (state: State, before: State): boolean =>
  anyOf(state, (problem) => {
    const [now, was] = [state.known.get(problem), before.known.get(problem)]
    if (!now?.placements || now === was) return false
    return (
      now.placements !== was?.placements || [...(now.bounds ?? [])].some(([name, b]) => was.bounds?.get(name) !== b)
    )
  })
