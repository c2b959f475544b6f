/** Openings, holes, leads, passes and zones of the open deck as lists, every number of which can be typed. */
import { type ReactNode, useEffect, useMemo, useRef, useState } from 'react'
import { nameFault, type Part, partsOf, removePart, renamePart, setPart, wiresAt } from '../model/edit-deck.ts'
import { kindOf } from '../model/edit-shapes.ts'
import { ZONES } from '../model/schema.ts'
import { added } from '../store/deck-add.ts'
import { type DeckDraft, otherDeck, type Tool } from '../store/deck-draft.ts'
import { outsidePlate, overlapKey, overlapsIn } from '../store/deck-worries.ts'
import { words } from '../words/index.ts'
import { length, PLACE, ShapeFields } from './deck-shape.tsx'
import { useDraft, useDraftStore, useEdit, useMake, useOpenDeck, useProject } from './deck-use.ts'
import { type Refusal, TextEntry } from './length-field.tsx'
import { ExitPower } from './power-fields.tsx'
import { Refused } from './refused.tsx'

const w = words.deck
const DIAMETER = { least: 0.1, most: 500 }
/** mm: no limit at all, as far as a file can say. */
const HIGHEST = 10_000

/** What is in hand goes by another id. */
const renamed = ({ corners }: DeckDraft, part: Part, from: string, to: string): Partial<DeckDraft> => ({
  chosen: { part, id: to },
  ...(corners && corners.of.part === part && corners.of.id === from
    ? { corners: { ...corners, of: { ...corners.of, id: to } } }
    : {}),
})

/** Keys of rows that stay theirs under another name, or a new name would be a new row, and the focus would be lost with the old one. */
function useRowKeys() {
  const [keys] = useState(() => new Map<string, string>())
  return {
    keyOf: (id: string): string => keys.get(id) ?? ([...keys.values()].includes(id) ? `${id} ` : id),
    renamed: (from: string, to: string): void => {
      const key = keys.get(from) ?? from
      keys.delete(from)
      if (key !== to) keys.set(to, key)
    },
  }
}

/** One of a list: its name, its fields, and the way out. */
function Row({
  part,
  id,
  over,
  onRenamed,
  children,
}: {
  part: Part
  id: string
  /** Ids of what it overlaps. */
  over: readonly string[]
  onRenamed: (from: string, to: string) => void
  children: ReactNode
}) {
  const project = useProject()
  const deck = useOpenDeck()
  const edit = useEdit()
  const draft = useDraftStore()
  const chosen = useDraft((d) => d.chosen?.part === part && d.chosen.id === id)
  const row = useRef<HTMLFieldSetElement>(null)
  const [refused, setRefused] = useState<Refusal>()
  const one = partsOf(project, part, deck.id).find((p) => p.id === id)
  useEffect(() => {
    if (!chosen) return
    row.current?.scrollIntoView({ block: 'nearest' })
    if (!draft.getState().typeInto) return
    draft.setState({ typeInto: false })
    // The first field is its name, which it has already.
    row.current?.querySelectorAll<HTMLElement>('input, select')[1]?.focus()
  }, [chosen, draft])
  return (
    <fieldset
      ref={row}
      className={chosen ? 'deck-row chosen' : 'deck-row'}
      onFocus={() => {
        if (!chosen) draft.setState({ chosen: { part, id } })
      }}
    >
      <legend className="unseen">{w.called(w.kind[one ? kindOf(part, one) : part], id)}</legend>
      <div className="deck-fields">
        <TextEntry
          label={w.id}
          value={id}
          onChange={(to) => {
            // Before it is drawn by its new name: it is to stay the row that it is.
            onRenamed(id, to)
            const fault = nameFault(project, deck.id, part, id, to)
            const why = fault ? w.nameWrong[fault](to) : edit(renamePart(project, deck.id, part, id, to))
            if (why === undefined) draft.setState(renamed(draft.getState(), part, id, to))
            else onRenamed(to, id)
            return why
          }}
        />
        {children}
        <button
          type="button"
          className="deck-remove"
          aria-label={w.removeOne(id)}
          onClick={() => {
            const title = row.current?.closest('details')?.querySelector('summary')
            const why = edit(removePart(project, part, id, deck.id))
            setRefused(why)
            // The button is gone with what it removed.
            if (why === undefined) title?.focus()
          }}
        >
          {w.removeShort}
        </button>
      </div>
      {outsidePlate(project, deck.id, part, id) && <p className="field-wrong">{w.outside(id)}</p>}
      {over.length > 0 && <p className="field-wrong">{w.overlaps(id, over)}</p>}
      <Refused>{refused}</Refused>
    </fieldset>
  )
}

