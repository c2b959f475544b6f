/** Amounts on the plan by colour and width: current in each wire, load on tracks and decks; each with its legend in numbers. */
import { memo } from 'react'
import { colourOf, gradient, roundUp } from '../store/colour-map.ts'
import type { Current } from '../store/currents.ts'
import type { Lead } from '../store/leads.ts'
import type { Loads } from '../store/loads.ts'
import { words } from '../words/index.ts'
import { lineOf } from './paths.ts'

/** Pixels of the thinnest and of the thickest stroke. */
const THIN = 2
const THICK = 9

export const figure = (value: number): string => String(Number(value.toPrecision(value < 10 ? 2 : 3)))

export const mostOf = (currents: readonly Current[]): number => roundUp(Math.max(0, ...currents.map((c) => c.amps)))

interface CurrentProps {
  readonly leads: readonly Lead[]
  readonly currents: readonly Current[]
  readonly deck: number
}

export const CurrentStrokes = memo(function CurrentStrokes({ leads, currents, deck }: CurrentProps) {
  const most = mostOf(currents)
  const ampsOf = new Map(currents.map((c) => [c.wire, c.amps]))
  const strokes = leads.flatMap((lead) => {
    const amps = ampsOf.get(lead.wire)
    if (amps === undefined) return []
    const width = THIN + (THICK - THIN) * Math.min(1, amps / most)
    return lead.strokes
      .filter((s) => s.deck === deck)
      .map((s, i) => ({ key: `${lead.wire} ${i}`, d: lineOf(s.points), width, colour: colourOf(amps / most) }))
  })
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus
    <g className="currents" aria-hidden="true">
      {strokes.map((s) => (
        <path key={`${s.key} edge`} className="current-edge" d={s.d} style={{ strokeWidth: s.width + 2.5 }} />
      ))}
      {strokes.map((s) => (
        <path key={s.key} className="current" d={s.d} style={{ strokeWidth: s.width, stroke: s.colour }} />
      ))}
    </g>
  )
})

/** Tracks, what the chassis stands on and the centre of gravity, in the frame of the decks; mm. */
export const LoadMarks = memo(function LoadMarks({ loads, scale }: { readonly loads: Loads; readonly scale: number }) {
  const { tracks, span, stands, centre, tips } = loads
  const most = roundUp(Math.max(tracks.left.force, tracks.right.force))
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus
    <g className="loads" aria-hidden="true">
      <path className="stands" d={`${lineOf(stands.map((p) => ({ x: p.x * 1000, y: p.y * 1000 })))}z`} />
      {(['left', 'right'] as const).map((which) => {
        const { force, said } = tracks[which]
        const line = `M${span[which]} ${span.back}V${span.front}`
        return (
          <g key={which}>
            <path className="track-edge" d={line} />
            <path className="track" d={line} style={{ stroke: colourOf(force / most) }} />
            <text
              fontSize={11 * scale}
              textAnchor={which === 'left' ? 'start' : 'end'}
              transform={`translate(${span[which]} ${span.front + 6 * scale}) scale(1 -1)`}
            >
              {words.plan.trackLoad(which, said.force, said.share)}
            </text>
          </g>
        )
      })}
      <g
        className={tips ? 'centre tips' : 'centre'}
        transform={`translate(${centre.x} ${centre.y}) scale(${scale} ${-scale})`}
      >
        <circle r={8} />
        <path d="M0 -8A8 8 0 0 1 8 0H0zM0 8A8 8 0 0 1 -8 0H0z" />
      </g>
    </g>
  )
})

interface Scale {
  readonly title: string
  readonly most: number
  readonly unit: (value: string) => string
  readonly notes: readonly string[]
}

/** A colour bar with figures at its ends and middle. */
export function ColourScale({ title, most, unit, notes }: Scale) {
  return (
    <figure className="colour-scale">
      <figcaption>{title}</figcaption>
      <div className="bar" style={{ backgroundImage: gradient() }} />
      <div className="bar-figures">
        {[0, most / 2, most].map((v) => (
          <span key={v}>{unit(figure(v))}</span>
        ))}
      </div>
      {notes.map((note) => (
        <p key={note}>{note}</p>
      ))}
    </figure>
  )
}
