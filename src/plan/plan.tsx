/** The plan on the stage: items to drag, focus and free. */
import { type PointerEvent, useEffect, useMemo, useRef, useState } from 'react'
import { type Placement, um } from '../../solver/index.ts'
import { placementOf } from '../store/moves.ts'
import type { Actions, Carry } from '../store/store.ts'
import type { View } from '../store/view.ts'
import { wireRoutes } from '../store/wires.ts'
import { type Frame, frameOf } from './frame.ts'
import { Hatches } from './hatches.tsx'
import type { ItemKeys } from './keys.ts'
import { Body, Contacts, DeckGround, Room } from './layers.tsx'
import { HoldMarks, ItemHandle } from './marks.tsx'
import { placedAt } from './paths.ts'
import { Wires } from './wire-strokes.tsx'

interface Props {
  readonly view: View
  readonly carry: Carry | undefined
  readonly selected: string | undefined
  readonly hovered: string | undefined
  readonly hoveredWire: number | undefined
  readonly actions: Actions
  readonly keys: ItemKeys
}

interface Grip {
  readonly id: string
  readonly item: number
  readonly pointer: number
  readonly startX: number
  readonly startY: number
  /** From the item's corner to the pointer, Um. */
  readonly dx: number
  readonly dy: number
  lifted: boolean
}

/** Pixels that a pointer may tremble before it drags. */
const TREMBLE = 4
const SCOPE = 'stage'

/** Millimetres for one pixel, as the picture now stands; text and targets keep their size on the screen by it. */
function useMmPerPixel(frame: Frame) {
  const ref = useRef<SVGSVGElement>(null)
  const [scale, setScale] = useState(0.35)
  useEffect(() => {
    const svg = ref.current
    if (!svg) return
    const measure = (): void => {
      const { width, height } = svg.getBoundingClientRect()
      if (width > 0 && height > 0) setScale(Math.max(frame.width / width, frame.height / height))
    }
    const observer = new ResizeObserver(measure)
    observer.observe(svg)
    measure()
    return () => observer.disconnect()
  }, [frame])
  return { ref, scale }
}

