/** What rules ask about decks: outlines, openings and holes, prepared once. */
import type { Deck, Exit, Pass, Problem } from '../problem.ts'
import { bounds, prepare, type Region } from '../shapes.ts'
import type { Rect } from '../units.ts'
import { type Sides, sidesOf } from './coincide.ts'

export interface DeckShapes {
  readonly deck: Deck
  readonly outline: Region
  readonly box: Rect
  readonly openings: readonly {
    readonly id: string
    readonly region: Region
    readonly mayCover: boolean
    readonly strap: boolean
    readonly round: boolean
    /** Where it may be a part's cut-out. */
    readonly sides: Sides | undefined
  }[]
  readonly holes: readonly {
    readonly x: number
    readonly y: number
    readonly diameter: number
    readonly region: Region
  }[]
}

const known = new WeakMap<Problem, DeckShapes[]>()

export function deckShapes(problem: Problem): readonly DeckShapes[] {
  let out = known.get(problem)
  if (!out) {
    out = problem.decks.map((deck, d) => {
      const outline = prepare(deck.outline)
      // exits and passes with a diameter are round openings that nothing covers
      const round = [...problem.exits.filter((x) => x.deck === d), ...problem.passes.filter((p) => p.decks.includes(d))]
      return {
        deck,
        outline,
        box: bounds(outline),
        openings: [
          ...deck.openings.map((o) => ({
            id: o.id,
            region: prepare(o.shape),
            mayCover: o.mayCover,
            strap: o.strap ?? false,
            round: false,
            sides: sidesOf(o.shape),
          })),
          ...round.flatMap((o) => circle(o)),
        ],
        holes: deck.holes.map((h) => ({
          x: h.at.x,
          y: h.at.y,
          diameter: h.diameter,
          region: prepare({ kind: 'circle', cx: h.at.x, cy: h.at.y, r: (h.diameter / 2) as typeof h.diameter }),
        })),
      }
    })
    known.set(problem, out)
  }
  return out
}

const circle = (o: Exit | Pass) =>
  o.diameter === undefined || o.diameter <= 0
    ? []
    : [
        {
          id: o.id,
          region: prepare({ kind: 'circle', cx: o.at.x, cy: o.at.y, r: (o.diameter / 2) as typeof o.diameter }),
          mayCover: false,
          strap: false,
          round: true,
          sides: undefined,
        },
      ]
