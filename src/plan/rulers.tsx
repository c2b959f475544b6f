/** Rulers along the edges of every deck, in mm of the decks' common frame, and the place of the item in hand between them. */
import { memo } from 'react'
import type { Distance } from '../store/measure.ts'
import type { Pane } from '../store/plan-view.ts'
import { inMm } from '../store/sentences.ts'
import type { DeckFrame, Frame } from './frame.ts'
import { OverLine } from './over-line.tsx'

const STEPS = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000]

/** mm between figures, so that they stand at least so many pixels apart. */
const stepFor = (scale: number, apart: number): number => STEPS.find((s) => s >= apart * scale) ?? 2000

function ticksBetween(from: number, to: number, step: number): number[] {
  const first = Math.ceil(from / step - 1e-9)
  const last = Math.floor(to / step + 1e-9)
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, k) => (first + k) * step)
}

interface Place {
  readonly frame: Frame
  readonly deck: DeckFrame
  /** What is seen of the sheet, y down. */
  readonly pane: Pane
  readonly scale: number
}

/** The deck's box and origin on the sheet, y down, and where its rulers lie: beside it, or at the edge of what is seen. */
function rulerPlace({ frame, deck, pane, scale }: Place) {
  const ox = deck.x
  const oy = frame.height - deck.y
  const left = ox + deck.box.x / 1000
  const right = left + deck.box.w / 1000
  const bottom = oy - deck.box.y / 1000
  const top = bottom - deck.box.h / 1000
  const y = Math.min(bottom + 16 * scale, pane.y + pane.height - 20 * scale)
  // Room for the longest figure along the deck.
  const digits = Math.max(String(Math.floor(oy - top)).length, String(Math.ceil(oy - bottom)).length)
  const wide = Math.max(26, 9 + 5.6 * digits) * scale
  const x = Math.max(left - 16 * scale, pane.x + wide)
  return { ox, oy, left, right, top, bottom, x, y, wide, seen: y > top && x < right }
}

export const Rulers = memo(function Rulers(place: Place) {
  const { pane, scale } = place
  const { ox, oy, left, right, top, bottom, x, y, wide, seen } = rulerPlace(place)
  const x0 = Math.max(left, pane.x)
  const x1 = Math.min(right, pane.x + pane.width)
  const y0 = Math.max(top, pane.y)
  const y1 = Math.min(bottom, pane.y + pane.height)
  if (!seen || x1 <= x0 || y1 <= y0) return null
  const step = stepFor(scale, 34)
  const fine = step / (step >= 5 && step / 5 >= 4 * scale ? 5 : 2)
  const across = ticksBetween(x0 - ox, x1 - ox, step)
  const along = ticksBetween(oy - y1, oy - y0, step)
  const size = 9.5 * scale
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus
    <g className="rulers" aria-hidden="true">
      <rect className="ruler-back" x={x0} y={y} width={x1 - x0} height={20 * scale} />
      <rect className="ruler-back" x={x - wide} y={y0} width={wide} height={y1 - y0} />
      <path
        className="ruler"
        d={
          `M${x0} ${y}H${x1}M${x} ${y0}V${y1}` +
          ticksBetween(x0 - ox, x1 - ox, fine)
            .map((v) => `M${ox + v} ${y}v${3 * scale}`)
            .join('') +
          across.map((v) => `M${ox + v} ${y}v${6 * scale}`).join('') +
          ticksBetween(oy - y1, oy - y0, fine)
            .map((v) => `M${x} ${oy - v}h${-3 * scale}`)
            .join('') +
          along.map((v) => `M${x} ${oy - v}h${-6 * scale}`).join('')
        }
      />
      {across.map((v) => (
        <text key={`x${v}`} x={ox + v} y={y + 15 * scale} fontSize={size} textAnchor="middle">
          {v}
        </text>
      ))}
      {along.map((v) => (
        <text key={`y${v}`} x={x - 8 * scale} y={oy - v + size / 3} fontSize={size} textAnchor="end">
          {v}
        </text>
      ))}
      <g className="datum" transform={`translate(${ox} ${oy}) scale(${scale})`}>
        <circle r={5} />
        <path d="M-8 0h16M0 -8v16" />
      </g>
    </g>
  )
})

/** Between deck edge and item, along the rulers: how far it is on both sides. */
export const Band = memo(function Band(props: Place & { readonly distances: readonly Distance[] }) {
  const { distances, scale } = props
  const { ox, oy, x, y, seen } = rulerPlace(props)
  if (!seen) return null
  const size = 10.5 * scale
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus
    <g className="band" aria-hidden="true">
      {distances
        .filter((d) => d.item === undefined)
        .map((d) => {
          const upright = d.side === 'front' || d.side === 'back'
          const a = upright ? oy - d.from.y / 1000 : ox + d.from.x / 1000
          const b = upright ? oy - d.to.y / 1000 : ox + d.to.x / 1000
          const off = 8 * scale
          const t = 3 * scale
          const path = upright
            ? `M${x + off - t} ${a}h${2 * t}M${x + off} ${a}V${b}M${x + off - t} ${b}h${2 * t}`
            : `M${a} ${y - off - t}v${2 * t}M${a} ${y - off}H${b}M${b} ${y - off - t}v${2 * t}`
          const middle = (a + b) / 2
          return (
            <g key={d.side} className={d.gap < 0 ? 'over' : undefined}>
              <path d={path} />
              <OverLine
                text={inMm(d.gap).replace('-', '−')}
                size={size}
                transform={
                  upright
                    ? `translate(${x + off + size / 3} ${middle}) rotate(-90)`
                    : `translate(${middle} ${y - off + size / 3})`
                }
              />
            </g>
          )
        })}
    </g>
  )
})
