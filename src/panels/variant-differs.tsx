/** What differs in one variant, each as a sentence that can be taken back, and a line for making it differ. */
import { useId, useState } from 'react'
import { differencesOf, type Scope, withoutDifference } from '../model/edit-variants.ts'
import type { Project } from '../model/index.ts'
import { baseOf } from '../model/variants.ts'
import { words } from '../words/index.ts'
import { LengthField } from './length-field.tsx'
import { RefusedField } from './refused.tsx'
import { numberIn, wrongNumber } from './typed.ts'
import { useDeck } from './use.ts'
import {
  type Asks,
  asksOf,
  type Deed,
  deedsOf,
  done,
  isOwn,
  type Kind,
  type Thing,
  thingsOf,
  type Value,
} from './variant-deeds.ts'
import { deckOf, sentenceOf } from './variant-sentences.ts'
import type { useEdit } from './variant-use.ts'

const text = words.variants.differs
type Edit = ReturnType<typeof useEdit>['edit']

const NAMED: Readonly<Record<Kind, (id: string, project: Project) => string>> = {
  item: (id) => id,
  zone: text.zone,
  wire: text.wire,
  deck: (id, project) => deckOf(project, id),
  project: () => text.project,
}
const GROUP: Readonly<Record<Kind, string>> = {
  item: text.items,
  zone: text.zones,
  wire: text.wires,
  deck: text.decks,
  project: text.settings,
}
const KINDS: readonly Kind[] = ['item', 'zone', 'wire', 'deck', 'project']
const TURNS = [0, 1, 2, 3] as const
const keyOf = ({ kind, id }: Thing): string => `${kind}:${id}`

interface ValueProps {
  readonly asks: Asks
  readonly value: Value
  readonly onValue: (value: Value) => void
}

/** The field for what a deed asks. */
function ValueField({ asks, value, onValue }: ValueProps) {
  const [typed, setTyped] = useState(asks.kind === 'number' ? String(asks.now) : '')
  const wrongId = useId()
  switch (asks.kind) {
    case 'nothing':
      return null
    case 'length':
      return (
        <LengthField
          label={text.to}
          value={typeof value === 'number' ? value : undefined}
          limits={{ least: asks.least ?? 0, most: 10_000 }}
          onChange={(mm) => {
            onValue(mm)
            return undefined
          }}
        />
      )
    case 'number': {
      const wrong = wrongNumber(typed, asks)
      return (
        <label>
          {text.to}{' '}
          <input
            className="whole"
            inputMode="decimal"
            aria-invalid={wrong !== undefined}
            aria-describedby={wrong ? wrongId : undefined}
            value={typed}
            onChange={(event) => {
              setTyped(event.target.value)
              const bad = wrongNumber(event.target.value, asks) !== undefined
              onValue(bad ? undefined : numberIn(event.target.value))
            }}
          />
          <RefusedField id={wrongId}>{wrong}</RefusedField>
        </label>
      )
    }
    case 'turns': {
      const now = Array.isArray(value) ? (value as readonly (0 | 1 | 2 | 3)[]) : []
      return (
        <span className="group">
          {TURNS.map((turn) => (
            <label key={turn} className="turn">
              <input
                type="checkbox"
                checked={now.includes(turn)}
                onChange={() => {
                  const next = TURNS.filter((t) => (t === turn ? !now.includes(t) : now.includes(t)))
                  onValue(next.length > 0 ? next : undefined)
                }}
              />{' '}
              {text.turn[turn]}
            </label>
          ))}
        </span>
      )
    }
  }
}

function Change({ variant, edit }: { variant: string; edit: Edit }) {
  const project = useDeck((s) => s.history.doc.project)
  const selected = useDeck((s) => s.selected)
  const things = thingsOf(project)
  const [chosen, setChosen] = useState<string>()
  const [wish, setWish] = useState<Deed>()
  const [typed, setTyped] = useState<{ for: string; value: Value }>()
  const [scope, setScope] = useState<Scope>('here')
  const [said, setSaid] = useState('')
  // The item in hand, until something is chosen here.
  const inHand = things.find((t) => t.kind === 'item' && selected && t.id === baseOf(selected))
  const thing = things.find((t) => keyOf(t) === chosen) ?? inHand ?? things[0]!
  const deeds = deedsOf(project, variant, thing)
  const deed = deeds.find((d) => d === wish) ?? deeds[0]!
  const asks = asksOf(project, variant, thing, deed)
  const key = `${keyOf(thing)} ${deed} ${JSON.stringify(asks)}`
  const value = typed?.for === key ? typed.value : 'now' in asks ? asks.now : undefined
  const missing = asks.kind !== 'nothing' && value === undefined
  return (
    <form
      className="variant-change"
      aria-label={text.change}
      onSubmit={(event) => {
        event.preventDefault()
        if (!missing && edit((p) => done(p, variant, thing, deed, value, scope), 'anew'))
          setSaid(isOwn(deed) ? text.nowHere(thing.id) : text.done)
      }}
    >
      <label>
        {text.what}{' '}
        <select value={keyOf(thing)} onChange={(event) => setChosen(event.target.value)}>
          {KINDS.map((kind) => {
            const mine = things.filter((t) => t.kind === kind)
            return mine.length === 0 ? null : (
              <optgroup key={kind} label={GROUP[kind]}>
                {mine.map((t) => (
                  <option key={keyOf(t)} value={keyOf(t)}>
                    {NAMED[kind](t.id, project)}
                  </option>
                ))}
              </optgroup>
            )
          })}
        </select>
      </label>
      <label>
        {text.how}{' '}
        <select value={deed} onChange={(event) => setWish(deeds.find((d) => d === event.target.value))}>
          {deeds.map((d) => (
            <option key={d} value={d}>
              {text.deeds[d]}
            </option>
          ))}
        </select>
      </label>
      <ValueField key={key} asks={asks} value={value} onValue={(next) => setTyped({ for: key, value: next })} />
      {!isOwn(deed) && (
        <label>
          {text.scope}{' '}
          <select value={scope} onChange={(event) => setScope(event.target.value === 'all' ? 'all' : 'here')}>
            <option value="here">{text.here(variant)}</option>
            <option value="all">{text.all}</option>
          </select>
        </label>
      )}
      <button type="submit" disabled={missing}>
        {text.doIt}
      </button>
      <span className="change-said" role="status">
        {said}
      </span>
    </form>
  )
}

export default function Differs({ variant, edit }: { variant: string; edit: Edit }) {
  const project = useDeck((s) => s.history.doc.project)
  const differences = differencesOf(project, variant)
  return (
    <section className="variant-differs" aria-labelledby="differs-title">
      <h2 id="differs-title">{text.title(variant)}</h2>
      {differences.length === 0 && <p>{text.none}</p>}
      <ul>
        {differences.map((d) => {
          const sentence = sentenceOf(project, d)
          return (
            <li key={sentence}>
              <span>{sentence}</span>
              <button
                type="button"
                className="small-quiet"
                aria-label={text.undoOf(sentence)}
                onClick={() => edit((p) => withoutDifference(p, variant, d), 'anew')}
              >
                {text.undo}
              </button>
            </li>
          )
        })}
      </ul>
      <Change variant={variant} edit={edit} />
    </section>
  )
}
