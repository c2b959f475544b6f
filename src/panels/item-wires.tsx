/** The wires as a list: how long each is, what it may be, and adding and removing them. */
import { useEffect, useMemo, useRef, useState } from 'react'
import type { WireEnd } from '../../solver/index.ts'
import { addWire, bodiesOf, removeWire, renameWire, setWire, type WireFields } from '../model/edit-items.ts'
import { applyVariant, type Project, type ProjectWire, type ProjectWireEnd } from '../model/index.ts'
import { leadSaid } from '../store/lead-said.ts'
import { called } from '../store/sentences.ts'
import { leadsOf } from '../store/shared-leads.ts'
import type { View } from '../store/view.ts'
import { words } from '../words/index.ts'
import { Choice, CountField, Sentence, TextField } from './entry-field.tsx'
import { Problems } from './item-fields.tsx'
import { LengthField, type Refusal } from './length-field.tsx'
import { useEdit, useFootprints } from './parts-edit.ts'
import { useParts, usePartsState } from './parts-use.ts'
import { WirePower } from './power-fields.tsx'
import { useActions, useDeck } from './use.ts'

type End = readonly [key: string, said: string]

const keyOf = (end: ProjectWireEnd): string =>
  JSON.stringify('exit' in end ? { exit: end.exit } : [end.item, end.terminal])

const endOf = (key: string): ProjectWireEnd => {
  const read = JSON.parse(key) as { exit: string } | [string, string]
  return Array.isArray(read) ? { item: read[0], terminal: read[1] } : read
}

const said = (end: ProjectWireEnd): string =>
  'exit' in end ? words.parts.wires.exit(end.exit) : words.parts.wires.terminal(called(end.item), end.terminal)

/** Everywhere a wire can end, as the variant on the stage has it. */
function useEnds(asked: Project): readonly End[] {
  const footprints = useFootprints()
  return useMemo(() => {
    const ends: End[] = (asked.exits ?? [])
      .map(({ id }) => ({ exit: id }))
      .map((end) => [keyOf(end), said(end)] as const)
    for (const item of asked.items) {
      const count = item.count ?? 1
      const names = count === 1 ? [item.id] : [item.id, ...bodiesOf(item.id, count)]
      for (const name of names)
        for (const { id } of footprints.get(item.footprint)?.terminals ?? []) {
          const end = { item: name, terminal: id }
          // The name that several copies have together stands for whichever of them is nearest.
          ends.push([keyOf(end), count > 1 && name === item.id ? words.parts.wires.nearest(name, id) : said(end)])
        }
    }
    return ends
  }, [asked, footprints])
}

/** What of a wire another layout may serve better. */
const ASKS: readonly (keyof WireFields)[] = ['from', 'to', 'maxLength', 'loop', 'conductors']

/** The first end that a wire from `from` is likely to go to: on a part, and not on the one that it comes from. */
function likelyTo(ends: readonly End[], from: string): string {
  const of = (key: string): string => {
    const end = endOf(key)
    return 'exit' in end ? '' : end.item
  }
  return ends.find(([key]) => of(key) !== '' && of(key) !== of(from))?.[0] ?? ends[1]?.[0] ?? ''
}

const openerId = (wire: string): string => `open wire ${wire}`

/** Where the focus goes when what had it is gone, once the list is drawn anew. */
const focusNext = (id: string): void => void requestAnimationFrame(() => document.getElementById(id)?.focus())

function NewWire({ ends, onDone }: { ends: readonly End[]; onDone: () => void }) {
  const t = words.parts.wires
  const { edit, problems } = useEdit()
  const desk = useParts()
  const [from, setFrom] = useState(ends[0]?.[0] ?? '')
  const [to, setTo] = useState(() => likelyTo(ends, ends[0]?.[0] ?? ''))
  const project = useDeck((s) => s.history.doc.project)
  const form = useRef<HTMLFormElement>(null)
  // The button that asked for it has just gone.
  useEffect(() => form.current?.querySelector('select')?.focus(), [])
  return (
    <form
      ref={form}
      className="fields new-wire"
      aria-label={t.add}
      onSubmit={(event) => {
        event.preventDefault()
        const made = addWire(project, endOf(from), endOf(to))
        if (edit(() => made.project, undefined, 'found-again') !== undefined) return
        desk.openWire(made.id)
        onDone()
        focusNext(openerId(made.id))
      }}
      onKeyDown={(event) => {
        if (event.key !== 'Escape') return
        onDone()
        focusNext('wires-title')
      }}
    >
      <Choice label={t.from} value={from} options={ends} onChange={setFrom} />
      <Choice label={t.to} value={to} options={ends} onChange={setTo} />
      <button type="submit">{t.lay}</button>
      <button type="button" onClick={onDone}>
        {t.leave}
      </button>
      <Problems all={problems} />
    </form>
  )
}

