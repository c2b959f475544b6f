/** Which deck is open, and its plate in numbers. */
import { useEffect, useState } from 'react'
import { addDeck, copyDeck, goesWith, itemsOn, removeDeck, resized, setDeck } from '../model/edit-deck.ts'
import { leftOutBy } from '../model/edit-deck-variant.ts'
import { boxAround, formOf, movedShape } from '../model/edit-shapes.ts'
import { lengthText } from '../model/lengths.ts'
import { onDeck } from '../store/deck-draft.ts'
import { heldOn } from '../store/holds-kept.ts'
import { called, listed } from '../store/sentences.ts'
import { words } from '../words/index.ts'
import { ShapeCorners } from './deck-corners.tsx'
import { useDraftStore, useEdit, useOpenDeck, useProject, useVariant } from './deck-use.ts'
import { DeckWhere } from './deck-where.tsx'
import { LengthField, TextEntry } from './length-field.tsx'
import { Refused } from './refused.tsx'
import { useDeck } from './use.ts'

const w = words.deck
const where = words.deckWhere
const SIZE = { least: 1, most: 5000 }
const OUTLINE = { part: 'outline' } as const
const PLACE = { least: -10_000, most: 10_000 }

export function DeckChoice() {
  const project = useProject()
  const deck = useOpenDeck()
  const draft = useDraftStore()
  const edit = useEdit()
  const variant = useVariant()
  const [asking, setAsking] = useState(false)
  const [refused, setRefused] = useState<string>()
  const name = deck.name ?? deck.id
  // An undo may have taken the open deck away: what is made next belongs to the one that is shown.
  useEffect(() => {
    if (draft.getState().deck !== deck.id) draft.setState(onDeck(deck.id))
  }, [draft, deck.id])
  // Escape takes the question back, and not the whole workshop, wherever the focus is
  useEffect(() => {
    if (!asking) return
    const takeBack = (event: KeyboardEvent): void => {
      if (event.key !== 'Escape' || event.defaultPrevented) return
      event.preventDefault()
      setAsking(false)
    }
    window.addEventListener('keydown', takeBack)
    return () => window.removeEventListener('keydown', takeBack)
  }, [asking])
  const go = (id: string): void => draft.setState(onDeck(id))
  const make = ({ project: next, id }: { project: typeof project; id: string }): void => {
    const why = edit(next)
    setRefused(why)
    if (why === undefined) go(id)
  }
  const gone = goesWith(project, deck.id)
  const sheets = useDeck((s) => s.history.doc.sheets)
  const held = heldOn(sheets, deck.id)
  return (
    <div className="deck-choice-row">
      <fieldset className="deck-which">
        <legend className="unseen">{w.which}</legend>
        {project.decks.map((d) => (
          <label key={d.id}>
            <input
              type="radio"
              name="deck-open"
              checked={d.id === deck.id}
              onChange={() => {
                go(d.id)
                setAsking(false)
              }}
            />
            <span>{leftOutBy(project, d.id).includes(variant) ? where.notIn(d.name ?? d.id) : (d.name ?? d.id)}</span>
          </label>
        ))}
      </fieldset>
      <div className="group">
        <button type="button" onClick={() => make(addDeck(project, deck.id))}>
          {w.add}
        </button>
        <button type="button" onClick={() => make(copyDeck(project, deck.id))}>
          {w.copy}
        </button>
        {project.decks.length > 1 && (
          <button type="button" aria-expanded={asking} onClick={() => setAsking(!asking)}>
            {w.remove}
          </button>
        )}
      </div>
      {asking && project.decks.length > 1 && (
        <fieldset className="asking">
          <legend>{w.removeAsk(name)}</legend>
          <p>
            {w.removeWith(
              gone.zones.length,
              gone.exits.length,
              gone.passes.length,
              gone.wires.length,
              itemsOn(project, deck.id).length,
            )}
          </p>
          {held.length > 0 && <p>{w.removeHeld(listed(held.map(called)), held.length === 1)}</p>}
          <div className="group">
            <button
              type="button"
              onClick={() => {
                setAsking(false)
                setRefused(edit(removeDeck(project, deck.id)))
              }}
            >
              {w.removeYes}
            </button>
            <button type="button" onClick={() => setAsking(false)}>
              {w.removeNo}
            </button>
          </div>
        </fieldset>
      )}
      <Refused>{refused}</Refused>
      <DeckWhere />
    </div>
  )
}

export function DeckPlate({ onDrawing }: { onDrawing: () => void }) {
  const project = useProject()
  const deck = useOpenDeck()
  const edit = useEdit()
  const form = formOf(deck.outline)
  const drawn = 'polygon' in deck.outline || form.kind === 'free'
  const [x, y, width, depth] = boxAround(deck.outline).rect
  const box = { x, y, width, depth }
  const corners = 'polygon' in deck.outline ? deck.outline.polygon.length : 0
  const set = (fields: Parameters<typeof setDeck>[2]) => edit(setDeck(project, deck.id, fields))
  const size = (of: Parameters<typeof resized>[1]) => set({ outline: resized(deck.outline, of) })
  return (
    <>
      <div className="deck-fields">
        <TextEntry
          label={w.name}
          value={deck.name ?? ''}
          onChange={(name) => set({ name: name === '' ? undefined : name })}
        />
        {form.kind === 'rect' && !drawn && (
          <>
            <LengthField label={w.width} value={form.width} limits={SIZE} onChange={(width) => size({ width })} />
            <LengthField label={w.length} value={form.depth} limits={SIZE} onChange={(depth) => size({ depth })} />
            <LengthField
              label={w.radius}
              value={form.radius}
              limits={{ least: 0, most: Math.min(form.width, form.depth) / 2 }}
              onChange={(radius) => size({ radius })}
            />
          </>
        )}
        {form.kind === 'round' && (
          <LengthField
            label={w.diameter}
            value={form.diameter}
            limits={SIZE}
            onChange={(diameter) => set({ outline: { circle: [form.x, form.y, diameter / 2] } })}
          />
        )}
      </div>
      {drawn && <p>{w.freeOutline(lengthText(box.width), lengthText(box.depth), corners)}</p>}
      <ShapeCorners of={OUTLINE} shape={deck.outline} onShape={(outline) => set({ outline })} />
      <div className="deck-fields">
        <LengthField
          label={w.thickness}
          value={deck.thickness}
          limits={{ least: 0.1, most: 100 }}
          onChange={(thickness) => set({ thickness })}
        />
        <LengthField
          label={w.height}
          value={deck.z}
          limits={{ least: -1000, most: 5000 }}
          onChange={(z) => set({ z })}
        />
        <TextEntry
          label={w.material}
          value={deck.material ?? ''}
          onChange={(material) => set({ material: material === '' ? undefined : material })}
        />
      </div>
      {form.kind !== 'round' && (
        <fieldset className="deck-fields plain">
          <legend>{w.origin}</legend>
          <LengthField
            label={w.x}
            value={box.x}
            limits={PLACE}
            onChange={(x) => set({ outline: movedShape(deck.outline, x - box.x, 0) })}
          />
          <LengthField
            label={w.y}
            value={box.y}
            limits={PLACE}
            onChange={(y) => set({ outline: movedShape(deck.outline, 0, y - box.y) })}
          />
        </fieldset>
      )}
      <div className="group">
        <button type="button" onClick={onDrawing}>
          {w.drawing}
        </button>
      </div>
    </>
  )
}
