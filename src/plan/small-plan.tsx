/** A variant's plan at a glance: true to scale, nothing to click. */
import { memo } from 'react'
import type { Placement, Problem } from '../../solver/index.ts'
import { frameOf } from './frame.ts'
import { Hatches } from './hatches.tsx'
import { Body, Contacts, DeckGround } from './layers.tsx'
import { Stood } from './stood.tsx'

interface Props {
  readonly problem: Problem
  readonly placements: readonly Placement[]
  /** Where things stood before, while nothing has a place. */
  readonly stood?: readonly Placement[] | undefined
  readonly scope: string
  /** Millimetres to show, the deck in their middle, so that several plans have one scale; missing: what the deck needs. */
  readonly room?: { readonly width: number; readonly height: number }
}

/** How a small plan lays out its decks: `frameOf`. */
export const SMALL = { pad: 6, gap: 10, aspect: 1.6 } as const

export const SmallPlan = memo(function SmallPlan({ problem, placements, stood, scope, room }: Props) {
  const frame = frameOf(problem, SMALL.pad, SMALL.gap, SMALL.aspect)
  const { width, height } = room ?? frame
  const box = `${(frame.width - width) / 2} ${(frame.height - height) / 2} ${width} ${height}`
  return (
    <svg className="small-plan" viewBox={box} aria-hidden="true" focusable="false">
      <Hatches scope={scope} />
      <g transform={`translate(0 ${frame.height}) scale(1 -1)`}>
        {frame.decks.map((deck, index) => (
          <g key={problem.decks[index]?.id} transform={`translate(${deck.x} ${deck.y})`}>
            <DeckGround problem={problem} deck={index} scope={scope} />
            {stood && <Stood problem={problem} stood={stood} deck={index} scope={scope} />}
            {placements
              .filter((p) => p.deck === index)
              .sort((a, b) => Number(a.host !== undefined) - Number(b.host !== undefined))
              .map((p) => {
                const item = problem.items[p.item]
                return item && <Body key={item.id} footprint={item.footprint} placement={p} />
              })}
            <Contacts problem={problem} placements={placements} deck={index} />
          </g>
        ))}
      </g>
    </svg>
  )
})
