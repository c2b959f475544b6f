/** What can be focused and pressed in the plan: an item, and the mark of one that is held. */
import { memo, type PointerEvent, useEffect, useRef } from 'react'
import { type Placement, type Problem, turnedSize } from '../../solver/index.ts'
import { type HoldMark, SAID_SIZE } from '../store/plan-texts.ts'
import { called, whereabouts } from '../store/sentences.ts'
import type { Actions } from '../store/store.ts'
import { words } from '../words/index.ts'
import type { ItemKeys } from './keys.ts'
import { Body } from './layers.tsx'

interface HandleProps {
  readonly problem: Problem
  readonly placement: Placement
  readonly scale: number
  readonly selected: boolean
  readonly hovered: boolean
  readonly held: boolean
  readonly built: boolean
  readonly faulty: boolean
  readonly carried: boolean
  readonly onPress: (event: PointerEvent, placement: Placement, id: string) => void
  readonly actions: Actions
  readonly keys: ItemKeys
}

/** Pixels that a pointer or finger can hit (WCAG 2.5.8), however small the body is drawn. */
const TARGET = 24

/** Drawn again only where it has moved, or its state or the scale is another. */
export const ItemHandle = memo(function ItemHandle(props: HandleProps) {
  const { problem, placement, scale, selected, hovered, held, built, faulty, carried, actions, keys } = props
  const handle = useRef<SVGGElement>(null)
  const arrived = useRef(carried)
  useEffect(() => {
    // Carried to another deck it is another element, and the keys are to stay with it.
    if (arrived.current) handle.current?.focus({ preventScroll: true })
  }, [])
  const item = problem.items[placement.item]
  if (!item) return null
  const size = turnedSize(item.footprint.width, item.footprint.depth, placement.turn)
  const w = size.w / 1000
  const h = size.h / 1000
  const name = called(item.id)
  const states = [
    'item',
    selected && 'selected',
    hovered && 'hovered',
    held && 'held',
    faulty && 'faulty',
    carried && 'carried',
    item.later && 'later',
  ]
  const edge = 3 * scale
  const hitW = Math.max(w, TARGET * scale)
  const hitH = Math.max(h, TARGET * scale)
  return (
    // biome-ignore lint/a11y/useSemanticElements: there is no button element inside an SVG
    <g
      ref={handle}
      className={states.filter(Boolean).join(' ')}
      role="button"
      tabIndex={0}
      aria-pressed={held}
      aria-label={words.plan.item(
        name,
        item.footprint.name,
        whereabouts(problem, placement),
        built ? 'built' : held ? 'held' : 'free',
      )}
      aria-describedby="item-keys"
      onPointerDown={(event) => props.onPress(event, placement, item.id)}
      onPointerEnter={() => actions.hover(item.id)}
      onFocus={() => actions.select(item.id)}
      onBlur={keys.leave}
      onKeyDown={(event) => keys.press(item.id, event)}
    >
      {(hitW > w || hitH > h) && (
        <rect
          className="target"
          x={placement.at.x / 1000 - (hitW - w) / 2}
          y={placement.at.y / 1000 - (hitH - h) / 2}
          width={hitW}
          height={hitH}
        />
      )}
      <Body footprint={item.footprint} placement={placement} />
      <g transform={`translate(${placement.at.x / 1000} ${placement.at.y / 1000})`}>
        <rect className="edge" x={-edge} y={-edge} width={w + 2 * edge} height={h + 2 * edge} rx={edge} />
      </g>
    </g>
  )
})

interface MarkProps {
  readonly problem: Problem
  readonly marks: readonly HoldMark[]
  readonly built: readonly string[] | undefined
  readonly scale: number
  readonly onFree: (id: string) => void
  /** What the hold of an item costs, in words, where that is known. */
  readonly costs: ReadonlyMap<string, string> | undefined
}

/** One click frees it; what is built has a mark that is no button. The mark is 24 px wide, whatever the scale. */
export const HoldMarks = memo(function HoldMarks(props: MarkProps) {
  const { problem, marks, built, scale, onFree, costs } = props
  const p = words.plan
  return (
    <g className="hold-marks">
      {marks.map(({ placement: at, x, y, said }) => {
        const item = problem.items[at.item]
        if (!item) return null
        const name = called(item.id)
        const place = `translate(${x} ${y}) scale(${scale} ${-scale})`
        if (built?.includes(item.id))
          return (
            // The item itself says so.
            <g key={item.id} className="built-mark" transform={place}>
              <circle className="disc" r={9} />
              <path className="bolt" d="M-4 .5l3 3l5 -7" />
            </g>
          )
        const cost = costs?.get(item.id)
        const free = (): void => onFree(item.id)
        return (
          // biome-ignore lint/a11y/useSemanticElements: there is no button element inside an SVG
          <g
            key={item.id}
            className="hold-mark"
            role="button"
            tabIndex={0}
            aria-label={p.free(name)}
            aria-description={cost}
            transform={place}
            onClick={free}
            onKeyDown={(event) => {
              if (event.key !== 'Enter' && event.key !== ' ') return
              event.preventDefault()
              free()
            }}
          >
            <title>{cost ? p.heldHereCosts(name, cost) : p.heldHere(name)}</title>
            <circle className="target" r={12} />
            <circle className="disc" r={9} />
            <path className="bolt" d="M-4 -1.5h8M-4 1.5h8M0 -4v8" />
            {said && (
              <text className="hold-cost" x={said.x} y={said.y} fontSize={SAID_SIZE} textAnchor={said.anchor}>
                {said.text}
              </text>
            )}
          </g>
        )
      })}
    </g>
  )
})
