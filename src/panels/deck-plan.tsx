/** The open deck drawn to scale: shapes are made, moved and chosen on it, by pointer and by keys. */
import { type KeyboardEvent, type PointerEvent, useEffect, useRef, useState } from 'react'
import { shapeToSolver } from '../../footprints/fields.ts'
import { type Part, partsOf, removePart } from '../model/edit-deck.ts'
import { formOf, type PointMm } from '../model/edit-shapes.ts'
import { lengthText } from '../model/lengths.ts'
import { matrixOf, type Underlay } from '../model/underlay.ts'
import { Hatches, hatch } from '../plan/hatches.tsx'
import { pathOf } from '../plan/paths.ts'
import { type DeckDraft, dragFrom, dragTo, dropped, partOf } from '../store/deck-draft.ts'
import { type Box, boxOf } from '../store/outline.ts'
import { words } from '../words/index.ts'
import { useDraft, useDraftStore, useEdit, useMake, useOpenDeck, useProject } from './deck-use.ts'

const w = words.deck
const SCOPE = 'deck-workshop'
/** mm around the plate. */
const PAD = 8
/** How long, in milliseconds, what arrow keys move hangs after the last of them. */
const SETTLE = 900
const ARROWS: Readonly<Record<string, PointMm>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
}

export interface Laid {
  readonly underlay: Underlay
  readonly url: string
  readonly opacity: number
}

const mmBox = (box: Box) => ({ x: box.x / 1000, y: box.y / 1000, w: box.w / 1000, h: box.h / 1000 })

/** Millimetres for one pixel of the screen. */
function useScale(width: number, height: number) {
  const ref = useRef<SVGSVGElement>(null)
  const [scale, setScale] = useState(0.3)
  useEffect(() => {
    const svg = ref.current
    if (!svg) return
    const measure = (): void => {
      const box = svg.getBoundingClientRect()
      if (box.width > 0 && box.height > 0) setScale(Math.max(width / box.width, height / box.height))
    }
    const observer = new ResizeObserver(measure)
    observer.observe(svg)
    measure()
    return () => observer.disconnect()
  }, [width, height])
  return { ref, scale }
}

