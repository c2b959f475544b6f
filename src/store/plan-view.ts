/** Which part of the sheet a plan shows. One store may serve several plans, which then move together. */
import { createStore, type StoreApi } from 'zustand/vanilla'

export interface Size {
  readonly width: number
  readonly height: number
}

/** `zoom` 1 shows the whole sheet. `x`, `y`: mm from the sheet's middle to the middle of what is shown, y to the front. */
export interface PlanView {
  readonly zoom: number
  readonly x: number
  readonly y: number
}

export const WHOLE: PlanView = { zoom: 1, x: 0, y: 0 }
/** So near that a contact is as large as a thumb. */
export const NEAREST = 16
/** One press of a button or key. */
export const STEP = 1.5

const within = (value: number, most: number): number => Math.min(most, Math.max(-most, value))

/** The nearest view that shows nothing beyond the sheet. */
export function kept({ zoom, x, y }: PlanView, sheet: Size): PlanView {
  const z = Math.min(NEAREST, Math.max(1, zoom))
  const room = (1 - 1 / z) / 2
  return { zoom: z, x: within(x, sheet.width * room), y: within(y, sheet.height * room) }
}

/** Nearer by `factor` about a point that stays where it is (mm from the sheet's middle). */
export function zoomedAt(view: PlanView, factor: number, at: { readonly x: number; readonly y: number }): PlanView {
  const zoom = Math.min(NEAREST, Math.max(1, view.zoom * factor))
  const k = view.zoom / zoom
  return { zoom, x: at.x - (at.x - view.x) * k, y: at.y - (at.y - view.y) * k }
}

/** What is shown moves by so many mm. */
export const panned = (view: PlanView, dx: number, dy: number): PlanView => ({
  zoom: view.zoom,
  x: view.x + dx,
  y: view.y + dy,
})

export interface Pane extends Size {
  readonly x: number
  readonly y: number
}

/** The part of a sheet (mm, y down, from its upper left) that fills a picture of so many pixels, and mm for one pixel of it. */
export function paneOf(sheet: Size, view: PlanView, pixels: Size): { readonly pane: Pane; readonly scale: number } {
  const { zoom, x, y } = kept(view, sheet)
  const scale = Math.max(sheet.width / pixels.width, sheet.height / pixels.height) / zoom
  const width = pixels.width * scale
  const height = pixels.height * scale
  return {
    pane: { x: sheet.width / 2 + x - width / 2, y: sheet.height / 2 - y - height / 2, width, height },
    scale,
  }
}

export interface PlanViews {
  readonly store: StoreApi<PlanView>
  readonly show: (view: PlanView, sheet: Size) => void
  readonly whole: () => void
}

export function createPlanView(): PlanViews {
  const store = createStore<PlanView>(() => WHOLE)
  return {
    store,
    show: (view, sheet) => {
      const next = kept(view, sheet)
      const now = store.getState()
      if (next.zoom !== now.zoom || next.x !== now.x || next.y !== now.y) store.setState(next)
    },
    whole: () => store.setState(WHOLE),
  }
}
