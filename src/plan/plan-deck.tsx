/** One deck of the plan with all that stands on it, in the deck's own millimetres. */
import { memo, type PointerEvent, useMemo } from 'react'
import type { Placement, Problem } from '../../solver/index.ts'
import { type Guide, guidesOf } from '../store/align.ts'
import type { Current } from '../store/currents.ts'
import type { Layers } from '../store/layers.ts'
import type { Lead } from '../store/leads.ts'
import type { Loads } from '../store/loads.ts'
import type { Distance, FreeSeen } from '../store/measure.ts'
import { placementOf } from '../store/moves.ts'
import { CAPTION, gapBoxes, holdBoxes, holdMarks, nameTexts } from '../store/plan-texts.ts'
import { captionOf } from '../store/sentences.ts'
import type { Actions, Carry } from '../store/store.ts'
import type { View } from '../store/view.ts'
import { words } from '../words/index.ts'
import { Gaps, Ghosts, Guides } from './distances.tsx'
import type { DeckFrame } from './frame.ts'
import { FreeLayer } from './free-layer.tsx'
import type { ItemKeys } from './keys.ts'
import { Body, Contacts, DeckGround, Room } from './layers.tsx'
import { HoldMarks, ItemHandle } from './marks.tsx'
import { Names } from './names.tsx'
import { placedAt } from './paths.ts'
import { CurrentStrokes, figure } from './power-layers.tsx'
import { Stood } from './stood.tsx'
import { Wires } from './wire-strokes.tsx'

interface Props {
  readonly view: View
  readonly deck: number
  readonly at: DeckFrame
  readonly scale: number
  readonly scope: string
  readonly carry: Carry | undefined
  /** Where others would go while something is carried: those that would move. */
  readonly moved: readonly Placement[]
  readonly selected: string | undefined
  readonly hovered: string | undefined
  readonly hoveredWire: number | undefined
  readonly faulty: ReadonlySet<string>
  readonly stood: View['stood']
  readonly on: Layers['on']
  readonly leads: readonly Lead[]
  readonly distances: readonly Distance[]
  readonly free: FreeSeen | undefined
  readonly currents: readonly Current[] | undefined
  readonly loads: Loads | undefined
  readonly badges: ReadonlyMap<number, string> | undefined
  readonly costs: ReadonlyMap<string, string> | undefined
  /** How much of the deck the window shows, where anything is said beside a hold. */
  readonly seenFrom: number | undefined
  readonly seenTo: number | undefined
  readonly actions: Actions
  readonly keys: ItemKeys
  readonly onPress: (event: PointerEvent, placement: Placement, id: string) => void
}

/**
 * What plugs in lies on its board. Always in one order, whatever moves: an element that changes its place in the page loses the focus,
 * and with it the keys.
 */
const inOrder = (problem: Problem, placements: readonly Placement[], deck: number): Placement[] => {
  const rank = (p: Placement): number => (problem.items[p.item]?.footprint.plug ? 1 : 0)
  return placements.filter((p) => p.deck === deck).sort((a, b) => rank(a) - rank(b) || a.item - b.item)
}

