/** Openings, holes, leads, passes and zones of the open deck as lists, every number of which can be typed. */
import { type ReactNode, useEffect, useRef, useState } from 'react'
import {
  addPart,
  addPillar,
  nameFault,
  type Part,
  partsOf,
  removePart,
  renamePart,
  setPart,
  wiresAt,
} from '../model/edit-deck.ts'
import { formOf, kindOf } from '../model/edit-shapes.ts'
import { type DeckDraft, otherDeck } from '../store/deck-draft.ts'
import { outsidePlate } from '../store/deck-worries.ts'
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
const ZONES = ['keep-out', 'reserved', 'view', 'underside'] as const

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
  onRenamed,
  children,
}: {
  part: Part
  id: string
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
      <Refused>{refused}</Refused>
    </fieldset>
  )
}

/** A list with its heading, what to do while it is empty, and its buttons. */
export function PartList({ part }: { part: Part }) {
  const project = useProject()
  const deck = useOpenDeck()
  const draft = useDraft((d) => d)
  const store = useDraftStore()
  const make = useMake()
  const edit = useEdit()
  const [refused, setRefused] = useState<Refusal>()
  const box = formOf(deck.outline)
  const middle: [number, number] =
    box.kind === 'rect' || box.kind === 'free'
      ? [Math.round(box.x + box.width / 2), Math.round(box.y + box.depth / 2)]
      : box.kind === 'round'
        ? [box.x, box.y]
        : [box.from[0], box.from[1]]
  const [x, y] = middle
  // A second one on the first would look as if nothing had come of it.
  const taken = (['holes', 'exits', 'passes'] as const).flatMap((kind) =>
    partsOf(project, kind, deck.id).map((one) => one.at),
  )
  const spot: [number, number] = [x, y]
  while (taken.some((t) => Math.hypot(t[0] - spot[0], t[1] - spot[1]) < 6)) spot[0] += 10
  const other = otherDeck(project, draft)
  const { diameter, slotWidth, radius, pillarWidth } = draft.sizes
  const add: Readonly<Record<Part, readonly (readonly [string, () => ReturnType<typeof addPillar> | undefined])[]>> = {
    openings: [
      [
        w.addRect,
        () =>
          addPart(project, deck.id, 'openings', {
            shape: { rect: [x - 10, y - 5, 20, 10], ...(radius > 0 ? { radius: Math.min(radius, 5) } : {}) },
          }),
      ],
      [
        w.addSlot,
        () =>
          addPart(
            project,
            deck.id,
            'openings',
            { shape: { rect: [x - 10, y - slotWidth / 2, 20, slotWidth], radius: Math.min(slotWidth / 2, 10) } },
            'slot',
          ),
      ],
      [w.addRound, () => addPart(project, deck.id, 'openings', { shape: { circle: [x, y, 6] } })],
    ],
    holes: [
      [w.addHole, () => addPart(project, deck.id, 'holes', { at: spot, diameter })],
      ...(other === undefined
        ? []
        : [[w.addPillar, () => addPillar(project, [deck.id, other], spot, diameter, pillarWidth)] as const]),
    ],
    exits: [[w.addLead, () => addPart(project, deck.id, 'exits', { deck: deck.id, at: spot, free: 150 })]],
    passes:
      other === undefined
        ? []
        : [[w.addPass, () => addPart(project, deck.id, 'passes', { decks: [deck.id, other], at: spot, diameter: 8 })]],
    zones: [
      [
        w.addZone,
        () =>
          addPart(project, deck.id, 'zones', {
            kind: draft.zone,
            deck: deck.id,
            shape: { rect: [x - 10, y - 10, 20, 20] },
          }),
      ],
    ],
  }
  const all = partsOf(project, part, deck.id)
  const rows = useRowKeys()
  return (
    <>
      {all.length === 0 && <p className="quiet">{w.none[part]}</p>}
      {part === 'openings' &&
        partsOf(project, 'openings', deck.id).map((o) => (
          <Row key={rows.keyOf(o.id)} part={part} id={o.id} onRenamed={rows.renamed}>
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
          <Row key={rows.keyOf(h.id)} part={part} id={h.id} onRenamed={rows.renamed}>
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
            <Row key={rows.keyOf(e.id)} part={part} id={e.id} onRenamed={rows.renamed}>
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
            <Row key={rows.keyOf(p.id)} part={part} id={p.id} onRenamed={rows.renamed}>
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
            <Row key={rows.keyOf(z.id)} part={part} id={z.id} onRenamed={rows.renamed}>
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
        {add[part].map(([label, made]) => (
          <button
            key={label}
            type="button"
            onClick={() => {
              store.setState({ typeInto: true })
              const why = make(part, made())
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
