/** Where things stood in the last layout that there was, while there is none: outlines, those lit that cannot go together. */
import { memo } from 'react'
import { type Placement, type Problem, turnedSize } from '../../solver/index.ts'
import { nameTexts } from '../store/plan-texts.ts'
import type { Actions } from '../store/store.ts'
import { hatch } from './hatches.tsx'
import { Names } from './names.tsx'
import './stood.css'

interface Props {
  readonly problem: Problem
  readonly stood: readonly Placement[]
  readonly deck: number
  readonly scope: string
  readonly lit?: ReadonlySet<string>
  /** Missing where nothing is to be read or pressed, as on a card. */
  readonly hands?: {
    readonly scale: number
    readonly selected: string | undefined
    readonly actions: Pick<Actions, 'select' | 'hover'>
  }
}

export const Stood = memo(function Stood({ problem, stood, deck, scope, lit, hands }: Props) {
  return (
    // The list says the same aloud, and is what keys go to.
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus
    <g className="stood" aria-hidden="true">
      {stood
        .filter((p) => p.deck === deck)
        .sort((a, b) => Number(a.host !== undefined) - Number(b.host !== undefined))
        .map((p) => {
          const item = problem.items[p.item]
          if (!item) return null
          const { w, h } = turnedSize(item.footprint.width, item.footprint.depth, p.turn)
          const states = ['stood-body', lit?.has(item.id) && 'lit', hands?.selected === item.id && 'selected']
          return (
            <rect
              key={item.id}
              className={states.filter(Boolean).join(' ')}
              x={p.at.x / 1000}
              y={p.at.y / 1000}
              width={w / 1000}
              height={h / 1000}
              rx={0.6}
              fill={hatch(scope, 'stood')}
              {...(hands
                ? {
                    // Or the ground under it would take the press, and nothing would be in hand.
                    onPointerDown: (event) => event.stopPropagation(),
                    onClick: () => hands.actions.select(item.id),
                    onPointerEnter: () => hands.actions.hover(item.id),
                    onPointerLeave: () => hands.actions.hover(undefined),
                  }
                : {})}
            />
          )
        })}
      {hands && (
        <Names problem={problem} names={nameTexts(problem, stood, deck, hands.scale, [])} scale={hands.scale} />
      )}
    </g>
  )
})