export const PlanDeck = memo(function PlanDeck(props: Props) {
  const { view, deck, at, scale, scope, carry, selected, on, actions } = props
  const { problem, placements, sheet } = view
  const order = inOrder(problem, placements, deck)
  const lifted = carry && placementOf(carry.from, carry.item)
  const liftedItem = carry && problem.items[carry.item]
  const hanging = carry && placementOf(placements, carry.item)
  const guides: readonly Guide[] =
    hanging && hanging.deck === deck && hanging !== lifted ? guidesOf(problem, placements, hanging) : []
  const load = props.loads?.decks[deck]
  const name = problem.decks[deck]?.name ?? ''
  const { costs, distances } = props
  const middle = at.box.x + at.box.w / 2
  const { seenFrom: from, seenTo: to } = props
  const marks = useMemo(() => {
    const seen = from === undefined || to === undefined ? undefined : { from, to }
    return holdMarks(problem, placements, deck, sheet.holds, scale, middle, selected, costs, seen)
  }, [problem, placements, deck, sheet.holds, scale, middle, selected, costs, from, to])
  const figures = useMemo(() => [...holdBoxes(marks, scale), ...gapBoxes(distances, scale)], [marks, distances, scale])
  // What hangs in the hand is being moved about: its name would only jump.
  const hand = carry?.item
  const names = useMemo(
    () =>
      nameTexts(
        problem,
        hand === undefined ? placements : placements.filter((p) => p.item !== hand),
        deck,
        scale,
        figures,
      ),
    [problem, placements, hand, deck, scale, figures],
  )
  const nameBoxes = useMemo(() => names.map((n) => n.box), [names])
  return (
    <>
      <DeckGround problem={problem} deck={deck} scope={scope} zones={on.zones} />
      {props.stood && (
        <Stood
          problem={problem}
          stood={props.stood}
          deck={deck}
          scope={scope}
          lit={props.faulty}
          hands={{ scale, selected, actions }}
        />
      )}
      {lifted && liftedItem && lifted.deck === deck && (
        <g
          className="was"
          transform={placedAt(lifted.at, lifted.turn, liftedItem.footprint.width, liftedItem.footprint.depth)}
        >
          <rect width={liftedItem.footprint.width / 1000} height={liftedItem.footprint.depth / 1000} />
        </g>
      )}
      {on.rooms &&
        order.map((p) => {
          const item = problem.items[p.item]
          return item && <Room key={item.id} footprint={item.footprint} placement={p} scope={scope} />
        })}
      <g
        role={order.length > 0 ? 'list' : undefined}
        aria-label={order.length > 0 ? words.plan.itemsOn(problem.decks[deck]?.name ?? '') : undefined}
      >
        {order.map((p) => {
          const item = problem.items[p.item]
          if (!item) return null
          return (
            // biome-ignore lint/a11y/noInteractiveElementToNoninteractiveRole: a group of an SVG is nothing interactive
            // biome-ignore lint/a11y/useSemanticElements: there is no list element inside an SVG
            <g key={item.id} role="listitem">
              <ItemHandle
                problem={problem}
                placement={p}
                scale={scale}
                selected={selected === item.id}
                hovered={props.hovered === item.id}
                held={sheet.holds.includes(item.id)}
                built={sheet.built?.includes(item.id) === true}
                faulty={props.faulty.has(item.id)}
                carried={carry?.item === p.item}
                onPress={props.onPress}
                actions={actions}
                keys={props.keys}
              />
            </g>
          )
        })}
      </g>
      {hanging && liftedItem && hanging.deck === deck && (
        // Over everything, while its handle stays where it is in the page.
        // biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus
        <g className="item carried aloft" aria-hidden="true">
          <Body footprint={liftedItem.footprint} placement={hanging} />
        </g>
      )}
      <text
        className="deck-name"
        fontSize={CAPTION.size * scale}
        transform={`translate(${at.box.x / 1000} ${(at.box.y + at.box.h) / 1000 + CAPTION.over * scale}) scale(1 -1)`}
      >
        {captionOf(problem, deck)}
        {load !== undefined && `, ${words.plan.deckLoad(name, figure(load))}`}
      </text>
      {on.contacts && <Contacts problem={problem} placements={placements} deck={deck} />}
      {on.strips && props.free && <FreeLayer seen={props.free} scale={scale} />}
      <Names problem={problem} names={names} scale={scale} />
      {props.currents && <CurrentStrokes leads={props.leads} currents={props.currents} deck={deck} />}
      {(on.wires || on.currents) && (
        <Wires
          problem={problem}
          leads={props.leads}
          deck={deck}
          scale={scale}
          strong={props.hoveredWire}
          selected={selected}
          badges={props.badges}
          atMost={carry !== undefined}
          figures={figures}
          names={nameBoxes}
        />
      )}
      {carry && <Ghosts problem={problem} deck={deck} moved={props.moved} from={carry.from} />}
      <Guides guides={guides} />
      <Gaps distances={props.distances} scale={scale} />
      <HoldMarks
        problem={problem}
        marks={marks}
        built={sheet.built}
        scale={scale}
        onFree={actions.free}
        costs={props.costs}
      />
    </>
  )
})