function WireForm({ wire, ends, asked }: { wire: ProjectWire; ends: readonly End[]; asked: Project }) {
  const footprints = useFootprints()
  const t = words.parts.wires
  const { edit, problems } = useEdit()
  const desk = useParts()
  const project = useDeck((s) => s.history.doc.project)
  const set = (fields: { [K in keyof WireFields]: WireFields[K] | undefined }): Refusal =>
    edit(
      (p, v) => setWire(p, v, wire.id, fields as WireFields),
      undefined,
      ASKS.some((f) => f in fields) ? 'found-again' : undefined,
    )
  const end = (label: string, now: ProjectWireEnd, field: 'from' | 'to') => {
    const key = keyOf(now)
    const options = ends.some(([k]) => k === key) ? ends : [...ends, [key, said(now)] as const]
    return (
      <Choice label={label} unseenLabel value={key} options={options} onChange={(k) => set({ [field]: endOf(k) })} />
    )
  }
  const rename = (to: string): Refusal => {
    const taken = (project.wires ?? []).some((w) => w.id === to)
    if (to === '' || to.includes('#') || taken)
      return words.parts.refused(words.parts.found(to), words.parts.item.nameWrong)
    const refused = edit((p) => renameWire(p, wire.id, to))
    if (refused !== undefined) return refused
    desk.openWire(to)
    focusNext(openerId(to))
    return undefined
  }
  const text = (field: 'gauge' | 'colour') => (typed: string) => set({ [field]: typed === '' ? undefined : typed })
  return (
    <section className="item-fields" aria-label={t.title1(wire.id)}>
      <Sentence
        text={t.sentence}
        slots={{
          from: end(t.from, wire.from, 'from'),
          to: end(t.to, wire.to, 'to'),
          max: (
            <LengthField
              label={t.labels.max}
              unseenLabel
              value={wire.maxLength}
              limits={{ least: 0, most: 10_000 }}
              onChange={(maxLength) => set({ maxLength })}
              onEmpty={() => set({ maxLength: undefined })}
            />
          ),
          loop: (
            <LengthField
              label={t.labels.loop}
              unseenLabel
              value={wire.loop ?? 0}
              limits={{ least: 0, most: 10_000 }}
              onChange={(loop) => set({ loop })}
            />
          ),
        }}
      />
      <div className="fields">
        <TextField label={t.name} value={wire.id} onChange={rename} />
        <CountField
          label={t.conductors}
          value={wire.conductors ?? 1}
          range={{ least: 1, most: 1000, whole: true }}
          onChange={(conductors) => set({ conductors })}
        />
        <TextField label={t.gauge} value={String(wire.gauge ?? '')} onChange={text('gauge')} />
        <TextField label={t.colour} value={wire.colour ?? ''} onChange={text('colour')} />
        <CountField
          label={t.current}
          value={wire.current}
          range={{ least: 0, most: 10_000 }}
          onChange={(current) => set({ current })}
          onEmpty={() => set({ current: undefined })}
        />
      </div>
      <WirePower wire={wire} asked={asked} footprints={footprints} set={set} />
      <Problems all={problems} />
      <div className="group">
        <button
          type="button"
          aria-label={t.removeOf(wire.id)}
          onClick={() => {
            if (edit((p) => removeWire(p, wire.id), undefined, 'found-again') !== undefined) return
            desk.openWire(undefined)
            focusNext('wires-title')
          }}
        >
          {t.remove}
        </button>
      </div>
    </section>
  )
}

export function Wires({ view }: { view: View }) {
  const t = words.parts.wires
  const actions = useActions()
  const desk = useParts()
  const open = usePartsState((s) => s.openWire)
  const project = useDeck((s) => s.history.doc.project)
  const [adding, setAdding] = useState(false)
  const { problem, figures, sheet } = view
  const carrying = useDeck((s) => s.carry !== undefined)
  const leads = useMemo(() => leadsOf(view, project, carrying), [view, project, carrying])
  const lengths = useMemo(() => new Map(figures?.wires.map((w) => [w.wire, w])), [figures])
  const asked = useMemo(() => applyVariant(project, sheet.variant), [project, sheet.variant])
  const ends = useEnds(asked)
  const end = (e: WireEnd): string =>
    e.kind === 'exit' ? (problem.exits[e.exit]?.id ?? '') : `${called(e.ref.name)} ${e.terminal}`
  return (
    <section className="list" aria-labelledby="wires-title">
      <h2 id="wires-title" tabIndex={-1}>
        {t.title}
      </h2>
      {problem.wires.length === 0 && <p>{ends.length < 2 ? t.noEnds : t.none}</p>}
      <ol>
        {problem.wires.map((wire, index) => {
          const length = lengths.get(index)
          const written = asked.wires?.find((w) => w.id === wire.id)
          return (
            <li
              key={wire.id}
              onPointerEnter={() => actions.hoverWire(index)}
              onPointerLeave={() => actions.hoverWire(undefined)}
            >
              <div className="wire-row">
                <span className="wire-badge">{index + 1}</span>
                <span>
                  <b>{wire.id}</b>
                  {wire.conductors > 1 && t.conductorsOf(wire.conductors)}
                  <span className="row-what">{t.between(end(wire.from), end(wire.to))}</span>
                </span>
                <span className="row-where">
                  {length ? leadSaid(length, leads) : t.notLaid}{' '}
                  <button
                    type="button"
                    id={openerId(wire.id)}
                    className="small"
                    aria-expanded={open === wire.id}
                    aria-label={t.changeOf(wire.id)}
                    onClick={() => desk.openWire(wire.id)}
                  >
                    {t.change}
                  </button>
                </span>
              </div>
              {open === wire.id && written && <WireForm key={wire.id} wire={written} ends={ends} asked={asked} />}
            </li>
          )
        })}
      </ol>
      {adding ? (
        <NewWire ends={ends} onDone={() => setAdding(false)} />
      ) : (
        <div className="group">
          <button type="button" disabled={ends.length < 2} onClick={() => setAdding(true)}>
            {t.add}
          </button>
        </div>
      )}
    </section>
  )
}
