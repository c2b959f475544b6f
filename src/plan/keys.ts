/** The keys of one item, the same in the plan and in the list: by default arrows move, Shift and arrows turn, Space holds, Esc takes back. */
import { type ItemDeed, itemDeed, type KeyLike, type KeyMap, keys as keyStore } from '../store/key-map.ts'
import { called } from '../store/sentences.ts'
import { isBuilt } from '../store/state.ts'
import type { Actions, State } from '../store/store.ts'
import { words } from '../words/index.ts'

export interface PressLike extends KeyLike {
  readonly preventDefault: () => void
}

/** How long, in milliseconds, a carried item hangs after the last arrow before it is put down by itself. */
const SETTLE = 900

const STEPS: Readonly<Partial<Record<ItemDeed, readonly [number, number]>>> = {
  left: [-1, 0],
  right: [1, 0],
  front: [0, 1],
  back: [0, -1],
}

export interface ItemKeys {
  readonly press: (id: string, event: PressLike) => void
  /** Focus leaves the item. */
  readonly leave: () => void
}

export function createItemKeys(
  getState: () => State,
  actions: Actions,
  map: () => KeyMap = () => keyStore().store.getState(),
  /** Opens what can be said of an item. */
  open?: (id: string) => void,
  /** Says why nothing was done. */
  say?: (text: string) => void,
): ItemKeys {
  let timer: ReturnType<typeof setTimeout> | undefined
  const carried = (id: string): boolean => {
    const { carry, history, active } = getState()
    return carry?.by === 'keys' && history.doc.sheets[active]?.problem.items[carry.item]?.id === id
  }
  const settle = (): void => {
    clearTimeout(timer)
    if (getState().carry?.by === 'keys') actions.drop()
  }
  const act = (id: string, deed: ItemDeed): void => {
    const step = STEPS[deed]
    const { history, active } = getState()
    const sheet = history.doc.sheets[active]
    if (sheet && isBuilt(sheet, id) && deed !== 'open' && deed !== 'takeBack') {
      settle()
      actions.select(id)
      say?.(deed === 'hold' ? words.page.inHand.notFreed(called(id)) : words.page.inHand.notMoved(called(id)))
    } else if (step) {
      if (!carried(id)) actions.lift(id, 'keys')
      actions.nudge(step[0], step[1])
      clearTimeout(timer)
      timer = setTimeout(settle, SETTLE)
    } else if (deed === 'turnLeft' || deed === 'turnRight') {
      settle()
      actions.turn(id, deed === 'turnLeft' ? 1 : -1)
    } else if (deed === 'hold') {
      if (carried(id)) settle()
      else if (sheet?.holds.includes(id)) actions.free(id)
      else actions.hold(id)
    } else if (deed === 'open') {
      settle()
      actions.select(id)
      open?.(id)
    } else {
      clearTimeout(timer)
      if (getState().carry) actions.takeBack()
      else actions.select(undefined)
    }
  }
  const press = (id: string, event: PressLike): void => {
    const deed = itemDeed(map(), event)
    if (!deed) return
    if (deed !== 'takeBack') event.preventDefault()
    act(id, deed)
  }
  return { press, leave: settle }
}
