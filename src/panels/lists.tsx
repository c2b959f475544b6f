/** Items and wires as lists: all that the plan shows and does, in words and by keyboard. */
import { useMemo } from 'react'
import type { WireEnd } from '../../solver/index.ts'
import type { ItemKeys } from '../plan/keys.ts'
import { placementOf } from '../store/moves.ts'
import { called, inMm, sizeInWords, whereabouts } from '../store/sentences.ts'
import type { View } from '../store/view.ts'
import { Making } from './making.tsx'
import { useActions, useDeck, useView } from './use.ts'

function Items({ view, keys }: { view: View; keys: ItemKeys }) {
  const actions = useActions()
  const selected = useDeck((s) => s.selected)
  const hovered = useDeck((s) => s.hovered)
  const { problem, placements, sheet } = view
  return (
    <section className="list" aria-labelledby="items-title">
      <h2 id="items-title">Items</h2>
      {problem.items.length === 0 && <p>This deck is empty.</p>}
      <ul>
        {problem.items.map((item, index) => {
          const at = placementOf(placements, index)
          const held = sheet.holds.includes(item.id)
          return (
            <li key={item.id} className={hovered === item.id ? 'hovered' : undefined}>
              <button
                type="button"
                className={`row${selected === item.id ? ' selected' : ''}`}
                aria-pressed={held}
                aria-describedby="item-keys"
                onFocus={() => actions.select(item.id)}
                onClick={() => actions.select(item.id)}
                onBlur={keys.leave}
                onKeyDown={(event) => keys.press(item.id, event)}
                onPointerEnter={() => actions.hover(item.id)}
                onPointerLeave={() => actions.hover(undefined)}
              >
                <b>{called(item.id)}</b>
                <span className="row-what">
                  {item.footprint.name}, {sizeInWords(item, at)}
                </span>
                <span className="row-where">
                  {at ? whereabouts(problem, at) : item.required ? 'has no place yet' : 'left out'}
                  {item.later ? ', for later' : ''}
                </span>
              </button>
              {held && (
                <button type="button" className="small" onClick={() => actions.free(item.id)}>
                  <span aria-hidden="true">held · free</span>
                  <span className="unseen">Free {called(item.id)}</span>
                </button>
              )}
            </li>
          )
        })}
      </ul>
    </section>
  )
}

function Wires({ view }: { view: View }) {
  const actions = useActions()
  const { problem, figures } = view
  const lengths = useMemo(() => new Map(figures?.wires.map((w) => [w.wire, w])), [figures])
  const end = (e: WireEnd): string =>
    e.kind === 'exit' ? (problem.exits[e.exit]?.id ?? '') : `${called(e.ref.name)} ${e.terminal}`
  if (problem.wires.length === 0) return null
  return (
    <section className="list" aria-labelledby="wires-title">
      <h2 id="wires-title">Wires</h2>
      <ol>
        {problem.wires.map((wire, index) => {
          const length = lengths.get(index)
          return (
            <li
              key={wire.id}
              className="wire-row"
              onPointerEnter={() => actions.hoverWire(index)}
              onPointerLeave={() => actions.hoverWire(undefined)}
            >
              <span className="wire-badge">{index + 1}</span>
              <span>
                <b>{wire.id}</b>
                {wire.conductors > 1 ? ` × ${wire.conductors}` : ''}
                <span className="row-what">
                  {end(wire.from)} to {end(wire.to)}
                </span>
              </span>
              <span className="row-where">
                {length ? `${inMm(length.length)} mm, cut to ${inMm(length.cut)} mm` : 'not laid'}
              </span>
            </li>
          )
        })}
      </ol>
    </section>
  )
}

export function Lists({ keys }: { keys: ItemKeys }) {
  const view = useView(useDeck((s) => s.active))
  if (!view) return null
  return (
    <div className="lists">
      <Items view={view} keys={keys} />
      <div>
        <Wires view={view} />
        <Making view={view} />
      </div>
    </div>
  )
}