export function DeckPlan({ laid }: { laid: Laid | undefined }) {
  const project = useProject()
  const deck = useOpenDeck()
  const store = useDraftStore()
  const draft = useDraft((d) => d)
  const edit = useEdit()
  const make = useMake()
  const [refused, setRefused] = useState<string>()
  const frame = useRef<SVGGElement>(null)
  const pointer = useRef<number | undefined>(undefined)
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined)
  const box = mmBox(boxOf(shapeToSolver(deck.outline)))
  const [width, height] = [box.w + 2 * PAD, box.h + 2 * PAD]
  const { ref, scale } = useScale(width, height)

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
    const part = now.drag.moves?.part ?? partOf(now.tool)
    const made = dropped(project, now)
    store.setState({ drag: undefined })
    if (part) setRefused(make(part, made))
  }
  const cancel = (): void => {
    clearTimeout(timer.current)
    pointer.current = undefined
    store.setState({ drag: undefined })
  }
  const begin = (event: PointerEvent, moves?: DeckDraft['chosen']): void => {
    const at = inDeck(event)
    if (event.button !== 0 || !at || pointer.current !== undefined) return
    settle()
    setRefused(undefined)
    pointer.current = event.pointerId
    ref.current?.setPointerCapture(event.pointerId)
    store.setState(dragFrom(store.getState(), at, moves))
  }
  const press = (event: KeyboardEvent, part: Part, id: string): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return
    const arrow = ARROWS[event.key]
    if (arrow) {
      event.preventDefault()
      const now = store.getState()
      const step = now.sizes.step > 0 ? now.sizes.step : 1
      if (now.drag?.moves?.id !== id || now.drag.moves.part !== part)
        store.setState(dragFrom(now, [0, 0], { part, id }))
      const [x, y] = store.getState().drag?.to ?? [0, 0]
      store.setState(dragTo(store.getState(), [x + arrow[0] * step, y + arrow[1] * step]))
      clearTimeout(timer.current)
      timer.current = setTimeout(() => settleLatest.current(), SETTLE)
    } else if (event.key === 'Enter') {
      event.preventDefault()
      settle()
    } else if (event.key === 'Escape' && store.getState().drag) {
      event.preventDefault()
      event.stopPropagation()
      cancel()
    } else if (event.key === 'Delete') {
      event.preventDefault()
      cancel()
      setRefused(edit(removePart(project, part, id, deck.id)))
      ref.current?.focus()
    }
  }
  // While a pointer draws, nothing of the plan need have the focus, and Escape would close the workshop around it.
  const dragging = draft.drag !== undefined
  const cancelLatest = useRef(cancel)
  useEffect(() => {
    cancelLatest.current = cancel
  })
  useEffect(() => {
    if (!dragging) return
    const takeBack = (event: globalThis.KeyboardEvent): void => {
      if (event.key !== 'Escape' || event.defaultPrevented) return
      event.preventDefault()
      cancelLatest.current()
    }
    window.addEventListener('keydown', takeBack)
    return () => window.removeEventListener('keydown', takeBack)
  }, [dragging])
  const settleLatest = useRef(settle)
  useEffect(() => {
    settleLatest.current = settle
  })
  useEffect(() => () => clearTimeout(timer.current), [])

  const drag = draft.drag
  const moved = drag?.moves
  /** The project as it would be, for drawing what is on its way. */
  const shown = moved ? (dropped(project, draft)?.project ?? project) : project
  const preview = drag && !moved ? dropped(project, draft) : undefined
  const part = drag ? (moved?.part ?? partOf(draft.tool)) : undefined
  const said =
    drag && part ? saidOf(preview?.project ?? shown, deck.id, part, preview?.id ?? moved?.id, drag) : undefined

  const handle = (kind: Part, id: string, where: string) => ({
    role: 'button' as const,
    tabIndex: 0,
    'aria-label': w.handle(w.kind[kind], id, where),
    className: draft.chosen?.part === kind && draft.chosen.id === id ? 'deck-part chosen' : 'deck-part',
    onPointerDown: (event: PointerEvent) => {
      if (draft.tool !== 'move') return
      event.stopPropagation()
      begin(event, { part: kind, id })
    },
    onFocus: () => store.setState({ chosen: { part: kind, id } }),
    onBlur: () => {
      if (pointer.current === undefined) settle()
    },
    onKeyDown: (event: KeyboardEvent) => press(event, kind, id),
  })

  const outline = shapeToSolver(shown.decks.find((d) => d.id === deck.id)?.outline ?? deck.outline)
  const openings = partsOf(shown, 'openings', deck.id)
  const contact = project.chassis?.contact ?? []
  return (
    <div className="deck-plan">
      {/* biome-ignore lint/a11y/useSemanticElements: a picture whose parts are buttons is a group, and no fieldset */}
      <svg
        ref={ref}
        className={`plan tool-${draft.tool}${laid ? ' on-photo' : ''}`}
        viewBox={`0 0 ${width} ${height}`}
        role="group"
        tabIndex={-1}
        aria-label={w.plan}
        onPointerDown={(event) => {
          if (draft.tool !== 'move') begin(event)
        }}
        onPointerMove={(event) => {
          const at = pointer.current === event.pointerId ? inDeck(event) : undefined
          if (at) store.setState(dragTo(store.getState(), at))
        }}
        onPointerUp={(event) => {
          if (pointer.current === event.pointerId) settle()
        }}
        onPointerCancel={cancel}
      >
        <Hatches scope={SCOPE} />
        <g ref={frame} transform={`translate(${PAD - box.x} ${height - PAD + box.y}) scale(1 -1)`}>
          <path
            className="deck"
            fillRule="evenodd"
            d={[outline, ...openings.map((o) => shapeToSolver(o.shape))].map(pathOf).join('')}
          />
          {laid && (
            <image
              className="deck-photo"
              href={laid.url}
              width={laid.underlay.size[0]}
              height={laid.underlay.size[1]}
              opacity={laid.opacity}
              transform={`matrix(${matrixOf(laid.underlay).join(' ')})`}
            />
          )}
          {laid && <path className="deck-over" d={pathOf(outline)} />}
          {contact.length > 2 && <path className="deck-contact" d={`M${contact.map((p) => p.join(' ')).join('L')}z`} />}
          {project.chassis && (
            <path
              className="deck-centre"
              d={crossAt(project.chassis.centre[0], project.chassis.centre[1], 6 * scale)}
            />
          )}
          {partsOf(shown, 'zones', deck.id).map((zone) => (
            <g key={zone.id} {...handle('zones', zone.id, whereOf(zone))}>
              <path
                className={`zone zone-${zone.kind}`}
                d={pathOf(shapeToSolver(zone.shape))}
                fill={hatch(SCOPE, zone.kind)}
              />
              <path className="deck-edge" d={pathOf(shapeToSolver(zone.shape))} />
            </g>
          ))}
          {openings.map((o) => (
            <g key={o.id} {...handle('openings', o.id, whereOf(o))}>
              <path
                className={o.mayCover ? 'deck-opening may-cover' : 'deck-opening'}
                d={pathOf(shapeToSolver(o.shape))}
              />
              <path className="deck-edge" d={pathOf(shapeToSolver(o.shape))} />
            </g>
          ))}
          {(['holes', 'exits', 'passes'] as const).flatMap((kind) =>
            partsOf(shown, kind, deck.id).map((one) => {
              const r = ('diameter' in one && one.diameter ? one.diameter : 3) / 2
              return (
                <g key={`${kind} ${one.id}`} {...handle(kind, one.id, whereOf(one))}>
                  <circle className="deck-reach" cx={one.at[0]} cy={one.at[1]} r={Math.max(r, 12 * scale)} />
                  <circle
                    className={kind === 'holes' ? 'hole' : `lead deck-${kind}`}
                    cx={one.at[0]}
                    cy={one.at[1]}
                    r={r}
                  />
                  <circle className="deck-edge" cx={one.at[0]} cy={one.at[1]} r={r + 2 * scale} />
                </g>
              )
            }),
          )}
          {preview && part && <Preview project={preview.project} deck={deck.id} part={part} id={preview.id} />}
          {drag && !preview && !moved && (
            <path className="deck-centre" d={crossAt(drag.to[0], drag.to[1], 8 * scale)} />
          )}
        </g>
        <text className="deck-name" x={PAD} y={PAD - 2 * scale} fontSize={12 * scale}>
          {w.front}
        </text>
        <g className="deck-name" fontSize={12 * scale} textAnchor="middle">
          <text x={width / 2} y={height - PAD + 13 * scale}>
            {w.measure(lengthText(box.w))}
          </text>
          <text transform={`translate(${PAD - 4 * scale} ${height / 2}) rotate(-90)`}>
            {w.measure(lengthText(box.h))}
          </text>
        </g>
      </svg>
      <p className="deck-said" aria-live="polite">
        {refused ? <span className="field-wrong">{refused}</span> : (said ?? w.toolHelp[draft.tool])}
      </p>
    </div>
  )
}

