/** The variant that was chosen: plan and 3D view side by side, and what can be done with the item in hand. */
import { lazy, Suspense, useState } from 'react'
import type { ItemKeys } from '../plan/keys.ts'
import { Legend } from '../plan/legend.tsx'
import { Plan } from '../plan/plan.tsx'
import { placementOf } from '../store/moves.ts'
import { called, sizeInWords, whereabouts } from '../store/sentences.ts'
import type { View } from '../store/view.ts'
import { Boundary, NoScene, whyNoWebGl } from './boundary.tsx'
import { useActions, useDeck, useView } from './use.ts'

// three is large, and the plan is to be of use before it is there.
const Scene = lazy(() => import('../scene/scene.tsx'))

function InHand({ view }: { view: View }) {
  const actions = useActions()
  const selected = useDeck((s) => s.selected)
  const { problem, placements, sheet } = view
  const index = problem.items.findIndex((item) => item.id === selected)
  const item = problem.items[index]
  if (!item)
    return <p className="hint">Drag an item to where it should be: it is held there, and the others make room.</p>
  const at = placementOf(placements, index)
  const held = sheet.holds.includes(item.id)
  return (
    <>
      <p className="hint">
        <b>{called(item.id)}</b> {whereabouts(problem, at)}. {sizeInWords(item, at)}.
      </p>
      <div className="group">
        {at && (
          <>
            <button type="button" onClick={() => actions.turn(item.id)} title="Shift and an arrow key">
              Turn
            </button>
            <button
              type="button"
              aria-pressed={held}
              onClick={() => (held ? actions.free(item.id) : actions.hold(item.id))}
            >
              {held ? 'Free it' : 'Hold it here'}
            </button>
            {item.decks.length > 1 && at.host === undefined && (
              <select
                aria-label={`Deck of ${called(item.id)}`}
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
        {!at && (
          <button type="button" onClick={() => actions.place(item.id)}>
            Put it on the deck
          </button>
        )}
      </div>
    </>
  )
}

export function Stage({ keys }: { keys: ItemKeys }) {
  const actions = useActions()
  const active = useDeck((s) => s.active)
  const view = useView(active)
  const carry = useDeck((s) => s.carry)
  const selected = useDeck((s) => s.selected)
  const hovered = useDeck((s) => s.hovered)
  const hoveredWire = useDeck((s) => s.hoveredWire)
  const project = useDeck((s) => s.history.doc.project)
  const [noWebGl] = useState(whyNoWebGl)
  if (!view) return null
  return (
    <section className="stage" aria-label={`Stage: ${view.sheet.variant}`}>
      <div className="in-hand">
        <InHand view={view} />
      </div>
      <div className="views">
        <div className="view-plan">
          <Plan
            view={view}
            carry={carry}
            selected={selected}
            hovered={hovered}
            hoveredWire={hoveredWire}
            actions={actions}
            keys={keys}
            project={project}
          />
          <Legend />
        </div>
        <div className="view-scene">
          {noWebGl ? (
            <NoScene why={noWebGl} />
          ) : (
            <Boundary>
              <Suspense fallback={<p className="scene-wait">The 3D view is on its way…</p>}>
                <Scene
                  problem={view.problem}
                  placements={view.placements}
                  selected={selected}
                  hovered={hovered}
                  faulty={view.findings}
                  onSelect={actions.select}
                  onHover={actions.hover}
                />
              </Suspense>
            </Boundary>
          )}
        </div>
      </div>
    </section>
  )
}
