/** The names of a deck's items, over what is drawn on them. */
import { memo } from 'react'
import { type Placement, type Problem, turnedSize } from '../../solver/index.ts'
import { type Box, labelOf } from '../store/item-label.ts'
import { called } from '../store/sentences.ts'

interface Props {
  readonly problem: Problem
  readonly placements: readonly Placement[]
  readonly deck: number
  readonly scale: number
}

function boxOf(problem: Problem, p: Placement): Box | undefined {
  const footprint = problem.items[p.item]?.footprint
  if (!footprint) return undefined
  const { w, h } = turnedSize(footprint.width, footprint.depth, p.turn)
  return { x: p.at.x / 1000, y: p.at.y / 1000, w: w / 1000, h: h / 1000 }
}

export const Names = memo(function Names({ problem, placements, deck, scale }: Props) {
  const here = placements.filter((p) => p.deck === deck)
  return (
    // The handles say the same aloud.
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus
    <g className="item-names" aria-hidden="true">
      {here.map((p) => {
        const item = problem.items[p.item]
        const body = boxOf(problem, p)
        const guests = here.filter((g) => g.host === p.item).flatMap((g) => boxOf(problem, g) ?? [])
        const label = item && body && labelOf(called(item.id), body, guests, scale)
        if (!label) return null
        const { lines, upright } = label
        const size = label.size * scale
        return (
          <text
            key={item.id}
            className={item.footprint.breadboard ? 'item-name on-board' : 'item-name'}
            fontSize={size}
            textAnchor="middle"
            transform={`translate(${label.x} ${label.y}) scale(1 -1)${upright ? ' rotate(-90)' : ''}`}
          >
            {lines.map((line, k) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: two lines may be alike, and stay in their order
              <tspan key={k} x={0} y={size * (0.35 + 1.15 * (k - (lines.length - 1) / 2))}>
                {line}
              </tspan>
            ))}
          </text>
        )
      })}
    </g>
  )
})
