/** All that can be said of one item, in its list: how many, whether it must be there, how and where it may stand. */
import { useEffect, useRef, useState } from 'react'
import { loadLibrary } from '../../footprints/load.ts'
import type { FootprintFile } from '../../footprints/schema.ts'
import { toMm } from '../../solver/index.ts'
import { copyOfFootprint, freeFootprintId } from '../model/edit-footprint.ts'
import {
  bodiesOf,
  duplicateItem,
  type ItemFields as Fields,
  type Gone,
  ownFields,
  removeItem,
  renameItem,
  setItem,
} from '../model/edit-items.ts'
import { applyVariant, type EditProblem, type Project, type ProjectItem } from '../model/index.ts'
import { SIDES } from '../model/schema.ts'
import { recounted } from '../store/holds-kept.ts'
import { placementOf } from '../store/moves.ts'
import type { Describing } from '../store/parts-desk.ts'
import type { View } from '../store/view.ts'
import { words } from '../words/index.ts'
import { Choice, CountField, TextField } from './entry-field.tsx'
import { PlaceRules, ruleInWords } from './item-place.tsx'
import { LengthField, type Refusal } from './length-field.tsx'
import { type Edit, useEdit, useFootprints } from './parts-edit.ts'
import { beside, useParts, usePartsState } from './parts-use.ts'
import { ItemPower } from './power-fields.tsx'
import { RefusedList } from './refused.tsx'
import { useActions, useDeck } from './use.ts'

const TURNS = [0, 1, 2, 3] as const

export const Problems = ({ all }: { all: readonly EditProblem[] }) => (
  <RefusedList all={all} say={words.parts.refusedAt} />
)

function goneInWords(gone: Gone): string {
  const t = words.parts.item.gone
  switch (gone.kind) {
    case 'place':
      return gone.variant === undefined
        ? t.place(gone.item, ruleInWords(gone.place))
        : t.placeIn(gone.item, ruleInWords(gone.place), gone.variant)
    case 'wire':
    case 'supply':
      return t[gone.kind](gone.wire)
    case 'net':
    case 'net-end':
    case 'switch':
      return t[gone.kind](gone.net)
  }
}

/** Id of the button that opens the fields of an item, for the way back. */
export const openerId = (item: string): string => `open ${item}`

/** Asks before an item goes, and says what goes with it. */
function Removal({ id, onLeave, edit }: { id: string; onLeave: () => void; edit: Edit['edit'] }) {
  const t = words.parts.item
  const project = useDeck((s) => s.history.doc.project)
  const desk = useParts()
  const { gone } = removeItem(project, id)
  return (
    <fieldset className="asking">
      <legend className="unseen">{t.removeOf(id)}</legend>
      <p>
        {t.removes(id)} {gone.length > 0 && t.with}
      </p>
      {gone.length > 0 && (
        <ul className="gone">
          {gone.map((g) => (
            <li key={JSON.stringify(g)}>{goneInWords(g)}</li>
          ))}
        </ul>
      )}
      <p className="quiet">{t.undoable}</p>
      <div className="group">
        <button
          type="button"
          // Whoever asked by keyboard goes on from here.
          // biome-ignore lint/a11y/noAutofocus: the button that had the focus has just gone
          autoFocus
          onClick={() => {
            if (edit((p) => removeItem(p, id).project) !== undefined) return
            desk.openItem(undefined)
            desk.say(t.removed(id))
            // The list goes on without it, and whoever works by keyboard goes on in the list.
            document.getElementById('items-title')?.focus()
          }}
        >
          {t.yes}
        </button>
        <button type="button" onClick={onLeave}>
          {t.no}
        </button>
      </div>
    </fieldset>
  )
}

function Overhang({ item, set }: { item: ProjectItem; set: (fields: Fields) => Refusal }) {
  const t = words.parts.item
  return (
    <fieldset>
      <legend>{t.overhang}</legend>
      {SIDES.map((side) => (
        <LengthField
          key={side}
          label={t.overhangOf[side]}
          value={item.overhang?.[side] ?? 0}
          limits={{ least: 0, most: 10_000 }}
          onChange={(mm) => {
            const { [side]: _, ...rest } = item.overhang ?? {}
            return set({ overhang: mm === 0 ? rest : { ...rest, [side]: mm } })
          }}
        />
      ))}
    </fieldset>
  )
}

interface Props {
  /** Of the project's item, without a copy's number. */
  readonly id: string
  readonly view: View
}

