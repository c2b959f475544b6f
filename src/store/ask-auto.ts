/** What holds cost is asked without being told to, once a layout has stood still for a moment. */
import type { Sheet } from './document.ts'
import type { Deckwright } from './state.ts'

/** Milliseconds that a layout must stand, so that nothing is asked between two drags. */
const STILL = 700
/** Beyond so many holds nobody waits for all of them; then each is asked by itself. */
const MOST = 8

/** Gives back what ends it. */
export function askCostsAlong({ store, actions }: Deckwright): () => void {
  let timer: ReturnType<typeof setTimeout> | undefined
  let waiting: Sheet | undefined
  const look = (): void => {
    const { history, active, carry } = store.getState()
    const sheet = history.doc.sheets[active]
    const free = sheet ? sheet.holds.length - (sheet.built?.length ?? 0) : 0
    const due = sheet?.answer && !carry && free > 0 && free <= MOST ? sheet : undefined
    if (due === waiting) return
    clearTimeout(timer)
    waiting = due
    if (due) timer = setTimeout(() => actions.askCosts(), STILL)
  }
  look()
  const unsubscribe = store.subscribe(look)
  return () => {
    clearTimeout(timer)
    unsubscribe()
  }
}
