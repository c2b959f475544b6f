/** What the engine wakes when bounds move. */
import type { Domains } from './domains.ts'

export interface Propagator {
  /** False = it has called `fail` or `imply` has failed. */
  propagate(): boolean
  /** Cheap ones (0) run before dear ones (1, 2). */
  readonly cost: 0 | 1 | 2
}

/** Behind a positive truth literal, and so cheap that it is called at once, not queued; never while its literal is false, or `need` is. */
export interface Eager {
  /** The literal's variable. */
  readonly v: number
  /** The variable of a positive literal without which nobody asks for it: most pairs of bodies are not on one deck. */
  readonly need: number
  propagate(): boolean
}

/** Of literals that must all hold before anything follows: the one that is left open, −1 where all do; none where one is false or two are open. */
export function stillOpen(e: Domains, when: readonly number[]): number | undefined {
  let open = -1
  for (const l of when) {
    if (e.isTrue(l)) continue
    if (open !== -1 || e.isFalse(l)) return undefined
    open = l
  }
  return open
}
