/** The names of a deck's items, over what is drawn on them. */
import { memo } from 'react'
import type { Problem } from '../../solver/index.ts'
import type { Label } from '../store/item-label.ts'
import type { NameText } from '../store/plan-texts.ts'

export function Name({ label, scale, className }: { label: Label; scale: number; className?: string }) {
  const { lines, upright } = label
  const size = label.size * scale
  return (
    <text
      className={className}
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
}

interface Props {
  readonly problem: Problem
  readonly names: readonly NameText[]
  readonly scale: number
}

export const Names = memo(function Names({ problem, names, scale }: Props) {
  return (
    // The handles say the same aloud.
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus
    <g className="item-names" aria-hidden="true">
      {names.map(({ item: index, label }) => {
        const item = problem.items[index]
        if (!item) return null
        return (
          <Name
            key={item.id}
            label={label}
            scale={scale}
            className={item.footprint.breadboard ? 'item-name on-board' : 'item-name'}
          />
        )
      })}
    </g>
  )
})
