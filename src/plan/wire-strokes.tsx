/** Wires as straight, numbered, rectilinear strokes; the numbers are those of the list beside the plan, with what is to spare of each. */
import { memo } from 'react'
import type { Problem } from '../../solver/index.ts'
import type { Box } from '../store/item-label.ts'
import { isTight, type Lead, spareMm } from '../store/leads.ts'
import { numberSpots } from '../store/plan-texts.ts'
import { words } from '../words/index.ts'
import { lineOf } from './paths.ts'

interface Props {
  readonly problem: Problem
  readonly leads: readonly Lead[]
  readonly deck: number
  readonly scale: number
  readonly strong: number | undefined
  readonly selected: string | undefined
  /** Texts in place of what is to spare, by wire. */
  readonly badges: ReadonlyMap<number, string> | undefined
  /** Ways are straight yet, so that what is to spare can only become less. */
  readonly atMost: boolean
  /** What numbers keep clear of: figures before all, then names. */
  readonly figures: readonly Box[]
  readonly names: readonly Box[]
}

export const Wires = memo(function Wires(props: Props) {
  const { problem, leads, deck, scale, strong, selected, badges, atMost, figures, names } = props
  const belongs = (index: number): boolean => {
    const wire = problem.wires[index]
    return [wire?.from, wire?.to].some(
      (end) => end?.kind === 'item' && end.ref.items.some((i) => problem.items[i]?.id === selected),
    )
  }
  const strokes = leads.flatMap((lead) =>
    lead.strokes
      .filter((s) => s.deck === deck)
      .map(({ points }, i) => {
        const { wire, spare, way } = lead
        const states = [
          (wire === strong || belongs(wire)) && 'strong',
          isTight(lead) && 'tight',
          way === 'barred' && 'barred',
        ]
        const left = spare === undefined ? undefined : spareMm(spare)
        const text = atMost ? words.plan.spareAtMost : words.plan.spare
        const badge = badges ? badges.get(wire) : left === undefined ? undefined : text(left)
        return {
          key: `${wire} ${i}`,
          wire,
          points,
          badge,
          wide: 14 + (badge ? 4 + 5.2 * badge.length : 0),
          states: states.filter(Boolean).join(' '),
        }
      }),
  )
  const spots = numberSpots(strokes, figures, names, scale)
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus; the list beside says it in words
    <g className="wires" aria-hidden="true">
      {strokes.map((s) => {
        // What flows in it is drawn already.
        if (badges?.has(s.wire)) return null
        return <path key={s.key} className={`wire ${s.states}`} d={lineOf(s.points)} />
      })}
      {strokes.map((s, i) => {
        const { x, y } = spots[i]!
        return (
          <g
            key={`${s.key} number`}
            className={`wire-number ${s.states}`}
            transform={`translate(${x} ${y}) scale(${scale} ${-scale})`}
          >
            {s.badge && (
              <>
                <rect className="badge" x={0} y={-6} width={s.wide - 7} height={12} rx={3} />
                <text className="badge-text" fontSize={9} x={8.5} dy={3.2}>
                  {s.badge}
                </text>
              </>
            )}
            <circle r={6.5} />
            <text fontSize={9} dy={3.2} textAnchor="middle">
              {s.wire + 1}
            </text>
          </g>
        )
      })}
    </g>
  )
})
