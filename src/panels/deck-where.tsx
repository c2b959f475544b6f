/** Which variant is open, in which variants a change of the open deck holds, and whether the deck is in the variant at all. */
import { useState } from 'react'
import { asInAll, holdsOf, leaveOut, leftOutBy, ownDeckFields } from '../model/edit-deck-variant.ts'
import { type Project, variantsOf } from '../model/index.ts'
import { words } from '../words/index.ts'
import { useDraft, useDraftStore, useOpenDeck, useVariant } from './deck-use.ts'
import type { Refusal } from './length-field.tsx'
import { Refused } from './refused.tsx'
import { useActions, useDeck } from './use.ts'
import './deck-where.css'

const w = words.deckWhere

export function DeckWhere() {
  // As it is written, not as the variant has it.
  const project = useDeck((s) => s.history.doc.project)
  const deck = useOpenDeck()
  const variant = useVariant()
  const actions = useActions()
  const store = useDraftStore()
  const only = useDraft((d) => d.onlyIn === variant)
  const [refused, setRefused] = useState<Refusal>()
  const variants = variantsOf(project)
  const own = ownDeckFields(project, variant, deck.id)
  const outOf = leftOutBy(project, deck.id)
  const out = outOf.includes(variant)
  const holds = holdsOf(project, variant, only, deck.id)
  if (variants.length < 2 && own.length === 0 && !out) return null
  const change = (next: Project): void => {
    const [first] = actions.change(next)
    setRefused(first && words.deck.refused(first.found, first.expected))
  }
  const plain = holds.every((h) => !h.here && h.but.length === 0)
  const left = project.decks.filter((d) => !leftOutBy(project, d.id).includes(variant)).length
  return (
    <div className="deck-where">
      <div className="group">
        {variants.length > 1 && (
          <label>
            {w.variant}{' '}
            <select
              value={variant}
              onChange={(event) => {
                store.setState({ onlyIn: undefined, drag: undefined })
                actions.choose(variants.findIndex((v) => v.id === event.target.value))
              }}
            >
              {variants.map((v) => (
                <option key={v.id} value={v.id}>
                  {v.name === v.id ? v.id : w.option(v.id, v.name)}
                </option>
              ))}
            </select>
          </label>
        )}
        {variants.length > 1 && !out && (
          <label className="tick">
            <input
              type="checkbox"
              checked={only}
              onChange={(event) => store.setState({ onlyIn: event.target.checked ? variant : undefined })}
            />
            <span>{w.only}</span>
          </label>
        )}
        {(out || left > 1) && variants.length > 1 && (
          <button
            type="button"
            className="small-quiet"
            onClick={() => change(leaveOut(project, variant, deck.id, !out))}
          >
            {out ? w.takeBack(variant) : w.leaveOut(variant)}
          </button>
        )}
        {own.length > 0 && (
          <button type="button" className="small-quiet" onClick={() => change(asInAll(project, variant, deck.id))}>
            {w.again(own)}
          </button>
        )}
        <p aria-live="polite">
          {outOf.length > 0 && `${w.leftOut(outOf)} `}
          {plain
            ? w.everywhere(outOf.length > 0)
            : holds.map((h) => w.holds(h.fields, variant, h.here, h.but)).join(' ')}
          {holds.some((h) => h.here) && ` ${w.others}`}
        </p>
      </div>
      <Refused>{refused}</Refused>
    </div>
  )
}
