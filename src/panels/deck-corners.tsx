/** The corners of a shape, in the sheet and on the plan of the deck workshop. */
import { type KeyboardEvent, type PointerEvent, useLayoutEffect, useRef, useState } from 'react'
import { type ShapeFile, shapeToSolver } from '../../footprints/fields.ts'
import * as corners_ from '../model/edit-corners.ts'
import { boxAround } from '../model/edit-shapes.ts'
import { lengthText as t } from '../model/lengths.ts'
import { pathOf } from '../plan/paths.ts'
import type { DraftCorner } from '../store/deck-draft.ts'
import { words } from '../words/index.ts'
import { useDraft, useDraftStore, useTakeCorners } from './deck-use.ts'
import { LengthField, type Refusal } from './length-field.tsx'
import { Refused } from './refused.tsx'
import './deck-corners.css'

const w = words.corners
type Corners = readonly corners_.Corner[]
type At = corners_.ShapeAt

const PLACE = { least: -10_000, most: 10_000 }
const BOW = { least: -1000, most: 1000 }
const RADIUS = { least: 0.1, most: 1000 }
/** Pixels of the screen: a handle's half, the half of what a finger finds, and the shortest edge that shows its middle. */
const [HALF, REACH, EDGE] = [5, 12, 56]

const edgeOf = (corners: Corners, at: number): string => {
  const bow = corners_.bowOf(corners, at)
  return w.edge(bow, t(Math.abs(bow)))
}

/** Shows a shape's corners, making them first where it has none; and the one in hand in numbers. */
export function ShapeCorners({
  of,
  shape,
  onShape,
}: {
  of: At
  shape: ShapeFile
  onShape: (shape: ShapeFile) => Refusal
}) {
  const store = useDraftStore()
  const shown = useDraft((d) => corners_.sameShapeAt(d.corners?.of, of))
  const [refused, setRefused] = useState<Refusal>()
  const corners = corners_.cornersOf(shape)
  const toggle = (): void => {
    if (shown && corners) {
      store.setState({ corners: undefined, drag: undefined })
      return
    }
    const why = corners ? undefined : onShape(corners_.asPolygon(shape))
    setRefused(why)
    if (why === undefined) store.setState({ corners: { of, at: 0 }, tool: 'move', drag: undefined })
  }
  return (
    <div className="deck-corners">
      <div className="group">
        <button type="button" aria-expanded={shown && corners !== undefined} onClick={toggle}>
          {corners ? (shown ? w.leave : w.edit) : w.make}
        </button>
        {(corners || 'sector' in shape) && (
          <button type="button" onClick={() => setRefused(onShape(boxAround(shape)))}>
            {words.deck.makeRect}
          </button>
        )}
      </div>
      <Refused>{refused}</Refused>
      {shown && corners && <CornerFields of={of} corners={corners} />}
    </div>
  )
}

function CornerFields({ of, corners }: { of: At; corners: Corners }) {
  const store = useDraftStore()
  const take = useTakeCorners()
  const count = corners.length
  const at = useDraft((d) => Math.min(d.corners?.at ?? 0, count - 1))
  const [refused, setRefused] = useState<Refusal>()
  const go = (to: number): void => store.setState({ corners: { of, at: to } })
  /** Takes other corners, and goes to one of them where they could be taken. */
  const become = (made: Parameters<typeof take>[1], to: number): void => {
    const why = take(of, made)
    setRefused(why)
    if (why === undefined) go(to)
  }
  const [x, y] = corners[at]!
  const radius = corners_.radiusAt(corners, at)
  const roundOff = (r: number): Refusal => {
    const most = corners_.mostRadius(corners, at)
    if (most === undefined) return w.noRound
    const made = corners_.roundCorner(corners, at, r)
    return made ? take(of, made) : w.noRoom(t(most))
  }
  return (
    <fieldset className="deck-fields plain">
      <legend>{w.title(count)}</legend>
      <label className="deck-choice">
        {w.which}
        <select
          value={at}
          onChange={(event) => {
            setRefused(undefined)
            go(Number(event.target.value))
          }}
        >
          {corners.map(([cx, cy], i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a corner is its number
            <option key={i} value={i}>
              {w.one(i + 1, t(cx), t(cy))}
            </option>
          ))}
        </select>
      </label>
      <LengthField
        key={`x${at}`}
        label={w.x}
        value={x}
        limits={PLACE}
        onChange={(to) => take(of, corners_.moveCorner(corners, at, [to, y]))}
      />
      <LengthField
        key={`y${at}`}
        label={w.y}
        value={y}
        limits={PLACE}
        onChange={(to) => take(of, corners_.moveCorner(corners, at, [x, to]))}
      />
      <LengthField
        key={`bow${at}`}
        label={w.bow}
        value={corners_.bowOf(corners, at)}
        limits={BOW}
        onChange={(bow) => take(of, corners_.bowEdge(corners, at, bow))}
      />
      <LengthField key={`round${at}`} label={w.round} value={undefined} limits={RADIUS} onChange={roundOff} />
      <p className="quiet">
        {w.bowHelp(at + 1, ((at + 1) % count) + 1)}
        {radius !== undefined && ` ${w.arc(t(radius))}`}
      </p>
      <div className="group">
        <button type="button" onClick={() => become(corners_.addCorner(corners, at), at + 1)}>
          {w.add}
        </button>
        <button type="button" onClick={() => become(corners_.removeCorner(corners, at), Math.min(at, count - 2))}>
          {w.remove}
        </button>
      </div>
      <Refused>{refused}</Refused>
    </fieldset>
  )
}

