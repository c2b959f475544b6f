/** Where an item must stand: its rules as sentences whose words and numbers are the fields. */
import { useEffect, useRef, useState } from 'react'
import { bodiesOf } from '../model/edit-items.ts'
import { contactsOf } from '../model/find-footprint.ts'
import type { Project, ProjectPlace } from '../model/index.ts'
import { SIDES } from '../model/schema.ts'
import { called } from '../store/sentences.ts'
import { words } from '../words/index.ts'
import { Choice, Sentence } from './entry-field.tsx'
import { LengthField, type Refusal } from './length-field.tsx'
import { useFootprints } from './parts-edit.ts'
import { Refused } from './refused.tsx'

type Kind = keyof typeof words.parts.place.kinds

/** Items that a rule may name, copies by their numbers, and which of them are breadboards. */
export function useNameable(asked: Project, but: string): { ids: readonly string[]; boards: readonly string[] } {
  const footprints = useFootprints()
  const named = asked.items
    .filter((i) => i.id !== but)
    .map((i) => {
      const count = i.count ?? 1
      const f = footprints.get(i.footprint)
      return { ids: count === 1 ? [i.id] : [i.id, ...bodiesOf(i.id, count)], board: f && contactsOf(f) > 0 }
    })
  return { ids: named.flatMap((n) => n.ids), boards: named.flatMap((n) => (n.board ? n.ids : [])) }
}

/** A rule as plain words, as when it is about to go. */
export function ruleInWords(place: ProjectPlace): string {
  const t = words.parts.place
  const fill = (text: string, values: Readonly<Record<string, string | number>>): string =>
    text.replace(/\{(\w+)\}/g, (_, name: string) => String(values[name] ?? ''))
  switch (place.kind) {
    case 'at':
      return fill(t.at, {
        x: place.at[0],
        y: place.at[1],
        deck: place.deck,
        turn: place.turn === undefined ? t.anyTurn : t.turn[place.turn],
      })
    case 'centred':
      return fill(t.centred, { axis: t.axis[place.axis] })
    case 'edge':
      return fill(t.edge, { within: `${place.within} mm`, edge: t.edgeOf[place.edge] })
    case 'inside':
      if ('rect' in place.shape) {
        const [x, y, w, h] = place.shape.rect
        return fill(t.insideRect, { x, y, w, h })
      }
      if ('circle' in place.shape) {
        const [x, y, r] = place.shape.circle
        return fill(t.insideCircle, { x, y, r })
      }
      return t.insideOther('polygon' in place.shape ? place.shape.polygon.length : 0)
    case 'near':
      return fill(t.near, { within: `${place.within} mm`, item: called(place.item) })
    case 'beyond':
      return fill(t.beyond, { side: t.side[place.side], item: called(place.item) })
    case 'host':
      return fill(t.host, { item: called(place.item) })
  }
}

interface RuleProps {
  readonly place: ProjectPlace
  readonly asked: Project
  readonly ids: readonly string[]
  readonly boards: readonly string[]
  readonly onChange: (place: ProjectPlace) => Refusal
}

function Rule({ place, asked, ids, boards, onChange }: RuleProps) {
  const t = words.parts.place
  const l = t.labels
  const length = (label: string, value: number, take: (mm: number) => ProjectPlace, least = -10_000) => (
    <LengthField
      label={label}
      unseenLabel
      value={value}
      limits={{ least, most: 10_000 }}
      onChange={(mm) => onChange(take(mm))}
    />
  )
  const items = (all: readonly string[], item: string, take: (item: string) => ProjectPlace) => (
    <Choice
      label={l.item}
      unseenLabel
      value={item}
      options={[...new Set([...all, item])].map((id) => [id, called(id)] as const)}
      onChange={(id) => onChange(take(id))}
    />
  )
  switch (place.kind) {
    case 'at': {
      const [x, y] = place.at
      const { turn: _, ...rest } = place
      return (
        <Sentence
          text={t.at}
          slots={{
            x: length(l.x, x, (mm) => ({ ...place, at: [mm, y] })),
            y: length(l.y, y, (mm) => ({ ...place, at: [x, mm] })),
            deck: (
              <Choice
                label={l.deck}
                unseenLabel
                value={place.deck}
                options={asked.decks.map((d) => [d.id, d.name ?? d.id] as const)}
                onChange={(deck) => onChange({ ...place, deck })}
              />
            ),
            turn: (
              <Choice
                label={l.turn}
                unseenLabel
                value={place.turn === undefined ? '' : String(place.turn)}
                options={[['', t.anyTurn], ...t.turn.map((said, k) => [String(k), said] as const)]}
                onChange={(turn) => onChange(turn === '' ? rest : { ...rest, turn: Number(turn) as 0 | 1 | 2 | 3 })}
              />
            ),
          }}
        />
      )
    }
    case 'centred':
      return (
        <Sentence
          text={t.centred}
          slots={{
            axis: (
              <Choice
                label={l.axis}
                unseenLabel
                value={place.axis}
                options={[
                  ['x', t.axis.x],
                  ['y', t.axis.y],
                ]}
                onChange={(axis) => onChange({ ...place, axis })}
              />
            ),
          }}
        />
      )
    case 'edge':
      return (
        <Sentence
          text={t.edge}
          slots={{
            within: length(l.within, place.within, (within) => ({ ...place, within }), 0),
            edge: (
              <Choice
                label={l.edge}
                unseenLabel
                value={place.edge}
                options={SIDES.map((s) => [s, t.edgeOf[s]] as const)}
                onChange={(edge) => onChange({ ...place, edge })}
              />
            ),
          }}
        />
      )
    case 'inside': {
      const { shape } = place
      if ('rect' in shape) {
        const [x, y, w, h] = shape.rect
        const rect = (next: [number, number, number, number]): ProjectPlace => {
          // Smaller sides take a corner radius along that would not fit them.
          const { radius } = shape
          const most = Math.min(next[2], next[3]) / 2
          return {
            ...place,
            shape: { rect: next, ...(radius === undefined ? {} : { radius: Math.min(radius, most) }) },
          }
        }
        return (
          <Sentence
            text={t.insideRect}
            slots={{
              x: length(l.x, x, (mm) => rect([mm, y, w, h])),
              y: length(l.y, y, (mm) => rect([x, mm, w, h])),
              w: length(l.w, w, (mm) => rect([x, y, mm, h]), 0.001),
              h: length(l.h, h, (mm) => rect([x, y, w, mm]), 0.001),
            }}
          />
        )
      }
      if ('circle' in shape) {
        const [x, y, r] = shape.circle
        const circle = (next: [number, number, number]): ProjectPlace => ({ ...place, shape: { circle: next } })
        return (
          <Sentence
            text={t.insideCircle}
            slots={{
              x: length(l.cx, x, (mm) => circle([mm, y, r])),
              y: length(l.cy, y, (mm) => circle([x, mm, r])),
              r: length(l.r, r, (mm) => circle([x, y, mm]), 0.001),
            }}
          />
        )
      }
      return <span className="sentence">{ruleInWords(place)}</span>
    }
    case 'near':
      return (
        <Sentence
          text={t.near}
          slots={{
            within: length(l.within, place.within, (within) => ({ ...place, within }), 0),
            item: items(ids, place.item, (item) => ({ ...place, item })),
          }}
        />
      )
    case 'beyond':
      return (
        <Sentence
          text={t.beyond}
          slots={{
            side: (
              <Choice
                label={l.side}
                unseenLabel
                value={place.side}
                options={SIDES.map((s) => [s, t.side[s]] as const)}
                onChange={(side) => onChange({ ...place, side })}
              />
            ),
            item: items(ids, place.item, (item) => ({ ...place, item })),
          }}
        />
      )
    case 'host':
      return <Sentence text={t.host} slots={{ item: items(boards, place.item, (item) => ({ ...place, item })) }} />
  }
}

