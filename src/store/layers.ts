/** What is shown and how: layers of the plan, and the sliders of plan, sheet and 3D view. None of it is in the document. */
import { createStore, type StoreApi } from 'zustand/vanilla'

/** Layers that are on or off. */
export const SWITCHES = [
  'contacts',
  'strips',
  'rooms',
  'zones',
  'wires',
  'currents',
  'loads',
  'rulers',
  'distances',
] as const
export type Switch = (typeof SWITCHES)[number]

export type Downhill = 'front' | 'back' | 'left' | 'right'

export interface Layers {
  readonly on: Readonly<Record<Switch, boolean>>
  /** Carried items are pulled to what they could line up with. */
  readonly snapping: boolean
  /** What the motors do while currents are shown. */
  readonly drive: 'idle' | 'running' | 'stall'
  /** Degrees of the head. */
  readonly pan: number
  readonly tilt: number
  /** Degrees, and downhill towards where. */
  readonly slope: number
  readonly slopeToward: Downhill
  readonly stack: 'lightest' | 'heaviest'
}

export const FIRST: Layers = {
  on: {
    contacts: true,
    strips: false,
    rooms: true,
    zones: true,
    wires: true,
    currents: false,
    loads: false,
    rulers: true,
    distances: true,
  },
  snapping: true,
  drive: 'running',
  pan: 0,
  tilt: 0,
  slope: 0,
  slopeToward: 'front',
  stack: 'heaviest',
}

export interface LayerStore {
  readonly store: StoreApi<Layers>
  readonly flip: (name: Switch) => void
  readonly set: (part: Partial<Omit<Layers, 'on'>>) => void
}

export function createLayers(): LayerStore {
  const store = createStore<Layers>(() => FIRST)
  return {
    store,
    flip: (name) => {
      const { on } = store.getState()
      store.setState({ on: { ...on, [name]: !on[name] } })
    },
    set: (part) => store.setState(part),
  }
}

let shared: LayerStore | undefined

/** The one of the page. */
export const layers = (): LayerStore => {
  shared ??= createLayers()
  return shared
}