interface LayerProps {
  readonly of: At
  /** As they stand now, or would where one is on its way. */
  readonly shape: ShapeFile
  /** Millimetres for one pixel of the screen. */
  readonly scale: number
  readonly onTake: (event: PointerEvent, corner: DraftCorner, place: readonly [number, number]) => void
  readonly onArrow: (event: KeyboardEvent, corner: DraftCorner, place: readonly [number, number]) => boolean
  /** Lets go of what keys move. */
  readonly onSettle: () => void
  readonly onRefused: (why: Refusal) => void
}

/** Corners on the plan: one stop of the tab key, from which Page Up and Page Down lead to the others. */
export function CornersLayer({ of, shape, scale, onTake, onArrow, onSettle, onRefused }: LayerProps) {
  const store = useDraftStore()
  const take = useTakeCorners()
  const frame = useRef<SVGGElement>(null)
  const follow = useRef(false)
  const corners = corners_.cornersOf(shape)
  const count = corners?.length ?? 0
  const at = useDraft((d) => Math.min(d.corners?.at ?? 0, count - 1))
  const dragging = useDraft((d) => d.drag !== undefined)
  // Before the next key can come, which would go to the corner before.
  useLayoutEffect(() => {
    if (!follow.current) return
    follow.current = false
    frame.current?.querySelector<SVGElement>('[tabindex="0"]')?.focus()
  })
  if (!corners) return null
  const go = (to: number): void => {
    follow.current = true
    store.setState({ corners: { of, at: to } })
  }
  const press = (event: KeyboardEvent, i: number): void => {
    if (
      event.ctrlKey ||
      event.metaKey ||
      event.altKey ||
      onArrow(event, { of, at: i }, [corners[i]![0], corners[i]![1]])
    )
      return
    const deed = deeds(i).get(event.key)
    if (!deed) return
    event.preventDefault()
    onSettle()
    deed()
  }
  const edit = (next: Corners, then: number): void => {
    const why = take(of, next)
    onRefused(why)
    if (why === undefined) go(then)
  }
  const deeds = (i: number): ReadonlyMap<string, () => void> =>
    new Map([
      ['PageDown', () => go((i + 1) % count)],
      ['PageUp', () => go((i + count - 1) % count)],
      ['Insert', () => edit(corners_.addCorner(corners, i), i + 1)],
      ['Delete', () => edit(corners_.removeCorner(corners, i), Math.min(i, count - 2))],
    ])
  const half = HALF * scale
  return (
    <g ref={frame} className="deck-cornered">
      <path className="deck-over" d={pathOf(shapeToSolver(shape))} />
      {!dragging &&
        corners.map((_, i) => {
          const next = corners[(i + 1) % count]!
          if (Math.hypot(next[0] - corners[i]![0], next[1] - corners[i]![1]) < EDGE * scale) return null
          const middle = corners_.middleOf(corners, i)
          const [x, y] = middle
          return (
            <g
              // biome-ignore lint/suspicious/noArrayIndexKey: an edge is its number
              key={i}
              className="deck-more"
              onPointerDown={(event) => onTake(event, { of, at: i, added: true }, middle)}
            >
              <circle className="deck-reach" cx={x} cy={y} r={REACH * scale} />
              <path d={`M${x - half} ${y}h${2 * half}M${x} ${y - half}v${2 * half}`} />
            </g>
          )
        })}
      {corners.map(([x, y], i) => (
        // biome-ignore lint/a11y/useSemanticElements: a button inside of a picture
        <g
          // biome-ignore lint/suspicious/noArrayIndexKey: a corner is its number
          key={i}
          role="button"
          tabIndex={i === at ? 0 : -1}
          aria-label={w.handle(i + 1, count, t(x), t(y), edgeOf(corners, i))}
          className={i === at ? 'deck-corner chosen' : 'deck-corner'}
          onPointerDown={(event) => onTake(event, { of, at: i }, [x, y])}
          onFocus={() => {
            if (store.getState().corners?.at !== i) store.setState({ corners: { of, at: i } })
          }}
          onBlur={onSettle}
          onKeyDown={(event) => press(event, i)}
        >
          <circle className="deck-reach" cx={x} cy={y} r={REACH * scale} />
          <rect x={x - half} y={y - half} width={2 * half} height={2 * half} />
        </g>
      ))}
    </g>
  )
}
