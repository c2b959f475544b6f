/** What pointers and wheel do on the plan: carry an item, look around, pinch. Distances on the screen in pixels. */
import { type PointerEvent, type RefObject, useEffect, useMemo, useRef } from 'react'
import { type Placement, type Problem, um } from '../../solver/index.ts'
import { carried, TREMBLE } from '../store/align.ts'
import { placementOf } from '../store/moves.ts'
import { type PlanView, type PlanViews, panned, zoomedAt } from '../store/plan-view.ts'
import type { Actions } from '../store/store.ts'
import type { Frame } from './frame.ts'

export interface Point {
  readonly x: number
  readonly y: number
}

/** What the hands need to know; read anew at every event. */
export interface Ground {
  readonly problem: Problem
  readonly placements: readonly Placement[]
  readonly frame: Frame
  /** Millimetres for one pixel. */
  readonly scale: number
  readonly views: PlanViews
  readonly actions: Actions
  readonly snapping: boolean
  readonly measuring: boolean
  /** A point on the screen in a deck's own frame, Um. */
  readonly inDeck: (x: number, y: number, deck: number) => Point | undefined
  /** The same in mm from the sheet's middle, y to the front. */
  readonly inSheet: (x: number, y: number) => Point | undefined
  /** The pointer of whoever carries, for what is said there. */
  /** A press on the free deck that was no drag. */
  readonly onTap: (x: number, y: number) => void
  readonly onMeasure: (x: number, y: number, how: 'tap' | 'move') => void
}

interface Grip {
  readonly kind: 'item'
  readonly id: string
  readonly item: number
  readonly start: Placement
  /** From the item's corner to the pointer, Um. */
  readonly dx: number
  readonly dy: number
  readonly handle: Element
  lifted: boolean
}

interface Pan {
  readonly kind: 'pan'
  readonly view: PlanView
  readonly scale: number
  moved: boolean
}

interface Pinch {
  readonly kind: 'pinch'
  readonly view: PlanView
  readonly scale: number
  readonly apart: number
  readonly middle: Point
  /** In the sheet. */
  readonly about: Point
}

/** The deck under a point that the item may stand on, or the one where it is. */
function deckUnder({ problem, frame, inDeck }: Ground, x: number, y: number, item: number, now: number): number {
  for (const deck of problem.items[item]?.decks ?? []) {
    const box = frame.decks[deck]?.box
    const p = inDeck(x, y, deck)
    if (box && p && p.x >= box.x && p.y >= box.y && p.x <= box.x + box.w && p.y <= box.y + box.h) return deck
  }
  return now
}

function carryTo(ground: Ground, grip: Grip, event: { clientX: number; clientY: number; altKey: boolean }): void {
  const { problem, placements, actions, scale, snapping } = ground
  const now = placementOf(placements, grip.item)
  if (!now) return
  const deck = deckUnder(ground, event.clientX, event.clientY, grip.item, now.deck)
  const at = ground.inDeck(event.clientX, event.clientY, deck)
  if (!at) return
  const wish: Placement = {
    item: grip.item,
    deck,
    at: { x: um(at.x - grip.dx), y: um(at.y - grip.dy) },
    turn: now.turn,
  }
  actions.carryTo(carried(problem, placements, grip.start, wish, scale, snapping && !event.altKey))
}

const middleOf = (a: Point, b: Point): Point => ({ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 })
const apartOf = (a: Point, b: Point): number => Math.max(1, Math.hypot(a.x - b.x, a.y - b.y))