/** What can be added to each list. */
const BUTTONS: Readonly<Record<Part, readonly (readonly [string, Exclude<Tool, 'move'>])[]>> = {
  openings: [
    [w.addRect, 'opening'],
    [w.addSlot, 'slot'],
    [w.addRound, 'round'],
  ],
  holes: [
    [w.addHole, 'hole'],
    [w.addPillar, 'pillar'],
  ],
  exits: [[w.addLead, 'lead']],
  passes: [[w.addPass, 'pass']],
  zones: [[w.addZone, 'zone']],
}
/** For these there must be a second deck. */
const TO_OTHER: readonly Tool[] = ['pillar', 'pass']

/** A list with its heading, what to do while it is empty, and its buttons. */
export function PartList({ part }: { part: Part }) {
  const project = useProject()
  const deck = useOpenDeck()
  const draft = useDraft((d) => d)
  const store = useDraftStore()
  const make = useMake()
  const edit = useEdit()
  const [refused, setRefused] = useState<Refusal>()
  const other = otherDeck(project, draft)
  const tools = BUTTONS[part].filter(([, tool]) => other !== undefined || !TO_OTHER.includes(tool))
  const all = partsOf(project, part, deck.id)
  const rows = useRowKeys()
  const overlaps = useMemo(() => overlapsIn(project, deck.id), [project, deck.id])
  const rowOf = (id: string) => ({
    part,
    id,
    over: overlaps.get(overlapKey(part, id)) ?? [],
    onRenamed: rows.renamed,
  })
  return (
    <>
      {all.length === 0 && <p className="quiet">{w.none[part]}</p>}
      {part === 'openings' &&
        partsOf(project, 'openings', deck.id).map((o) => (
          <Row key={rows.keyOf(o.id)} {...rowOf(o.id)}>
            <ShapeFields
              of={{ part: 'openings', id: o.id }}
              shape={o.shape}
              onShape={(shape) => edit(setPart(project, deck.id, 'openings', o.id, { shape }))}
            />
            <label className="tick">
              <input
                type="checkbox"
                checked={o.mayCover === true}
                onChange={(e) =>
                  setRefused(
                    edit(setPart(project, deck.id, 'openings', o.id, { mayCover: e.target.checked || undefined })),
                  )
                }
              />
              <span>{w.mayCover}</span>
            </label>
          </Row>
        ))}
      {part === 'holes' &&
        partsOf(project, 'holes', deck.id).map((h) => (
          <Row key={rows.keyOf(h.id)} {...rowOf(h.id)}>
            {at(h.at, (to) => edit(setPart(project, deck.id, 'holes', h.id, { at: to })))}
            {length(w.round, h.diameter, DIAMETER, (d) =>
              edit(setPart(project, deck.id, 'holes', h.id, { diameter: d })),
            )}
          </Row>
        ))}
      {part === 'exits' &&
        partsOf(project, 'exits', deck.id).map((e) => {
          const set = (fields: Parameters<typeof setPart<'exits'>>[4]) =>
            edit(setPart(project, deck.id, 'exits', e.id, fields))
          const wires = wiresAt(project, e.id).length
          return (
            <Row key={rows.keyOf(e.id)} {...rowOf(e.id)}>
              {at(e.at, (to) => set({ at: to }))}
              {length(
                w.free,
                e.free,
                { least: 0, most: 10_000 },
                (free) => set({ free }),
                () => set({ free: undefined }),
              )}
              {length(
                w.hole,
                e.diameter,
                DIAMETER,
                (d) => set({ diameter: d }),
                () => set({ diameter: undefined }),
              )}
              {e.diameter === undefined && <p className="quiet">{w.noHoleForIt}</p>}
              <ExitPower exit={e} set={set} />
              {wires > 0 && <p className="quiet">{w.wiresHere(wires)}</p>}
            </Row>
          )
        })}
      {part === 'passes' &&
        partsOf(project, 'passes', deck.id).map((p) => {
          const set = (fields: Parameters<typeof setPart<'passes'>>[4]) =>
            edit(setPart(project, deck.id, 'passes', p.id, fields))
          const far = p.decks[0] === deck.id ? p.decks[1] : p.decks[0]
          return (
            <Row key={rows.keyOf(p.id)} {...rowOf(p.id)}>
              {at(p.at, (to) => set({ at: to }))}
              {length(
                w.hole,
                p.diameter,
                DIAMETER,
                (d) => set({ diameter: d }),
                () => set({ diameter: undefined }),
              )}
              <label className="deck-choice">
                {w.leadsTo}
                <select value={far} onChange={(e) => setRefused(set({ decks: [deck.id, e.target.value] }))}>
                  {project.decks
                    .filter((d) => d.id !== deck.id)
                    .map((d) => (
                      <option key={d.id} value={d.id}>
                        {d.name ?? d.id}
                      </option>
                    ))}
                </select>
              </label>
            </Row>
          )
        })}
      {part === 'zones' &&
        partsOf(project, 'zones', deck.id).map((z) => {
          const set = (fields: Parameters<typeof setPart<'zones'>>[4]) =>
            edit(setPart(project, deck.id, 'zones', z.id, fields))
          const [lo, hi] = z.z ?? [undefined, undefined]
          return (
            <Row key={rows.keyOf(z.id)} {...rowOf(z.id)}>
              <label className="deck-choice">
                {w.asks}
                <select
                  value={z.kind}
                  onChange={(e) => setRefused(set({ kind: e.target.value as (typeof ZONES)[number] }))}
                >
                  {ZONES.map((kind) => (
                    <option key={kind} value={kind}>
                      {w.zoneKinds[kind]}
                    </option>
                  ))}
                </select>
              </label>
              <ShapeFields of={{ part: 'zones', id: z.id }} shape={z.shape} onShape={(shape) => set({ shape })} />
              <TextEntry
                label={w.why}
                value={z.why ?? ''}
                onChange={(why) => set({ why: why === '' ? undefined : why })}
              />
              <fieldset className="deck-fields plain">
                <legend>{w.heights}</legend>
                {length(
                  w.from,
                  lo,
                  PLACE,
                  (v) => set({ z: [v, Math.max(v, hi ?? HIGHEST)] }),
                  () => set({ z: undefined }),
                )}
                {length(
                  w.to,
                  hi,
                  PLACE,
                  (v) => set({ z: [Math.min(lo ?? 0, v), v] }),
                  () => set({ z: undefined }),
                )}
              </fieldset>
            </Row>
          )
        })}
      <div className="group">
        {tools.map(([label, tool]) => (
          <button
            key={label}
            type="button"
            onClick={() => {
              store.setState({ typeInto: true })
              const why = make(part, added(project, { ...draft, deck: deck.id }, tool))
              if (why !== undefined) store.setState({ typeInto: false })
              setRefused(why)
            }}
          >
            {label}
          </button>
        ))}
      </div>
      {part === 'passes' && other === undefined && <p className="quiet">{w.needsTwo}</p>}
      <Refused>{refused}</Refused>
    </>
  )
}

const at = ([x, y]: readonly number[], onAt: (to: [number, number]) => Refusal) => (
  <>
    {length(w.x, x, PLACE, (to) => onAt([to, y!]))}
    {length(w.y, y, PLACE, (to) => onAt([x!, to]))}
  </>
)
