/** Drags on the deck's plan, by pointer and by arrow keys: from where one begins to the edit that it comes to. */
import { type KeyboardEvent, type PointerEvent, type RefObject, useEffect, useRef, useState } from 'react'
import { faultOf } from '../model/edit-corners.ts'
import { type Part, removePart } from '../model/edit-deck.ts'
import type { PointMm } from '../model/edit-shapes.ts'
import {
  cornerFrom,
  type DeckDraft,
  type DraftCorner,
  dragBy,
  dragFrom,
  draggedCorners,
  dragTo,
  dropped,
  partOf,
} from '../store/deck-draft.ts'
import { words } from '../words/index.ts'
import { useDraft, useDraftStore, useEdit, useMake, useOpenDeck, useProject, useTakeCorners } from './deck-use.ts'
import type { Refusal } from './length-field.tsx'

/** How long, in milliseconds, what arrow keys move hangs after the last of them. */
const SETTLE = 900
const ARROWS: Readonly<Record<string, PointMm>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
}

const sameCorner = (a: DraftCorner | undefined, b: DraftCorner): boolean =>
  a !== undefined && a.at === b.at && !a.added && JSON.stringify(a.of) === JSON.stringify(b.of)

/** `frame`: the group whose coordinates are the deck's. */
export function usePlanDrag(svg: RefObject<SVGSVGElement | null>, frame: RefObject<SVGGElement | null>) {
  const project = useProject()
  const deck = useOpenDeck()
  const store = useDraftStore()
  const draft = useDraft((d) => d)
  const edit = useEdit()
  const make = useMake()
  const take = useTakeCorners()
  const [refused, setRefused] = useState<Refusal>()
  const pointer = useRef<number | undefined>(undefined)
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined)

  const inDeck = (event: PointerEvent): PointMm | undefined => {
    const matrix = frame.current?.getScreenCTM()?.inverse()
    if (!matrix) return undefined
    const p = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix)
    return [p.x, p.y]
  }
  /** Lets go: what is under way goes into the document. */
  const settle = (): void => {
    clearTimeout(timer.current)
    pointer.current = undefined
    const now = store.getState()
    if (!now.drag) return
    store.setState({ drag: undefined })
    if (now.drag.corner) {
      const corners = draggedCorners(project, now)
      if (corners) setRefused(take(now.drag.corner.of, corners))
      return
    }
    const part = now.drag.moves?.part ?? partOf(now.tool)
    if (part) setRefused(make(part, dropped(project, now)))
  }
  const cancel = (): void => {
    clearTimeout(timer.current)
    pointer.current = undefined
    store.setState({ drag: undefined })
  }
  /** Begins a drag of that pointer; `from` says what it takes, being told where it is. */
  const grab = (event: PointerEvent, from: (at: PointMm, now: DeckDraft) => DeckDraft): void => {
    const at = inDeck(event)
    if (event.button !== 0 || !at || pointer.current !== undefined) return
    settle()
    setRefused(undefined)
    pointer.current = event.pointerId
    svg.current?.setPointerCapture(event.pointerId)
    store.setState(from(at, store.getState()))
  }
  const begin = (event: PointerEvent, moves?: DeckDraft['chosen']): void =>
    grab(event, (at, now) => dragFrom(now, at, moves))
  const takeCorner = (event: PointerEvent, corner: DraftCorner, place: PointMm): void => {
    if (store.getState().tool !== 'move') return
    event.stopPropagation()
    grab(event, (at, now) => cornerFrom(now, corner, place, at))
  }

  // A timer and the window outlive the render in which they were set.
  const latest = useRef({ settle, cancel })
  useEffect(() => {
    latest.current = { settle, cancel }
  })
  const step = (): number => store.getState().sizes.step || 1
  const later = (): void => {
    clearTimeout(timer.current)
    timer.current = setTimeout(() => latest.current.settle(), SETTLE)
  }
  /** Keys that whatever is moved has in common; false: none of them. */
  const pressAny = (event: KeyboardEvent): boolean => {
    if (event.key === 'Enter') settle()
    else if (event.key === 'Escape' && store.getState().drag) {
      event.stopPropagation()
      cancel()
    } else return false
    event.preventDefault()
    return true
  }
  const press = (event: KeyboardEvent, part: Part, id: string): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return
    const arrow = ARROWS[event.key]
    if (arrow) {
      event.preventDefault()
      const now = store.getState()
      if (now.drag?.moves?.id !== id || now.drag.moves.part !== part)
        store.setState(dragFrom(now, [0, 0], { part, id }))
      store.setState(dragBy(store.getState(), arrow[0] * step(), arrow[1] * step()))
      later()
    } else if (event.key === 'Delete') {
      event.preventDefault()
      cancel()
      setRefused(edit(removePart(project, part, id, deck.id)))
      svg.current?.focus()
    } else pressAny(event)
  }
  /** True where the key was one of these. */
  const pressCorner = (event: KeyboardEvent, corner: DraftCorner, place: PointMm): boolean => {
    const arrow = ARROWS[event.key]
    if (!arrow) return pressAny(event)
    event.preventDefault()
    setRefused(undefined)
    const now = store.getState()
    if (!sameCorner(now.drag?.corner, corner)) store.setState(cornerFrom(now, corner, place))
    store.setState(dragBy(store.getState(), arrow[0] * step(), arrow[1] * step()))
    later()
    return true
  }

  // While a pointer draws, nothing of the plan need have the focus, and Escape would close the workshop around it.
  useEffect(() => {
    const takeBack = (event: globalThis.KeyboardEvent): void => {
      if (event.key !== 'Escape' || event.defaultPrevented || !store.getState().drag) return
      event.preventDefault()
      latest.current.cancel()
    }
    window.addEventListener('keydown', takeBack)
    return () => {
      window.removeEventListener('keydown', takeBack)
      clearTimeout(timer.current)
    }
  }, [store])

  const corners = draggedCorners(project, draft)
  const fault = corners && faultOf(corners)
  return {
    begin,
    press,
    takeCorner,
    pressCorner,
    /** Lets go of what keys move; a pointer's goes on. */
    leave: (): void => {
      if (pointer.current === undefined) settle()
    },
    setRefused,
    refused,
    /** What is wrong with the corners on their way. */
    fault: fault && words.corners.fault(fault),
    pointer: {
      onPointerMove: (event: PointerEvent): void => {
        const at = pointer.current === event.pointerId ? inDeck(event) : undefined
        if (at) store.setState(dragTo(store.getState(), at))
      },
      onPointerUp: (event: PointerEvent): void => {
        if (pointer.current === event.pointerId) settle()
      },
      onPointerCancel: cancel,
    },
  }
}
