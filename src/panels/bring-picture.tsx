/** What was brought in, drawn to scale, seen from above with the front up. */
import { shapeToSolver } from '../../footprints/fields.ts'
import { bounds, prepare, toMm } from '../../solver/index.ts'
import type { ProjectDeck } from '../model/index.ts'
import { pathOf } from '../plan/paths.ts'
import { words } from '../words/index.ts'
import { deckWords, type Footprint } from './bring-files.ts'

export function DeckPicture({ deck }: { deck: ProjectDeck }) {
  const outline = shapeToSolver(deck.outline)
  const box = bounds(prepare(outline))
  return (
    <Frame
      x={toMm(box.x)}
      y={toMm(box.y)}
      w={toMm(box.w)}
      h={toMm(box.h)}
      label={words.bring.deckPicture(deckWords(deck))}
    >
      <path className="deck" d={pathOf(outline)} />
      {(deck.openings ?? []).map((o) => (
        <path key={o.id} className="hole" d={pathOf(shapeToSolver(o.shape))} />
      ))}
      {(deck.holes ?? []).map((h) => (
        <circle key={h.id} className="hole" cx={h.at[0]} cy={h.at[1]} r={h.diameter / 2} />
      ))}
    </Frame>
  )
}

export function FootprintPicture({ footprint }: { footprint: Footprint }) {
  const { width, depth, height } = footprint.body
  const mount = footprint.mount
  const holes = mount.kind === 'screw' ? (mount.holes ?? []) : []
  const what = words.bring.board(width, depth, height, holes.length)
  return (
    <>
      <Frame x={0} y={0} w={width} h={depth} label={words.bring.boardPicture(what)}>
        <rect className="body" width={width} height={depth} />
        {holes.map((h) => (
          <circle key={h.id} className="hole" cx={h.at[0]} cy={h.at[1]} r={h.diameter / 2} />
        ))}
      </Frame>
      <p>{what}.</p>
    </>
  )
}

function Frame({
  x,
  y,
  w,
  h,
  label,
  children,
}: {
  x: number
  y: number
  w: number
  h: number
  label: string
  children: React.ReactNode
}) {
  const pad = Math.max(w, h) * 0.03
  return (
    <svg
      className="plan brought-picture"
      viewBox={`${x - pad} ${-(y + h) - pad} ${w + 2 * pad} ${h + 2 * pad}`}
      role="img"
      aria-label={label}
    >
      <g transform="scale(1 -1)">{children}</g>
    </svg>
  )
}
