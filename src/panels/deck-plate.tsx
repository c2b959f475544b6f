/** Which deck is open, and its plate in numbers. */
import { useEffect, useState } from 'react'
import { addDeck, copyDeck, goesWith, itemsOn, removeDeck, resized, setDeck } from '../model/edit-deck.ts'
import { formOf, movedShape } from '../model/edit-shapes.ts'
import { lengthText } from '../model/lengths.ts'
import { words } from '../words/index.ts'
import { ownIn } from './bring-files.ts'
import { useDraftStore, useEdit, useOpenDeck, useProject } from './deck-use.ts'
import { LengthField, TextEntry } from './length-field.tsx'

const w = words.deck
const SIZE = { least: 1, most: 5000 }
const PLACE = { least: -10_000, most: 10_000 }

export function DeckChoice() {
  const project = useProject()
  const deck = useOpenDeck()
  const draft = useDraftStore()
  const edit = useEdit()
  const [asking, setAsking] = useState(false)
  const [refused, setRefused] = useState<string>()
  const name = deck.name ?? deck.id
  // An undo may have taken the open deck away: what is made next belongs to the one that is shown.
  useEffect(() => {
    if (draft.getState().deck !== deck.id) draft.setState({ deck: deck.id, chosen: undefined, drag: undefined })
  }, [draft, deck.id])
  const go = (id: string): void => draft.setState({ deck: id, chosen: undefined, drag: undefined })
  const make = ({ project: next, id }: { project: typeof project; id: string }): void => {
    const why = edit(next)
    setRefused(why)
    if (why === undefined) go(id)
  }
  const gone = goesWith(project, deck.id)
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
            <span>{d.name ?? d.id}</span>
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
      {refused && (
        <p role="alert" className="field-wrong">
          {refused}
        </p>
      )}
    </div>
  )
}

export function DeckPlate({ onDrawing }: { onDrawing: () => void }) {
  const project = useProject()
  const deck = useOpenDeck()
  const edit = useEdit()
  const form = formOf(deck.outline)
  const set = (fields: Parameters<typeof setDeck>[2]) => edit(setDeck(project, deck.id, fields))
  const size = (of: Parameters<typeof resized>[1]) => set({ outline: resized(asRect(deck.outline), of) })
  return (
    <>
      <div className="deck-fields">
        <TextEntry
          label={w.name}
          value={deck.name ?? ''}
          onChange={(name) => set({ name: name === '' ? undefined : name })}
        />
        {form.kind === 'rect' && (
          <>
            <LengthField label={w.width} value={form.width} limits={SIZE} onChange={(width) => size({ width })} />
            <LengthField label={w.depth} value={form.depth} limits={SIZE} onChange={(depth) => size({ depth })} />
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
      {(form.kind === 'free' || form.kind === 'slot') && (
        <>
          <FreeOutline form={form} />
          <button type="button" onClick={() => set({ outline: boxed(deck.outline) })}>
            {w.makeRect}
          </button>
        </>
      )}
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
      {form.kind !== 'slot' && form.kind !== 'round' && (
        <fieldset className="deck-fields plain">
          <legend>{w.origin}</legend>
          <LengthField
            label={w.x}
            value={form.x}
            limits={PLACE}
            onChange={(x) => set({ outline: movedShape(deck.outline, x - form.x, 0) })}
          />
          <LengthField
            label={w.y}
            value={form.y}
            limits={PLACE}
            onChange={(y) => set({ outline: movedShape(deck.outline, 0, y - form.y) })}
          />
        </fieldset>
      )}
      <div className="group">
        <button type="button" onClick={onDrawing}>
          {w.drawing}
        </button>
      </div>
      {ownIn(project, deck.id).map((v) => (
        <p key={v} className="quiet">
          {w.ownInVariant(v)}
        </p>
      ))}
    </>
  )
}

type Outline = ReturnType<typeof useOpenDeck>['outline']

/** Four corners of a polygon may be an upright rectangle; it is typed as one. */
function asRect(outline: Outline): Outline {
  const form = formOf(outline)
  return form.kind === 'rect' && !('rect' in outline) ? { rect: [form.x, form.y, form.width, form.depth] } : outline
}

/** The box around an outline. */
function boxed(outline: Outline): Outline {
  const form = formOf(outline)
  if (form.kind === 'slot') {
    const xs = [form.from[0], form.to[0]]
    const ys = [form.from[1], form.to[1]]
    const r = form.width / 2
    return {
      rect: [
        Math.min(...xs) - r,
        Math.min(...ys) - r,
        Math.abs(xs[0]! - xs[1]!) + form.width,
        Math.abs(ys[0]! - ys[1]!) + form.width,
      ],
    }
  }
  return form.kind === 'free' ? { rect: [form.x, form.y, form.width, form.depth] } : outline
}

function FreeOutline({ form }: { form: ReturnType<typeof formOf> }) {
  if (form.kind !== 'free') return null
  return <p>{w.freeOutline(lengthText(form.width), lengthText(form.depth), form.corners)}</p>
}
