/** The keys of one item, the same in the plan and in the list: arrows move, Shift and arrows turn, Space holds, Esc takes back. */
import type { Actions, State } from '../store/store.ts'

export interface KeyLike {
  readonly key: string
  readonly shiftKey: boolean
  readonly ctrlKey: boolean
  readonly metaKey: boolean
  readonly altKey: boolean
  readonly preventDefault: () => void
}

/** How long, in milliseconds, a carried item hangs after the last arrow before it is put down by itself. */
const SETTLE = 900

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
}

export interface ItemKeys {
  readonly press: (id: string, event: KeyLike) => void
  /** Focus leaves the item. */
  readonly leave: () => void
}

export function createItemKeys(getState: () => State, actions: Actions): ItemKeys {
  let timer: ReturnType<typeof setTimeout> | undefined
  const carried = (id: string): boolean => {
    const { carry, history, active } = getState()
    return carry?.by === 'keys' && history.doc.sheets[active]?.problem.items[carry.item]?.id === id
  }
  const settle = (): void => {
    clearTimeout(timer)
    if (getState().carry?.by === 'keys') actions.drop()
  }
  const press = (id: string, event: KeyLike): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return
    const { history, active } = getState()
    const sheet = history.doc.sheets[active]
    const arrow = ARROWS[event.key]
    if (arrow) {
      event.preventDefault()
      if (event.shiftKey) {
        settle()
        actions.turn(id, arrow[0] + arrow[1] > 0 ? -1 : 1)
        return
      }
      if (!carried(id)) actions.lift(id, 'keys')
      actions.nudge(arrow[0], arrow[1])
      clearTimeout(timer)
      timer = setTimeout(settle, SETTLE)
    } else if (event.key === ' ') {
      event.preventDefault()
      if (carried(id)) settle()
      else if (sheet?.holds.includes(id)) actions.free(id)
      else actions.hold(id)
    } else if (event.key === 'Enter') {
      event.preventDefault()
      settle()
      actions.select(id)
    } else if (event.key === 'Escape') {
      clearTimeout(timer)
      if (getState().carry) actions.takeBack()
      else actions.select(undefined)
    }
  }
  return { press, leave: settle }
}
