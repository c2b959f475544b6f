/** Names of leads, passes and zones on the workshop's plan, beside what they name. */
import { shapeToSolver } from '../../footprints/fields.ts'
import { partsOf } from '../model/edit-deck.ts'
import type { Project } from '../model/index.ts'
import { DRAWN } from '../store/deck-worries.ts'
import { boxOf } from '../store/outline.ts'
import './deck-names.css'

interface Props {
  readonly project: Project
  readonly deck: string
  /** Millimetres for one pixel. */
  readonly scale: number
  /** The plate's right edge, mm: what has no room on the right is named on the left. */
  readonly right: number
  /** Between what names of zones have to be, mm: beyond, they are cut. */
  readonly room: readonly [left: number, right: number]
}

/** Pixels for one letter, about. */
const LETTER = 6.4
/** The same where each pixel more covers a neighbour. */
const NARROW = 5.6
const SIZE = 11

export function DeckNames({ project, deck, scale, right, room: [least, most] }: Props) {
  /** In the middle of the zone, or as near to it as there is room. */
  const kept = (middle: number, id: string): number => {
    const half = (id.length * NARROW * scale) / 2
    return 2 * half > most - least ? middle : Math.min(Math.max(middle, least + half), most - half)
  }
  const turned = (x: number, y: number): string => `translate(${x} ${y}) scale(1 -1)`
  return (
    // The shapes say the same aloud.
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus
    <g className="deck-names" aria-hidden="true" fontSize={SIZE * scale}>
      {partsOf(project, 'zones', deck).map(({ id, shape }) => {
        const box = boxOf(shapeToSolver(shape))
        const middle = (box.x + box.w / 2) / 1000
        return (
          <text
            key={`zone ${id}`}
            textAnchor="middle"
            transform={turned(kept(middle, id), (box.y + box.h / 2) / 1000 - 4 * scale)}
          >
            {id}
          </text>
        )
      })}
      {(['exits', 'passes'] as const).flatMap((kind) =>
        partsOf(project, kind, deck).map(({ id, at, diameter }) => {
          const off = (diameter ?? DRAWN) / 2 + 6 * scale
          const left = at[0] + off + id.length * LETTER * scale > right
          return (
            <text
              key={`${kind} ${id}`}
              textAnchor={left ? 'end' : 'start'}
              transform={turned(at[0] + (left ? -off : off), at[1] - 4 * scale)}
            >
              {id}
            </text>
          )
        }),
      )}
    </g>
  )
}
