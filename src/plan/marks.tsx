/** What can be focused and pressed in the plan: an item, and the mark of one that is held. */
import { memo, type PointerEvent, type ReactNode } from 'react'
import { type Placement, type Problem, turnedSize } from '../../solver/index.ts'
import { called, whereabouts } from '../store/sentences.ts'
import type { Actions } from '../store/store.ts'
import type { ItemKeys } from './keys.ts'

interface HandleProps {
  readonly problem: Problem
  readonly placement: Placement
  readonly scale: number
  readonly selected: boolean
  readonly hovered: boolean
  readonly held: boolean
  readonly faulty: boolean
  readonly carried: boolean
  readonly onPress: (event: PointerEvent, placement: Placement, id: string) => void
  readonly actions: Actions
  readonly keys: ItemKeys
  readonly children: ReactNode
}

export function ItemHandle(props: HandleProps) {
  const { problem, placement, scale, selected, hovered, held, faulty, carried, actions, keys } = props
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
  const long = name.length * 6.2 * scale
  const upright = long > w && h > w
  const fits = long <= (upright ? h : w) && 13 * scale <= (upright ? w : h)
  const edge = 3 * scale
  return (
    // biome-ignore lint/a11y/useSemanticElements: there is no button element inside an SVG
    <g
      className={states.filter(Boolean).join(' ')}
      role="button"
      tabIndex={0}
      aria-pressed={held}
      aria-label={`${name}, ${item.footprint.name}: ${whereabouts(problem, placement)}${held ? ', held here' : ''}`}
      aria-describedby="item-keys"
      onPointerDown={(event) => props.onPress(event, placement, item.id)}
      onPointerEnter={() => actions.hover(item.id)}
      onFocus={() => actions.select(item.id)}
      onBlur={keys.leave}
      onKeyDown={(event) => keys.press(item.id, event)}
    >
      {props.children}
      <g transform={`translate(${placement.at.x / 1000} ${placement.at.y / 1000})`}>
        <rect className="edge" x={-edge} y={-edge} width={w + 2 * edge} height={h + 2 * edge} rx={edge} />
        {fits && (
          <text
            className="item-name"
            fontSize={11 * scale}
            textAnchor="middle"
            dy={3.8 * scale}
            transform={`translate(${w / 2} ${h / 2}) scale(1 -1)${upright ? ' rotate(-90)' : ''}`}
          >
            {name}
          </text>
        )}
      </g>
    </g>
  )
}

interface MarkProps {
  readonly problem: Problem
  readonly placements: readonly Placement[]
  readonly deck: number
  readonly holds: readonly string[]
  readonly scale: number
  readonly onFree: (id: string) => void
}

/** One click frees it. The mark is 24 px wide, whatever the scale. */
export const HoldMarks = memo(function HoldMarks({ problem, placements, deck, holds, scale, onFree }: MarkProps) {
  return (
    <g className="hold-marks">
      {placements
        .filter((p) => p.deck === deck && holds.includes(problem.items[p.item]?.id ?? ''))
        .map((p) => {
          const item = problem.items[p.item]
          if (!item) return null
          const size = turnedSize(item.footprint.width, item.footprint.depth, p.turn)
          const free = (): void => onFree(item.id)
          return (
            // biome-ignore lint/a11y/useSemanticElements: there is no button element inside an SVG
            <g
              key={item.id}
              className="hold-mark"
              role="button"
              tabIndex={0}
              aria-label={`Free ${called(item.id)}`}
              transform={`translate(${(p.at.x + size.w) / 1000 - 6 * scale} ${(p.at.y + size.h) / 1000 - 6 * scale}) scale(${scale} ${-scale})`}
              onClick={free}
              onKeyDown={(event) => {
                if (event.key !== 'Enter' && event.key !== ' ') return
                event.preventDefault()
                free()
              }}
            >
              <title>{`${called(item.id)} is held here. Click to free it.`}</title>
              <circle className="target" r={12} />
              <circle className="disc" r={9} />
              <path className="bolt" d="M-4 -1.5h8M-4 1.5h8M0 -4v8" />
            </g>
          )
        })}
    </g>
  )
})
