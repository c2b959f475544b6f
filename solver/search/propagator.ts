/** What the engine wakes when bounds move. */

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
