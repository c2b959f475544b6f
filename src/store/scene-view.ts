/** What the 3D views show of the layout and how: none of it is in the document, and nothing of it moves a part. */
import { createStore, type StoreApi } from 'zustand/vanilla'

/** Each part is there, only hinted at, or left away. */
export const WAYS = ['shown', 'ghost', 'hidden'] as const
export type Way = (typeof WAYS)[number]

export const EXTRAS = ['wires', 'sweep', 'rooms', 'zones', 'balance'] as const
export type Extra = (typeof EXTRAS)[number]

export interface SceneView {
  /** Parts that are not simply shown, by `partKey`. */
  readonly parts: Readonly<Record<string, 'ghost' | 'hidden'>>
  readonly on: Readonly<Record<Extra, boolean>>
  /** How far the decks are lifted apart: 0 as built, 1 far. */
  readonly lift: number
  /** How high stacks are, of the height that is reserved for them: 0 nothing at their lightest, 1 all at their heaviest. */
  readonly stacked: number
}

export const FIRST: SceneView = {
  parts: {},
  on: { wires: true, sweep: true, rooms: false, zones: false, balance: false },
  lift: 0,
  stacked: 1,
}

/** Items and decks may have the same id. */
export const partKey = (kind: 'item' | 'deck', id: string): string => `${kind} ${id}`

export const wayOf = (view: SceneView, kind: 'item' | 'deck', id: string): Way =>
  view.parts[partKey(kind, id)] ?? 'shown'

export interface SceneViewStore {
  readonly store: StoreApi<SceneView>
  readonly flip: (extra: Extra) => void
  readonly set: (part: Partial<Pick<SceneView, 'lift' | 'stacked'>>) => void
  readonly show: (kind: 'item' | 'deck', id: string, way: Way) => void
  readonly showAll: () => void
}

const within = (value: number): number => (value > 0 ? Math.min(1, value) : 0)

export function createSceneView(): SceneViewStore {
  const store = createStore<SceneView>(() => FIRST)
  return {
    store,
    flip: (extra) => {
      const { on } = store.getState()
      store.setState({ on: { ...on, [extra]: !on[extra] } })
    },
    set: (part) => {
      const { lift, stacked } = { ...store.getState(), ...part }
      store.setState({ lift: within(lift), stacked: within(stacked) })
    },
    show: (kind, id, way) => {
      const { [partKey(kind, id)]: _, ...parts } = store.getState().parts
      store.setState({ parts: way === 'shown' ? parts : { ...parts, [partKey(kind, id)]: way } })
    },
    showAll: () => store.setState({ parts: {} }),
  }
}

let shared: SceneViewStore | undefined

/** The one of the page. */
export const sceneView = (): SceneViewStore => {
  shared ??= createSceneView()
  return shared
}
