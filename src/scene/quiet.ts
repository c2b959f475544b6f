/** What three says in the console, but for what is no fault of anybody here. */
import { setConsoleFunction } from 'three'

/** The clock is made by the renderer's own React part, and a context that was lost is said on the page itself. */
const KNOWN = /^THREE\.(Clock: This module has been deprecated|WebGLRenderer: Context (Lost|Restored))/

/** From now on, for all views. */
export function quietly(): void {
  setConsoleFunction((type, message, ...rest) => {
    if (!KNOWN.test(message)) console[type](message, ...rest)
  })
}