interface Props {
  readonly item: string
  readonly place: readonly ProjectPlace[]
  /** The project as the variant on the stage asks it. */
  readonly asked: Project
  /** Where the item's lower-left corner stands now, mm, for a fixed place. */
  readonly now: { readonly deck: string; readonly at: readonly [number, number] } | undefined
  readonly onChange: (place: ProjectPlace[]) => Refusal
}

export function PlaceRules({ item, place, asked, now, onChange }: Props) {
  const t = words.parts.place
  const { ids, boards } = useNameable(asked, item)
  const [kind, setKind] = useState<Kind>('edge')
  const [refused, setRefused] = useState<Refusal>()
  const list = useRef<HTMLUListElement>(null)
  const going = useRef(false)
  // Whoever adds a rule goes on with its first field. Not on every change: only once the new rule is there.
  useEffect(() => {
    if (!going.current) return
    going.current = false
    const last = place.length - 1
    list.current?.children[last]?.querySelector<HTMLElement>('input, select')?.focus()
  }, [place.length])
  const add = (): void => {
    const made = fresh(kind, asked, ids, boards, now)
    going.current = made !== undefined
    setRefused(made === undefined ? (kind === 'host' ? t.noBoard : t.noItem) : onChange([...place, made]))
  }
  return (
    <fieldset className="place-rules">
      <legend>{t.title}</legend>
      <p className="quiet">{place.length === 0 ? t.free : t.all}</p>
      <ul ref={list}>
        {place.map((p, k) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: rules have no other name, and a field must keep its focus
          <li key={`${k} ${p.kind}`} className="place-rule">
            <Rule
              place={p}
              asked={asked}
              ids={ids}
              boards={boards}
              onChange={(next) => onChange(place.map((old, i) => (i === k ? next : old)))}
            />
            <button
              type="button"
              aria-label={t.removeOf(ruleInWords(p))}
              onClick={() => setRefused(onChange(place.filter((_, i) => i !== k)))}
            >
              {t.remove}
            </button>
          </li>
        ))}
      </ul>
      <div className="group">
        <Choice
          label={t.addLabel}
          value={kind}
          options={(Object.keys(t.kinds) as Kind[]).map((name) => [name, t.kinds[name]] as const)}
          onChange={(next) => {
            setKind(next)
            setRefused(undefined)
          }}
        />
        <button type="button" onClick={add}>
          {t.add}
        </button>
      </div>
      <Refused>{refused}</Refused>
    </fieldset>
  )
}

/** A rule to begin with, loose enough to be met; undefined where it needs an item and there is none. */
function fresh(
  kind: Kind,
  asked: Project,
  ids: readonly string[],
  boards: readonly string[],
  now: Props['now'],
): ProjectPlace | undefined {
  const [other] = ids
  const [board] = boards
  switch (kind) {
    case 'edge':
      return { kind, edge: 'front', within: 10 }
    case 'centred':
      return { kind, axis: 'x' }
    case 'near':
      return other === undefined ? undefined : { kind, item: other, within: 100 }
    case 'beyond':
      return other === undefined ? undefined : { kind, item: other, side: 'front' }
    case 'inside':
      return { kind, shape: { rect: [0, 0, 100, 100] } }
    case 'inside-circle':
      return { kind: 'inside', shape: { circle: [50, 50, 50] } }
    case 'host':
      return board === undefined ? undefined : { kind, item: board }
    case 'at': {
      const deck = now?.deck ?? asked.decks[0]?.id
      return deck === undefined ? undefined : { kind, deck, at: now ? [now.at[0], now.at[1]] : [0, 0] }
    }
  }
}
