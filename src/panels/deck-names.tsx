/** Names of leads, passes and zones on the workshop's plan, beside what they name. */
import type { Project } from '../model/index.ts'
import { deckTexts, SIZE } from '../store/deck-texts.ts'
import './deck-names.css'

interface Props {
  readonly project: Project
  readonly deck: string
  /** Millimetres for one pixel. */
  readonly scale: number
  /** The plate's right edge, mm. */
  readonly right: number
  /** Between what names of zones have to be, mm: beyond, they are cut. */
  readonly room: readonly [left: number, right: number]
}

export function DeckNames({ project, deck, scale, right, room }: Props) {
  return (
    // The shapes say the same aloud.
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus
    <g className="deck-names" aria-hidden="true" fontSize={SIZE * scale}>
      {deckTexts(project, deck, scale, right, room).map(({ part, id, x, y, anchor }) => (
        <text key={`${part} ${id}`} textAnchor={anchor} transform={`translate(${x} ${y}) scale(1 -1)`}>
          {id}
        </text>
      ))}
    </g>
  )
}
