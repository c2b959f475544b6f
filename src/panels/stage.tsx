/** The variant that was chosen: plan and 3D view side by side, and what can be done with the item in hand. */
import { useEffect, useRef } from 'react'
import type { ItemKeys } from '../plan/keys.ts'
import { Legend } from '../plan/legend.tsx'
import { placementOf } from '../store/moves.ts'
import { called, sizeInWords, whereabouts } from '../store/sentences.ts'
import type { View } from '../store/view.ts'
import { words } from '../words/index.ts'
import { beside, useParts } from './parts-use.ts'
import { useActions, useDeck, useView } from './use.ts'
import { ApartList } from './variant-apart.tsx'
import { VariantBar } from './variant-bar.tsx'
import { Pane } from './variant-pane.tsx'
import { useBeside, useStageState } from './variant-use.ts'
import './variant-pane.css'

function InHand({ view }: { view: View }) {
  const actions = useActions()
  const desk = useParts()
  const selected = useDeck((s) => s.selected)
  const { problem, placements, sheet } = view
  const text = words.page.inHand
  const index = problem.items.findIndex((item) => item.id === selected)
  const item = problem.items[index]
  if (!item && problem.items.length === 0)
    return (
      <>
        <p className="hint">{text.empty}</p>
        <button type="button" onClick={(event) => desk.search(beside(event.currentTarget))}>
          {text.first}
        </button>
      </>
    )
  if (!item)
    return (
      <>
        <p className="hint">{placements.length === 0 ? text.noneThere : text.none}</p>
        <button type="button" onClick={(event) => desk.search(beside(event.currentTarget))}>
          {text.another}
        </button>
      </>
    )
  const at = placementOf(placements, index)
  const held = sheet.holds.includes(item.id)
  const built = sheet.built?.includes(item.id)
  return (
    <>
      <p className="hint">
        <b>{called(item.id)}</b> {whereabouts(problem, at)}. {sizeInWords(item, at)}. {built && text.built}
      </p>
      <div className="group">
        {at && !built && (
          <>
            <button type="button" onClick={() => actions.turn(item.id)} title={text.turnKeys}>
              {text.turn}
            </button>
            <button
              type="button"
              aria-pressed={held}
              onClick={() => (held ? actions.free(item.id) : actions.hold(item.id))}
            >
              {held ? text.free : text.hold}
            </button>
            {item.decks.length > 1 && at.host === undefined && (
              <select
                aria-label={text.deckOf(called(item.id))}
                value={at.deck}
                onChange={(event) => actions.toDeck(item.id, Number(event.target.value))}
              >
                {item.decks.map((deck) => (
                  <option key={deck} value={deck}>
                    {problem.decks[deck]?.name}
                  </option>
                ))}
              </select>
            )}
          </>
        )}
        {at && (
          <button
            type="button"
            title={built ? text.unmarkBuiltHow : text.markBuiltHow}
            onClick={() => (built ? actions.unmarkBuilt(item.id) : actions.markBuilt([item.id]))}
          >
            {built ? text.unmarkBuilt : text.markBuilt}
          </button>
        )}
        {!at && (
          <button type="button" onClick={() => actions.place(item.id)}>
            {text.place}
          </button>
        )}
      </div>
    </>
  )
}

export function Stage({ keys }: { keys: ItemKeys }) {
  const active = useDeck((s) => s.active)
  const view = useView(active)
  const second = useBeside()
  const other = useView(second ?? -1)
  const { beside } = useStageState()
  const hand = useRef<HTMLDivElement>(null)
  const empty = view?.problem.items.length === 0
  const wasEmpty = useRef(empty)
  useEffect(() => {
    // With the first part goes the button that asked for it.
    if (wasEmpty.current && !empty && document.activeElement === document.body)
      hand.current?.focus({ preventScroll: true })
    wasEmpty.current = empty
  }, [empty])
  if (!view) return null
  const text = words.variants.two
  // Each keeps its side, whichever of them is being changed.
  const panes =
    second === undefined || !other
      ? [{ index: active, view }]
      : [
          { index: active, view, other },
          { index: second, view: other, other: view },
        ].sort((a, b) => a.index - b.index)
  const name = other?.sheet.variant
  return (
    <section className="stage" aria-label={words.variants.stage(view.sheet.variant)}>
      <VariantBar />
      <div className="in-hand" ref={hand} tabIndex={-1}>
        <InHand view={view} />
        {name !== undefined && (
          <button type="button" onClick={() => beside.setState({ variant: undefined })}>
            {text.close}
          </button>
        )}
      </div>
      <div className={name === undefined ? 'views' : 'views two'}>
        {panes.map((pane, side) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a pane is a side of the stage, whatever it shows
          <Pane key={side} {...pane} keys={keys} />
        ))}
      </div>
      {other && name !== undefined && (
        <>
          <ApartList here={view} there={other} name={name} />
          <Legend />
        </>
      )}
    </section>
  )
}
