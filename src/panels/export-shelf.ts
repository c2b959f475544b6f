/** Where the browser keeps what the user sets; undefined where it keeps nothing. */
import type { Shelf } from '../store/export-settings.ts'

export function shelf(): Shelf | undefined {
  try {
    return window.localStorage
  } catch {
    return undefined
  }
}
