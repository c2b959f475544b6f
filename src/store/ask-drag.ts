/** While an item is carried: where the others would go, from a session of the solver that follows the hand. */
import type { StoreApi } from 'zustand/vanilla'
import type { Hold, Placement } from '../../solver/index.ts'
import type { Drag } from '../worker/drag.ts'
import type { Sheet } from './document.ts'
import { placementOf, samePlace } from './moves.ts'
import { holdsIn, type PoolLike } from './solves.ts'
import type { Carry, State } from './state.ts'

/** Follows what is carried, and sets `carry.preview`. Gives back what ends it. */
export function followDrags(store: StoreApi<State>, pool: PoolLike): () => void {
  if (!pool.drag) return () => {}
  const open = pool.drag
  let drag: { readonly sheet: Sheet; readonly line: Drag } | undefined

  const show = (carry: Carry, preview: readonly Placement[] | undefined): void => {
    const now = store.getState().carry
    // it hangs elsewhere by now
    if (!now || now.placements !== carry.placements) return
    const { preview: _, ...rest } = now
    if (preview || now.preview) store.setState({ carry: preview ? { ...rest, preview } : rest })
  }

  const ask = (sheet: Sheet, carry: Carry): void => {
    if (drag?.sheet !== sheet) drag = { sheet, line: open(sheet.problem) }
    const hung = placementOf(carry.placements, carry.item)
    if (!hung) return
    const held = holdsIn(sheet, carry.from).filter((h) => h.item !== carry.item)
    const mine: Hold = { item: carry.item, deck: hung.deck, at: hung.at, turn: hung.turn }
    drag.line.to([...held, mine], carry.placements, (found) => {
      const moves = found?.some((p) => !samePlace(p, placementOf(carry.placements, p.item)))
      const gone = found && carry.placements.some((p) => !placementOf(found, p.item))
      show(carry, moves || gone ? found : undefined)
    })
  }

  return store.subscribe((state, before) => {
    const { carry } = state
    if (carry?.placements === before.carry?.placements) return
    const sheet = state.history.doc.sheets[state.active]
    if (carry && sheet) ask(sheet, carry)
    else {
      drag?.line.end()
      drag = undefined
    }
  })
}
