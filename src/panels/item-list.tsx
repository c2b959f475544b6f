/** The items as a list: all that the plan shows and does, in words and by keyboard; and what can be said of each. */
import { useRef } from 'react'
import type { Item, Placement } from '../../solver/index.ts'
import { baseOf } from '../model/variants.ts'
import type { ItemKeys } from '../plan/keys.ts'
import { placementOf } from '../store/moves.ts'
import { saysSize } from '../store/part-size.ts'
import { stillSo } from '../store/parts-desk.ts'
import { called, inMm, sizeInWords, whereabouts } from '../store/sentences.ts'
import type { View } from '../store/view.ts'
import { words } from '../words/index.ts'
import { ItemFields, openerId } from './item-fields.tsx'
import { beside, useParts, usePartsState } from './parts-use.ts'
import { useActions, useDeck } from './use.ts'

/** Its height alone where its name says the rest. */
function sizeOf(item: Item, at: Placement | undefined): string {
  const { name, width, depth, height } = item.footprint
  return saysSize(name, width / 1000, depth / 1000) ? words.parts.high(inMm(height)) : sizeInWords(item, at)
}

export function Items({ view, keys }: { view: View; keys: ItemKeys }) {
  const actions = useActions()
  const desk = useParts()
  const open = usePartsState((s) => s.open)
  const step = useDeck((s) => s.history.past)
  const said = usePartsState((s) => stillSo(s, step))
  const selected = useDeck((s) => s.selected)
  const hovered = useDeck((s) => s.hovered)
  const opener = useRef<HTMLButtonElement>(null)
  const t = words.parts.list
  const { problem, placements, sheet, stood } = view
  const lit = new Set(view.conflict.flatMap((m) => m.items))
  return (
    <section className="list" aria-labelledby="items-title">
      <h2 id="items-title" tabIndex={-1}>
        {t.title}
      </h2>
      {problem.items.length === 0 && <p>{t.empty}</p>}
      <ul>
        {problem.items.map((item, index) => {
          const at = placementOf(placements, index)
          const was = stood && placementOf(stood, index)
          const held = sheet.holds.includes(item.id)
          const base = baseOf(item.id)
          // The copies of an item are changed together, under the first of them.
          const first = problem.items.findIndex((i) => baseOf(i.id) === base) === index
          return (
            // With one copy more or less the first is called otherwise, and its fields stay what they are.
            <li key={first ? base : item.id} className={hovered === item.id ? 'hovered' : undefined}>
              <div className="item-row">
                <button
                  type="button"
                  className={`row${selected === item.id ? ' selected' : ''}${lit.has(item.id) ? ' lit' : ''}`}
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
                  <span className="row-what">{t.what(item.footprint.name, sizeOf(item, at))}</span>
                  <span className="row-where">
                    {t.where(
                      at
                        ? whereabouts(problem, at)
                        : was
                          ? t.stood(whereabouts(problem, was), problem.decks.length > 1 && was.host === undefined)
                          : item.required || placements.length === 0
                            ? t.noPlace
                            : t.leftOut,
                      item.later,
                    )}
                  </span>
                </button>
                <span className="item-tools">
                  {sheet.built?.includes(item.id) ? (
                    <span className="quiet">{t.built}</span>
                  ) : held ? (
                    <button type="button" className="small" onClick={() => actions.free(item.id)}>
                      <span aria-hidden="true">{t.held}</span>
                      <span className="unseen">{t.free(called(item.id))}</span>
                    </button>
                  ) : null}
                  {first && (
                    <button
                      type="button"
                      id={openerId(base)}
                      className="small"
                      aria-expanded={open === base}
                      aria-label={words.parts.item.openOf(base)}
                      onClick={() => desk.openItem(base)}
                    >
                      {words.parts.item.open}
                    </button>
                  )}
                </span>
              </div>
              {first && open === base && <ItemFields key={base} id={base} view={view} />}
            </li>
          )
        })}
      </ul>
      <p role="status" className="quiet">
        {said}
      </p>
      <div className="group">
        <button
          ref={opener}
          type="button"
          title={words.parts.addKeys}
          onClick={() => desk.search(beside(opener.current))}
        >
          {words.parts.add}
        </button>
      </div>
    </section>
  )
}