export function ItemFields({ id, view }: Props) {
  const t = words.parts.item
  const project = useDeck((s) => s.history.doc.project)
  const actions = useActions()
  const desk = useParts()
  const footprints = useFootprints()
  const { edit, problems } = useEdit()
  const [asking, setAsking] = useState(false)
  const section = useRef<HTMLElement>(null)
  const going = usePartsState((s) => s.going)
  useEffect(() => {
    if (!going) return
    section.current?.scrollIntoView({ block: 'nearest' })
    section.current?.focus()
    desk.arrived()
  }, [going, desk])
  const { variant } = view.sheet
  const asked = applyVariant(project, variant)
  const item = asked.items.find((i) => i.id === id)
  if (!item) return null
  const footprint: FootprintFile | undefined = footprints.get(item.footprint)
  const count = item.count ?? 1
  const turns: readonly number[] = item.turns ?? TURNS
  const decks = item.decks ?? asked.decks.map((d) => d.id)
  const own = ownFields(project, variant, 'items', id)
  const set = (fields: Fields): Refusal => edit((p, v) => setItem(p, v, id, fields), undefined, 'found-again')
  const rename = (to: string): Refusal => {
    const taken = project.items.some((i) => i.id === to)
    if (to === '' || to.includes('#') || taken) return words.parts.refused(words.parts.found(to), t.nameWrong)
    const before = bodiesOf(id, count)
    const renamed = new Map(bodiesOf(to, count).map((body, k) => [before[k]!, body]))
    const refused = edit((p) => renameItem(p, id, to), { renamed })
    if (refused === undefined) {
      // The fields are others now, and what had the focus is gone.
      desk.goTo(to)
      actions.select(bodiesOf(to, count)[0])
    }
    return refused
  }
  const recount = (n: number): Refusal =>
    edit((p, v) => setItem(p, v, id, { count: n }), { renamed: recounted(id) }, 'found-again')
  const body = view.problem.items.findIndex((i) => i.id === bodiesOf(id, count)[0])
  const at = placementOf(view.placements, body)
  const deck = at && view.problem.decks[at.deck]?.id
  const now = at && deck !== undefined ? { deck, at: [toMm(at.at.x), toMm(at.at.y)] as const } : undefined
  return (
    <section
      ref={section}
      className="item-fields"
      tabIndex={-1}
      aria-label={t.title(id)}
      onKeyDown={(event) => {
        if (event.key !== 'Escape' || event.defaultPrevented) return
        desk.openItem(undefined)
        document.getElementById(openerId(id))?.focus()
      }}
    >
      <p className="quiet">
        {own.length > 0
          ? t.only(
              variant,
              own.map((f) => t.fields[f] ?? f),
            )
          : t.everywhere}
      </p>
      <div className="fields">
        <TextField label={t.name} value={id} onChange={rename} />
        <CountField label={t.count} value={count} range={{ least: 1, most: 200, whole: true }} onChange={recount} />
        <Choice
          label={t.required}
          value={item.required === false ? 'no' : 'yes'}
          options={[
            ['yes', t.mustBe],
            ['no', t.mayMiss],
          ]}
          onChange={(said) => set({ required: said === 'yes' })}
        />
        {item.required === false && (
          <CountField
            label={t.value}
            value={item.value ?? 1}
            range={{ least: 0, most: 1e9 }}
            onChange={(value) => set({ value })}
          />
        )}
        <LengthField
          label={t.stack}
          value={item.stack ?? 0}
          limits={{ least: 0, most: 10_000 }}
          onChange={(stack) => set({ stack })}
        />
      </div>
      <div className="fields">
        <fieldset>
          <legend>{t.turns}</legend>
          {TURNS.map((turn) => (
            <label key={turn} className="tick">
              <input
                type="checkbox"
                checked={turns.includes(turn)}
                // One is always left: a part that may stand in no way can not stand.
                disabled={turns.length === 1 && turns.includes(turn)}
                onChange={(event) =>
                  set({ turns: TURNS.filter((k) => (k === turn ? event.target.checked : turns.includes(k))) })
                }
              />
              {t.turn[turn]}
            </label>
          ))}
        </fieldset>
        {asked.decks.length > 1 && (
          <fieldset>
            <legend>{t.decks}</legend>
            {asked.decks.map((d) => (
              <label key={d.id} className="tick">
                <input
                  type="checkbox"
                  checked={decks.includes(d.id)}
                  disabled={decks.length === 1 && decks.includes(d.id)}
                  onChange={(event) =>
                    set({
                      decks: asked.decks
                        .map((k) => k.id)
                        .filter((k) => (k === d.id ? event.target.checked : decks.includes(k))),
                    })
                  }
                />
                {d.name ?? d.id}
              </label>
            ))}
          </fieldset>
        )}
        <Overhang item={item} set={set} />
        <label className="tick">
          <input
            type="checkbox"
            checked={item.later === true}
            onChange={(event) => set({ later: event.target.checked })}
          />
          {t.later}
        </label>
      </div>
      <PlaceRules item={id} place={item.place ?? []} asked={asked} now={now} onChange={(place) => set({ place })} />
      <ItemPower item={item} footprint={footprint} set={set} />
      <Problems all={problems} />
      {asking ? (
        <Removal id={id} edit={edit} onLeave={() => setAsking(false)} />
      ) : (
        <div className="group">
          <button
            type="button"
            onClick={() => {
              const { project: next, id: copy } = duplicateItem(project, id)
              if (edit(() => next) === undefined) desk.say(words.parts.added.kept(copy))
            }}
          >
            {t.duplicate}
          </button>
          <button type="button" onClick={(event) => desk.search({ ...beside(event.currentTarget), swap: id })}>
            {t.swap}
          </button>
          {footprint && (
            <button type="button" onClick={() => desk.describe(describing(footprint, project, id))}>
              {t.editPart}
            </button>
          )}
          <button type="button" onClick={() => setAsking(true)}>
            {t.remove}
          </button>
        </div>
      )}
      {footprint && <p className="quiet">{t.part(footprint.name ?? footprint.id)}</p>}
    </section>
  )
}

/** A part of the project is changed as it is; one of the library as a copy that only this item is. */
function describing(footprint: FootprintFile, project: Project, item: string): Describing {
  if (project.footprints?.some((f) => f.id === footprint.id)) return { draft: footprint }
  const draft = copyOfFootprint(footprint, freeFootprintId(project, loadLibrary(), `${footprint.id}-own`))
  return { draft, item, ...(footprint.source ? { from: footprint.source } : {}) }
}
