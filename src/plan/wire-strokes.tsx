/** Wires as straight, numbered, rectilinear strokes; the numbers are those of the list beside the plan. */
import { memo } from 'react'
import type { Problem } from '../../solver/index.ts'
import type { WireRoute } from '../store/wires.ts'
import { lineOf } from './paths.ts'

interface Props {
  readonly problem: Problem
  readonly routes: readonly WireRoute[]
  readonly deck: number
  readonly scale: number
  readonly strong: number | undefined
  readonly selected: string | undefined
}

/** The middle of the longest piece, where the number stands. */
function middleOf(points: readonly (readonly [number, number])[]): readonly [number, number] {
  let best: readonly [number, number] = points[0] ?? [0, 0]
  let longest = -1
  for (let i = 0; i + 1 < points.length; i++) {
    const [ax, ay] = points[i]!
    const [bx, by] = points[i + 1]!
    const length = Math.abs(ax - bx) + Math.abs(ay - by)
    if (length > longest) {
      longest = length
      best = [(ax + bx) / 2, (ay + by) / 2]
    }
  }
  return best
}

export const Wires = memo(function Wires({ problem, routes, deck, scale, strong, selected }: Props) {
  const belongs = (index: number): boolean => {
    const wire = problem.wires[index]
    return [wire?.from, wire?.to].some(
      (end) => end?.kind === 'item' && end.ref.items.some((i) => problem.items[i]?.id === selected),
    )
  }
  const strokes = routes.flatMap(({ wire, strokes: all }) =>
    all
      .filter((s) => s.deck === deck)
      .map((s) => ({ wire, points: s.points, strong: wire === strong || belongs(wire) })),
  )
  const taken: (readonly [number, number])[] = []
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus; the list beside says it in words
    <g className="wires" aria-hidden="true">
      {strokes.map((s) => (
        <path key={`${s.wire} ${s.points[0]}`} className={s.strong ? 'wire strong' : 'wire'} d={lineOf(s.points)} />
      ))}
      {strokes.map((s) => {
        const [mx, my] = middleOf(s.points)
        let x = mx / 1000
        const y = my / 1000
        while (taken.some(([tx, ty]) => Math.abs(tx - x) < 13 * scale && Math.abs(ty - y) < 13 * scale)) x += 14 * scale
        taken.push([x, y])
        return (
          <g
            key={`${s.wire} ${s.points[0]} number`}
            className={s.strong ? 'wire-number strong' : 'wire-number'}
            transform={`translate(${x} ${y}) scale(1 -1)`}
          >
            <circle r={6.5 * scale} />
            <text fontSize={9 * scale} dy={3.2 * scale} textAnchor="middle">
              {s.wire + 1}
            </text>
          </g>
        )
      })}
    </g>
  )
})