/** Handlers of a plan; each is the same function for good, so that nothing is drawn again for their sake. */
export function useGestures(svg: RefObject<SVGSVGElement | null>, ground: Ground) {
  const here = useRef(ground)
  here.current = ground

  const hands = useMemo(() => {
    const pointers = new Map<number, Point>()
    const starts = new Map<number, Point>()
    let deed: Grip | Pan | Pinch | undefined

    const letGo = (): void => {
      if (deed?.kind === 'item' && deed.lifted) here.current.actions.takeBack()
      deed = undefined
    }
    /** Only once something moves: a press alone is to reach what it is on, and bring the focus there. */
    const capture = (event: PointerEvent): void => svg.current?.setPointerCapture(event.pointerId)
    const down = (event: PointerEvent): boolean => {
      if (event.pointerType === 'mouse' && event.button !== 0) return false
      const p = { x: event.clientX, y: event.clientY }
      pointers.set(event.pointerId, p)
      starts.set(event.pointerId, p)
      if (pointers.size !== 2) return pointers.size === 1
      letGo()
      const [a, b] = [...pointers.values()]
      const { views, scale, inSheet } = here.current
      const middle = middleOf(a!, b!)
      const about = inSheet(middle.x, middle.y)
      if (about) deed = { kind: 'pinch', view: views.store.getState(), scale, apart: apartOf(a!, b!), middle, about }
      return false
    }
    const press = (event: PointerEvent, start: Placement, id: string): void => {
      const { measuring, inDeck, actions } = here.current
      // One that was let go of outside left no word of it.
      pointers.delete(event.pointerId)
      // The press of a measurer, and a second finger, go on to the plan.
      if (measuring || pointers.size > 0) return
      if (event.pointerType === 'mouse' && event.button !== 0) return
      const at = inDeck(event.clientX, event.clientY, start.deck)
      if (!at || !down(event)) return
      event.stopPropagation()
      actions.select(id)
      const [dx, dy] = [at.x - start.at.x, at.y - start.at.y]
      deed = { kind: 'item', id, item: start.item, start, dx, dy, handle: event.currentTarget, lifted: false }
    }
    const ground = (event: PointerEvent): void => {
      if ((event.target as Element).closest('.hold-mark') || !down(event)) return
      const { views, scale } = here.current
      deed = { kind: 'pan', view: views.store.getState(), scale, moved: false }
    }
    const far = (event: PointerEvent): boolean => {
      const from = starts.get(event.pointerId)
      return !!from && Math.hypot(event.clientX - from.x, event.clientY - from.y) >= TREMBLE
    }
    const move = (event: PointerEvent): void => {
      const { views, frame, actions, measuring, onMeasure } = here.current
      if (measuring && !deed) onMeasure(event.clientX, event.clientY, 'move')
      if (!pointers.has(event.pointerId)) return
      pointers.set(event.pointerId, { x: event.clientX, y: event.clientY })
      if (deed?.kind === 'item') {
        if (!deed.lifted) {
          if (!far(event)) return
          deed.lifted = true
          capture(event)
          // Its keys take back what is carried; a press does not always bring the focus.
          if (deed.handle instanceof SVGElement) deed.handle.focus({ preventScroll: true })
          actions.lift(deed.id, 'pointer')
        }
        carryTo(here.current, deed, event)
      } else if (deed?.kind === 'pan') {
        if (!deed.moved) {
          if (!far(event)) return
          deed.moved = true
          capture(event)
        }
        const from = starts.get(event.pointerId)!
        const { view, scale } = deed
        views.show(panned(view, (from.x - event.clientX) * scale, (event.clientY - from.y) * scale), frame)
      } else if (deed?.kind === 'pinch') {
        const [a, b] = [...pointers.values()]
        if (!a || !b) return
        const middle = middleOf(a, b)
        const near = zoomedAt(deed.view, apartOf(a, b) / deed.apart, deed.about)
        const scale = (deed.scale * deed.view.zoom) / near.zoom
        views.show(panned(near, (deed.middle.x - middle.x) * scale, (middle.y - deed.middle.y) * scale), frame)
      }
    }
    const up = (event: PointerEvent): void => {
      if (!pointers.delete(event.pointerId)) return
      starts.delete(event.pointerId)
      const { actions, measuring, onMeasure, onTap } = here.current
      const done = deed
      // The finger that stays after a pinch does nothing more.
      deed = undefined
      if (done?.kind === 'item' && done.lifted) actions.drop()
      if (done?.kind === 'pan' && !done.moved) {
        if (measuring) onMeasure(event.clientX, event.clientY, 'tap')
        else onTap(event.clientX, event.clientY)
      }
    }
    const cancel = (event: PointerEvent): void => {
      if (!pointers.delete(event.pointerId)) return
      starts.delete(event.pointerId)
      letGo()
    }
    // A finger is captured by what it is on at first, and loses that when the plan takes it over.
    const lost = (event: PointerEvent): void => {
      if (event.target === event.currentTarget) cancel(event)
    }
    return { press, ground, move, up, cancel, lost }
  }, [svg])

  useEffect(() => {
    const element = svg.current
    if (!element) return
    const wheel = (event: WheelEvent): void => {
      const { views, frame, inSheet, scale } = here.current
      const view = views.store.getState()
      const unit = event.deltaMode === 1 ? 16 : 1
      if (event.shiftKey && view.zoom > 1) {
        event.preventDefault()
        views.show(panned(view, (event.deltaX || event.deltaY) * unit * scale, 0), frame)
        return
      }
      const by = -event.deltaY * unit * (event.ctrlKey ? 0.01 : 0.0015)
      // With the whole deck in sight the page scrolls on.
      if (by === 0 || (by < 0 && view.zoom <= 1 && !event.ctrlKey)) return
      event.preventDefault()
      const about = inSheet(event.clientX, event.clientY)
      if (about) views.show(zoomedAt(view, Math.exp(by), about), frame)
    }
    // What lies under a finger is carried, and must not be taken for a page to scroll.
    const touch = (event: TouchEvent): void => {
      if ((event.target as Element).closest('.item')) event.preventDefault()
    }
    element.addEventListener('wheel', wheel, { passive: false })
    element.addEventListener('touchstart', touch, { passive: false })
    return () => {
      element.removeEventListener('wheel', wheel)
      element.removeEventListener('touchstart', touch)
    }
  }, [svg])

  return hands
}
