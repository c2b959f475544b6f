/** In the deck's own millimetres: gaps from the item in hand to its neighbours, lines that it lies on, and where others would go. */
import { memo } from 'react'
import { type Placement, type Problem, turnedSize } from '../../solver/index.ts'
import type { Guide } from '../store/align.ts'
import type { Distance } from '../store/measure.ts'
import { gapText } from '../store/plan-texts.ts'
import { OverLine } from './over-line.tsx'

const n = (um: number): number => um / 1000

interface GapProps {
  readonly distances: readonly Distance[]
  readonly scale: number
}

export const Gaps = memo(function Gaps({ distances, scale }: GapProps) {
  const t = 3 * scale
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus
    <g className="gaps" aria-hidden="true">
      {distances
        .filter((d) => d.item !== undefined)
        .map((d) => {
          const [ax, ay, bx, by] = [n(d.from.x), n(d.from.y), n(d.to.x), n(d.to.y)]
          const upright = d.side === 'front' || d.side === 'back'
          const ends = upright
            ? `M${ax - t} ${ay}h${2 * t}M${bx - t} ${by}h${2 * t}`
            : `M${ax} ${ay - t}v${2 * t}M${bx} ${by - t}v${2 * t}`
          const { text, x, y, size } = gapText(d, scale)
          return (
            <g key={d.side} className={d.gap < 0 ? 'over' : undefined}>
              <path d={`${ends}M${ax} ${ay}L${bx} ${by}`} />
              <OverLine text={text} size={size} transform={`translate(${x} ${y}) scale(1 -1)`} />
            </g>
          )
        })}
    </g>
  )
})

export const Guides = memo(function Guides({ guides }: { readonly guides: readonly Guide[] }) {
  if (guides.length === 0) return null
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus
    <g className="guides" aria-hidden="true">
      {guides.map((g) => (
        <path
          key={`${g.along} ${g.at} ${g.why}`}
          className={`guide guide-${g.why}`}
          d={g.along === 'x' ? `M${n(g.from)} ${n(g.at)}H${n(g.to)}` : `M${n(g.at)} ${n(g.from)}V${n(g.to)}`}
        />
      ))}
    </g>
  )
})

interface GhostProps {
  readonly problem: Problem
  readonly deck: number
  readonly moved: readonly Placement[]
  readonly from: readonly Placement[]
}

/** Where others would make room, each joined to where it is. */
export const Ghosts = memo(function Ghosts({ problem, deck, moved, from }: GhostProps) {
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus
    <g className="ghosts" aria-hidden="true">
      {moved
        .filter((p) => p.deck === deck)
        .map((p) => {
          const footprint = problem.items[p.item]?.footprint
          if (!footprint) return null
          const { w, h } = turnedSize(footprint.width, footprint.depth, p.turn)
          const old = from.find((f) => f.item === p.item && f.deck === deck)
          const was = old && turnedSize(footprint.width, footprint.depth, old.turn)
          return (
            <g key={p.item}>
              {old && was && (
                <path
                  className="ghost-way"
                  d={`M${n(old.at.x + was.w / 2)} ${n(old.at.y + was.h / 2)}L${n(p.at.x + w / 2)} ${n(p.at.y + h / 2)}`}
                />
              )}
              <rect className="ghost" x={n(p.at.x)} y={n(p.at.y)} width={n(w)} height={n(h)} rx={0.6} />
            </g>
          )
        })}
    </g>
  )
})
