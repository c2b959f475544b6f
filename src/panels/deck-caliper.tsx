/** Caliper measures typed in rows, and the plate that they give. */
import { useMemo, useState } from 'react'
import { useStore } from 'zustand'
import { CORNERS, EDGES } from '../bring-in/caliper-model.ts'
import type { CaliperForm, HoleRow, MeasureRow } from '../store/caliper-rows.ts'
import { words } from '../words/index.ts'
import { useAround, useKeep } from './around.ts'
import { withDeck } from './bring-files.ts'
import { DeckPicture } from './bring-picture.tsx'
import { caliperDeck, endsOf, type Fault, jawsOf, lineOf, withHole, withoutHole } from './deck-caliper-form.ts'
import { useEdit, useOpenDeck, useProject } from './deck-use.ts'
import type { Refusal } from './length-field.tsx'
import { Refused } from './refused.tsx'
import { useDeck } from './use.ts'

const w = words.deck

const endWords = (end: string): string => (w.caliperEdges as Readonly<Record<string, string>>)[end] ?? w.caliperEnd(end)

export function DeckCaliper({ onFile }: { onFile: () => void }) {
  const project = useProject()
  const deck = useOpenDeck()
  const edit = useEdit()
  const { caliper } = useAround()
  const whose = { work: useKeep((s) => s.here), opened: useDeck((s) => s.opened) }
  const typed = useStore(caliper.store)
  // biome-ignore lint/correctness/useExhaustiveDependencies: whose they are and what was typed are all that they are made of
  const { form, back, kept, aside } = useMemo(() => caliper.of(whose), [caliper, typed, whose.work, whose.opened])
  const setForm = (next: CaliperForm): void => caliper.put(whose, next)
  const [refused, setRefused] = useState<Refusal>()
  const got = useMemo(() => caliperDeck(form, deck), [form, deck])
  const touched = form.measures.some((m) => m.readings.trim() !== '')
  const setHole = (k: number, fields: Partial<HoleRow>): void =>
    setForm({ ...form, holes: form.holes.map((h, i) => (i === k ? { ...h, ...fields } : h)) })
  const setMeasure = (k: number, fields: Partial<MeasureRow>): void =>
    setForm({ ...form, measures: form.measures.map((m, i) => (i === k ? { ...m, ...fields } : m)) })
  const faults = got.kind === 'faults' ? got.faults : []
  return (
    <>
      <p className="quiet">{w.caliperHelp}</p>
      {(back !== undefined || aside) && (
        <div role="status" className="group">
          <span>{aside ? w.caliperAside : w.caliperBack(words.keep.ago(back!, Date.now()))}</span>
          <button type="button" onClick={() => (aside ? caliper.bringBack(whose) : caliper.anew(whose))}>
            {aside ? w.caliperBring : w.caliperAnew}
          </button>
        </div>
      )}
      {!kept && <p role="alert">{w.caliperNotKept}</p>}
      {form.holes.map((h, k) => (
        <fieldset key={h.id} className="deck-row">
          <legend>{w.caliperHole(h.id)}</legend>
          <div className="deck-fields">
            <Text label={w.caliperDiameter} value={h.diameter} onText={(diameter) => setHole(k, { diameter })} />
            <Text label={w.caliperNearX} value={h.nearX} onText={(nearX) => setHole(k, { nearX })} />
            <Text label={w.caliperNearY} value={h.nearY} onText={(nearY) => setHole(k, { nearY })} />
            <button
              type="button"
              className="deck-remove"
              aria-label={w.removeOne(h.id)}
              onClick={() => setForm(withoutHole(form, h.id))}
            >
              {w.removeShort}
            </button>
          </div>
          <Faults of={faults} list="holes" index={k} />
        </fieldset>
      ))}
      {form.measures.map((m, k) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a measure has no other name than its number
        <fieldset key={k} className="deck-row">
          <legend className="unseen">{w.caliperMeasure(k + 1)}</legend>
          <div className="deck-fields">
            <Ends label={w.caliperFrom} value={m.from} ends={endsOf(form)} onEnd={(from) => setMeasure(k, { from })} />
            <Ends
              label={w.caliperTo}
              value={m.to}
              ends={endsOf(form)}
              itself={form.holes.some((h) => h.id === m.from)}
              onEnd={(to) => setMeasure(k, { to })}
            />
            {jawsOf(m).length > 1 && (
              <label className="deck-choice">
                {w.caliperJaws}
                <select
                  value={jawsOf(m).includes(m.jaws) ? m.jaws : 'centre'}
                  onChange={(e) => setMeasure(k, { jaws: e.target.value as MeasureRow['jaws'] })}
                >
                  {jawsOf(m).map((j) => (
                    <option key={j} value={j}>
                      {w.caliperJawsAt[j]}
                    </option>
                  ))}
                </select>
              </label>
            )}
            <Text
              label={w.caliperReadings}
              value={m.readings}
              wide
              onText={(readings) => setMeasure(k, { readings })}
            />
            <button
              type="button"
              className="deck-remove"
              aria-label={w.removeOne(w.caliperMeasure(k + 1))}
              onClick={() => setForm({ ...form, measures: form.measures.filter((_, i) => i !== k) })}
            >
              {w.removeShort}
            </button>
          </div>
          <Faults of={faults} list="measures" index={k} />
        </fieldset>
      ))}
      <div className="group">
        <button type="button" onClick={() => setForm(withHole(form))}>
          {w.caliperAddHole}
        </button>
        <button
          type="button"
          onClick={() =>
            setForm({
              ...form,
              measures: [...form.measures, { from: 'left', to: 'right', jaws: 'centre', readings: '' }],
            })
          }
        >
          {w.caliperAddMeasure}
        </button>
        <button type="button" onClick={onFile}>
          {w.caliperFile}
        </button>
      </div>
      {touched && (
        <div className="brought" aria-live="polite">
          {got.kind === 'deck' && <DeckPicture deck={got.deck} />}
          {got.kind !== 'deck' && <p>{w.caliperFaults}</p>}
          <ul>
            {(got.kind === 'faults' ? got.others : got.lines).map((line) => (
              <li key={line}>{lineOf(form, line)}</li>
            ))}
            {faults.length > 0 && <li>{w.caliperSeeRows(faults.length)}</li>}
          </ul>
          {got.kind === 'deck' && (
            <button type="button" onClick={() => setRefused(edit(withDeck(project, got.deck), got.deck.id))}>
              {w.caliperTake(deck.name ?? deck.id)}
            </button>
          )}
        </div>
      )}
      <Refused>{refused}</Refused>
    </>
  )
}

