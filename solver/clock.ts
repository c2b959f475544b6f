/** When a search pauses, and when it ends. */
import type { Search, Verdict } from './search/search.ts'

/** Pauses a search every few milliseconds. */
export interface Clock {
  /** Has this slice run long enough? */
  readonly slice: () => boolean
  /** True: stop for good. */
  readonly over: () => boolean
  /** Begins another slice. */
  readonly next: () => void
  /** Where a search that is limited by steps ends, however it is sliced. */
  readonly mostSteps: number
}

/** Runs a search to its verdict, giving way between slices. */
export function* inSlices(
  search: Search,
  assumptions: readonly number[],
  clock: Clock,
  conflicts = Number.POSITIVE_INFINITY,
): Generator<undefined, Verdict> {
  const until = search.model.e.conflicts + conflicts
  for (;;) {
    if (clock.over() || search.model.e.conflicts >= until || search.steps >= clock.mostSteps) return 'stopped'
    // many short searches make up a slice as well as a long one
    if (clock.slice()) {
      yield undefined
      clock.next()
      if (clock.over()) return 'stopped'
    }
    const verdict = search.run(assumptions, clock.slice, until, clock.mostSteps)
    if (verdict !== 'stopped') return verdict
  }
}
