/** The layers of one deck's plan, in the deck's own millimetres: what the card and the stage have in common. */
import { memo } from 'react'
import { type Footprint, mountCuts, mountHoles, type Placement, type Problem } from '../../solver/index.ts'
import { splitTiePoints } from '../store/tie-points.ts'
import { hatch } from './hatches.tsx'
import { dotsOf, pathOf, placedAt, platePath, sweepOf, ticksOf } from './paths.ts'

interface DeckProps {
  readonly problem: Problem
  readonly deck: number
  readonly scope: string
  readonly zones?: boolean
}

/** Outline with openings, existing holes, exits, passes and zones. */
export const DeckGround = memo(function DeckGround({ problem, deck: index, scope, zones = true }: DeckProps) {
  const deck = problem.decks[index]
  if (!deck) return null
  const leads = [
    ...problem.exits.filter((e) => e.deck === index),
    ...problem.passes.filter((p) => p.decks.includes(index)),
  ]
  return (
    <g className="ground">
      <path
        className="deck"
        fillRule="evenodd"
        d={platePath(
          deck.outline,
          deck.openings.map((o) => o.shape),
        )}
      />
      {problem.zones
        .filter((zone) => zones && zone.deck === index)
        .map((zone) => (
          <path
            key={zone.id}
            className={`zone zone-${zone.kind}`}
            d={pathOf(zone.shape)}
            fill={hatch(scope, zone.kind)}
          />
        ))}
      {deck.holes.map((hole) => (
        <circle key={hole.id} className="hole" cx={hole.at.x / 1000} cy={hole.at.y / 1000} r={hole.diameter / 2000} />
      ))}
      {leads.map((lead) => (
        <circle
          key={lead.id}
          className="lead"
          cx={lead.at.x / 1000}
          cy={lead.at.y / 1000}
          r={(lead.diameter ?? 3000) / 2000}
        />
      ))}
    </g>
  )
})

interface BodyProps {
  readonly footprint: Footprint
  readonly placement: Placement
}

/** A body's outline with what is on it: mounting holes, slots, first pin, front edge. */
export const Body = memo(function Body({ footprint, placement }: BodyProps) {
  const { width, depth, mount, plug } = footprint
  const [holes, slots] = [mountHoles(mount), mountCuts(mount)]
  const first = plug?.pins[0]
  return (
    <g transform={placedAt(placement.at, placement.turn, width, depth)}>
      <rect className={`body body-${footprint.kind}`} width={width / 1000} height={depth / 1000} rx={0.6} />
      {slots.map((s) => (
        <rect
          key={`${s.x} ${s.y}`}
          className="slot"
          x={s.x / 1000}
          y={s.y / 1000}
          width={s.w / 1000}
          height={s.h / 1000}
        />
      ))}
      {holes.map((h) => (
        <circle key={h.id} className="hole" cx={h.at.x / 1000} cy={h.at.y / 1000} r={h.diameter / 2000} />
      ))}
      {first && <circle className="first-pin" cx={first.at.x / 1000} cy={first.at.y / 1000} r={0.9} />}
    </g>
  )
})

/** Corridors and sweep of one body. */
export const Room = memo(function Room({ footprint, placement, scope }: BodyProps & { readonly scope: string }) {
  const { width, depth, head, corridors } = footprint
  if (!head && corridors.length === 0) return null
  return (
    <g transform={placedAt(placement.at, placement.turn, width, depth)}>
      {corridors.map((c) => (
        <path key={c.id} className="corridor" d={pathOf(c.shape)} fill={hatch(scope, 'corridor')} />
      ))}
      {head && sweepOf(head).map((d) => <path key={d} className="sweep" d={d} fill={hatch(scope, 'sweep')} />)}
    </g>
  )
})

interface BoardProps {
  readonly problem: Problem
  readonly board: Placement
  /** What is plugged into it. */
  readonly guests: readonly Placement[]
}

/** Drawn again only where the board or one of its guests has moved. */
const BoardContacts = memo(
  function BoardContacts({ problem, board, guests }: BoardProps) {
    const { free, covered } = splitTiePoints(problem, guests, board)
    return (
      <>
        <path className="free" d={dotsOf(free)} />
        <path className="covered" d={ticksOf(covered, 600)} />
      </>
    )
  },
  (a, b) =>
    a.problem === b.problem &&
    a.board === b.board &&
    a.guests.length === b.guests.length &&
    a.guests.every((g, i) => g === b.guests[i]),
)

interface ContactProps {
  readonly problem: Problem
  readonly placements: readonly Placement[]
  readonly deck: number
}

/** Every free contact of a deck's breadboards as a dot of its own; covered ones struck through, which makes a hatch. */
export const Contacts = memo(function Contacts({ problem, placements, deck }: ContactProps) {
  return (
    <g className="contacts">
      {placements
        .filter((p) => p.deck === deck && problem.items[p.item]?.footprint.breadboard)
        .map((board) => (
          <BoardContacts
            key={board.item}
            problem={problem}
            board={board}
            guests={placements.filter((p) => p.host === board.item)}
          />
        ))}
    </g>
  )
})