const crossAt = (x: number, y: number, arm: number): string =>
  `M${x - arm} ${y}L${x + arm} ${y}M${x} ${y - arm}L${x} ${y + arm}`

function Preview({
  project,
  deck,
  part,
  id,
}: {
  project: ReturnType<typeof useProject>
  deck: string
  part: Part
  id: string
}) {
  const one = partsOf(project, part, deck).find((p) => p.id === id)
  if (!one) return null
  if ('shape' in one) return <path className="deck-preview" d={pathOf(shapeToSolver(one.shape))} />
  const r = ('diameter' in one && one.diameter ? one.diameter : 3) / 2
  return <circle className="deck-preview" cx={one.at[0]} cy={one.at[1]} r={r} />
}

type One = ReturnType<typeof partsOf<Part>>[number]

/** Where it is and how large, in words. */
function whereOf(one: One): string {
  const t = lengthText
  if (!('shape' in one)) return w.at(t(one.at[0]), t(one.at[1]))
  const form = formOf(one.shape)
  switch (form.kind) {
    case 'rect':
    case 'free':
      return w.sized(t(form.width), t(form.depth), t(form.x), t(form.y))
    case 'round':
      return w.across(t(form.diameter), t(form.x), t(form.y))
    case 'slot':
      return w.long(t(Math.hypot(form.to[0] - form.from[0], form.to[1] - form.from[1]) + form.width))
  }
}

function saidOf(
  project: ReturnType<typeof useProject>,
  deck: string,
  part: Part,
  id: string | undefined,
  drag: NonNullable<DeckDraft['drag']>,
): string {
  const one = partsOf(project, part, deck).find((p) => p.id === id)
  const here = one ? whereOf(one) : w.at(lengthText(drag.to[0]), lengthText(drag.to[1]))
  if (!drag.moves) return here
  return `${here}; ${w.moved(lengthText(drag.to[0] - drag.from[0]), lengthText(drag.to[1] - drag.from[1]))}`
}