export function Plan({ view, carry, selected, hovered, hoveredWire, actions, keys }: Props) {
  const { problem, placements, sheet } = view
  const frame = useMemo(() => frameOf(problem, 14, 22, 1.1), [problem])
  const { ref, scale } = useMmPerPixel(frame)
  const decks = useRef<(SVGGElement | null)[]>([])
  const grip = useRef<Grip | undefined>(undefined)
  const routes = useMemo(() => wireRoutes(problem, placements), [problem, placements])
  const faulty = useMemo(() => new Set(view.findings.flatMap((f) => f.items)), [view.findings])
  /** What is plugged in lies on its board, and what is carried on everything. */
  const rank = (p: Placement): number => (p.item === carry?.item ? 2 : p.host === undefined ? 0 : 1)
  // biome-ignore lint/correctness/useExhaustiveDependencies: the rank reads the carried item alone
  const order = useMemo(() => [...placements].sort((a, b) => rank(a) - rank(b)), [placements, carry?.item])

  /** The pointer in a deck's own frame, Um. */
  const inDeck = (event: PointerEvent, deck: number): { x: number; y: number } | undefined => {
    const matrix = decks.current[deck]?.getScreenCTM()?.inverse()
    if (!matrix) return undefined
    const p = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix)
    return { x: Math.round(p.x * 1000), y: Math.round(p.y * 1000) }
  }

  /** The deck under the pointer that the item may stand on, or the one where it is. */
  const deckUnder = (event: PointerEvent, item: number, now: number): number => {
    for (const deck of problem.items[item]?.decks ?? []) {
      const box = frame.decks[deck]?.box
      const p = inDeck(event, deck)
      if (box && p && p.x >= box.x && p.y >= box.y && p.x <= box.x + box.w && p.y <= box.y + box.h) return deck
    }
    return now
  }

  const press = (event: PointerEvent, p: Placement, id: string): void => {
    if (event.button !== 0) return
    const at = inDeck(event, p.deck)
    if (!at) return
    actions.select(id)
    ref.current?.setPointerCapture(event.pointerId)
    const { clientX: startX, clientY: startY, pointerId: pointer } = event
    grip.current = { id, item: p.item, pointer, startX, startY, dx: at.x - p.at.x, dy: at.y - p.at.y, lifted: false }
  }

  const move = (event: PointerEvent): void => {
    const held = grip.current
    if (!held || held.pointer !== event.pointerId) return
    if (!held.lifted) {
      if (Math.hypot(event.clientX - held.startX, event.clientY - held.startY) < TREMBLE) return
      held.lifted = true
      actions.lift(held.id, 'pointer')
    }
    const now = placementOf(placements, held.item)
    if (!now) return
    const deck = deckUnder(event, held.item, now.deck)
    const at = inDeck(event, deck)
    if (at)
      actions.carryTo({ item: held.item, deck, at: { x: um(at.x - held.dx), y: um(at.y - held.dy) }, turn: now.turn })
  }

  const release = (event: PointerEvent, settle: () => void): void => {
    const held = grip.current
    if (!held || held.pointer !== event.pointerId) return
    grip.current = undefined
    if (held.lifted) settle()
  }

  const lifted = carry && placementOf(carry.from, carry.item)
  const liftedItem = carry && problem.items[carry.item]

  return (
    // biome-ignore lint/a11y/useSemanticElements: a picture whose parts are buttons is a group, and no fieldset
    <svg
      ref={ref}
      className={carry ? 'plan carrying' : 'plan'}
      viewBox={`0 0 ${frame.width} ${frame.height}`}
      role="group"
      aria-label="Plan, seen from above, front at the top"
      onPointerMove={move}
      onPointerUp={(event) => release(event, actions.drop)}
      onPointerCancel={(event) => release(event, actions.takeBack)}
      onPointerLeave={() => actions.hover(undefined)}
    >
      <Hatches scope={SCOPE} />
      <g transform={`translate(0 ${frame.height}) scale(1 -1)`}>
        {frame.decks.map((deck, index) => (
          <g
            key={problem.decks[index]?.id}
            transform={`translate(${deck.x} ${deck.y})`}
            ref={(element) => {
              decks.current[index] = element
            }}
          >
            <DeckGround problem={problem} deck={index} scope={SCOPE} />
            <text
              className="deck-name"
              fontSize={11 * scale}
              transform={`translate(${deck.box.x / 1000} ${(deck.box.y + deck.box.h) / 1000 + 4 * scale}) scale(1 -1)`}
            >
              {problem.decks.length > 1 ? `${problem.decks[index]?.name}, front` : 'front'}
            </text>
            {lifted && liftedItem && lifted.deck === index && (
              <g
                className="was"
                transform={placedAt(lifted.at, lifted.turn, liftedItem.footprint.width, liftedItem.footprint.depth)}
              >
                <rect width={liftedItem.footprint.width / 1000} height={liftedItem.footprint.depth / 1000} />
              </g>
            )}
            {order
              .filter((p) => p.deck === index)
              .map((p) => {
                const item = problem.items[p.item]
                return item && <Room key={item.id} footprint={item.footprint} placement={p} scope={SCOPE} />
              })}
            {order
              .filter((p) => p.deck === index)
              .map((p) => {
                const item = problem.items[p.item]
                if (!item) return null
                return (
                  <ItemHandle
                    key={item.id}
                    problem={problem}
                    placement={p}
                    scale={scale}
                    selected={selected === item.id}
                    hovered={hovered === item.id}
                    held={sheet.holds.includes(item.id)}
                    faulty={faulty.has(item.id)}
                    carried={carry?.item === p.item}
                    onPress={press}
                    actions={actions}
                    keys={keys}
                  >
                    <Body footprint={item.footprint} placement={p} />
                  </ItemHandle>
                )
              })}
            <Contacts problem={problem} placements={placements} deck={index} />
            <Wires
              problem={problem}
              routes={routes}
              deck={index}
              scale={scale}
              strong={hoveredWire}
              selected={selected}
            />
            <HoldMarks
              problem={problem}
              placements={placements}
              deck={index}
              holds={sheet.holds}
              scale={scale}
              onFree={actions.free}
            />
          </g>
        ))}
      </g>
    </svg>
  )
}