function Faults({ of, list, index }: { of: readonly Fault[]; list: Fault['list']; index: number }) {
  return of
    .filter((f) => f.list === list && f.index === index)
    .map((f) => (
      <p key={`${f.found} ${f.expected}`} className="field-wrong">
        {w.caliperReading(f.found, f.expected)}
      </p>
    ))
}

function Text({
  label,
  value,
  wide,
  onText,
}: {
  label: string
  value: string
  wide?: boolean
  onText: (text: string) => void
}) {
  return (
    <label className="length-field">
      {label}
      <span className="length-entry">
        <input
          className={wide ? 'wide' : undefined}
          autoComplete="off"
          value={value}
          // Not a part of the document yet: Ctrl-Z is the field's.
          data-typed
          onChange={(e) => onText(e.target.value)}
        />
      </span>
    </label>
  )
}

function Ends({
  label,
  value,
  ends,
  itself,
  onEnd,
}: {
  label: string
  value: string
  ends: readonly string[]
  itself?: boolean
  onEnd: (end: string) => void
}) {
  const holes = ends.filter((e) => !([...EDGES, ...CORNERS] as readonly string[]).includes(e))
  return (
    <label className="deck-choice">
      {label}
      <select value={value} onChange={(e) => onEnd(e.target.value)}>
        {(itself || value === '') && <option value="">{w.caliperItself}</option>}
        {[...EDGES, ...holes, ...CORNERS].map((end) => (
          <option key={end} value={end}>
            {endWords(end)}
          </option>
        ))}
      </select>
    </label>
  )
}
