/** Wires as straight, numbered, rectilinear strokes; the numbers are those of the list beside the plan, with what is to spare of each. */
import { memo } from 'react'
import type { Point, Problem } from '../../solver/index.ts'
import { isTight, type Lead, spareMm } from '../store/leads.ts'
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
}

/** The middle of the longest piece, where the number stands. */
function middleOf(points: readonly Point[]): { readonly x: number; readonly y: number } {
  let best: { readonly x: number; readonly y: number } = points[0]!
  let longest = -1
  for (let i = 0; i + 1 < points.length; i++) {
    const [a, b] = [points[i]!, points[i + 1]!]
    const length = Math.abs(a.x - b.x) + Math.abs(a.y - b.y)
    if (length > longest) {
      longest = length
      best = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }
    }
  }
  return best
}

export const Wires = memo(function Wires({ problem, leads, deck, scale, strong, selected, badges, atMost }: Props) {
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
        return { key: `${wire} ${i}`, wire, points, badge, states: states.filter(Boolean).join(' ') }
      }),
  )
  const taken: { x: number; y: number; w: number }[] = []
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus; the list beside says it in words
    <g className="wires" aria-hidden="true">
      {strokes.map((s) => {
        // What flows in it is drawn already.
        if (badges?.has(s.wire)) return null
        return <path key={s.key} className={`wire ${s.states}`} d={lineOf(s.points)} />
      })}
      {strokes.map((s) => {
        const middle = middleOf(s.points)
        const w = 13 + (s.badge ? 4 + 5.2 * s.badge.length : 0)
        let x = middle.x / 1000
        const y = middle.y / 1000
        const clash = () =>
          taken.find((t) => x - 7 * scale < t.x + t.w && x + (w - 6) * scale > t.x && Math.abs(t.y - y) < 13 * scale)
        for (let other = clash(); other; other = clash()) x = other.x + other.w + 7.5 * scale
        taken.push({ x: x - 7 * scale, y, w: (w + 1) * scale })
        return (
          <g
            key={`${s.key} number`}
            className={`wire-number ${s.states}`}
            transform={`translate(${x} ${y}) scale(${scale} ${-scale})`}
          >
            {s.badge && (
              <>
                <rect className="badge" x={0} y={-6} width={w - 6} height={12} rx={3} />
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
