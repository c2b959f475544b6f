/** What was drilled becomes part of the deck, and can be put where it really is. */
import { useMemo, useState } from 'react'
import type { EditProblem } from '../model/index.ts'
import { making } from '../store/making.ts'
import type { View } from '../store/view.ts'
import { lengthIn, wrongLength } from './making-number.tsx'
import { useActions } from './use.ts'

export function Built({ view, ready }: { view: View; ready: boolean }) {
  const actions = useActions()
  const [asking, setAsking] = useState(false)
  const [problems, setProblems] = useState<readonly EditProblem[]>([])
  const { problem, placements } = view
  const made = useMemo(() => (ready ? making(problem, placements) : undefined), [ready, problem, placements])
  const sentence = made?.becomes
  return (
    <section className="list built" aria-labelledby="built-title">
      <h2 id="built-title">Built</h2>
      <p aria-live="polite">{made ? made.reuse : 'Here stands what is to be drilled, once nothing is wrong.'}</p>
      {sentence &&
        (asking ? (
          <fieldset className="asking">
            <legend className="unseen">It has been made</legend>
            <p>{sentence} The next layout can use them again. It is one step, and Undo takes it back.</p>
            <div className="group">
              <button
                type="button"
                // Whoever asked by keyboard goes on from here.
                // biome-ignore lint/a11y/noAutofocus: the button that had the focus has just gone
                autoFocus
                onClick={() => {
                  setProblems(actions.build())
                  setAsking(false)
                }}
              >
                Make them part of it
              </button>
              <button type="button" onClick={() => setAsking(false)}>
                Leave it
              </button>
            </div>
          </fieldset>
        ) : (
          <div className="group">
            <button type="button" onClick={() => setAsking(true)}>
              It has been made…
            </button>
          </div>
        ))}
      <Problems all={problems} />
      {problem.decks.map((deck, index) => (
        <Holes key={deck.id} view={view} deck={index} />
      ))}
    </section>
  )
}

const Problems = ({ all }: { all: readonly EditProblem[] }) =>
  all.length === 0 ? null : (
    <ul role="alert">
      {all.map((p) => (
        <li key={`${p.path} ${p.found}`} className="field-wrong">
          {p.path || 'The project'}: found {p.found}; expected {p.expected}.
        </li>
      ))}
    </ul>
  )

const RANGE = { least: -10_000, most: 10_000 }
const WIDTH = { least: 0.001, most: 10_000 }

function Holes({ view, deck: index }: { view: View; deck: number }) {
  const deck = view.problem.decks[index]
  if (!deck || deck.holes.length === 0) return null
  return (
    <details className="holes">
      <summary>
        {deck.holes.length === 1 ? '1 hole' : `${deck.holes.length} holes`} in {deck.name}
      </summary>
      <p>A hole that came out elsewhere, or wider, is put right here. Lengths in mm, from the deck’s origin.</p>
      <ul>
        {deck.holes.map(({ id, at, diameter }) => {
          const values = [inMm3(at.x), inMm3(at.y), inMm3(diameter)] as const
          return <Hole key={`${id} ${values.join(' ')}`} deck={deck.id} hole={id} values={values} />
        })}
      </ul>
    </details>
  )
}

/** Micrometres to mm, all three decimals: here they are read to be typed again. */
const inMm3 = (um: number): string => String(um / 1000)

type Values = readonly [x: string, y: string, diameter: string]
const NAMES = ['x', 'y', 'diameter'] as const

function Hole({ deck, hole, values }: { deck: string; hole: string; values: Values }) {
  const actions = useActions()
  const [typed, setTyped] = useState<Values>(values)
  const [problems, setProblems] = useState<readonly EditProblem[]>([])
  const wrong = typed.flatMap((text, k) => wrongLength(text, k === 2 ? WIDTH : RANGE)?.concat(` (${NAMES[k]})`) ?? [])
  const changed = typed.some((text, k) => lengthIn(text) !== Number(values[k]))
  return (
    <li>
      <form
        className="hole-form"
        aria-label={`Hole ${hole}`}
        onSubmit={(event) => {
          event.preventDefault()
          const [x, y, diameter] = typed.map(lengthIn)
          if (wrong.length > 0 || !changed || x === undefined || y === undefined) return
          setProblems(actions.moveHole(deck, hole, [x, y], diameter))
        }}
      >
        <b>{hole}</b>
        {NAMES.map((name, k) => (
          <label key={name}>
            {name === 'diameter' ? '⌀' : name}
            <input
              aria-label={`${name} of hole ${hole}, mm`}
              value={typed[k]}
              onChange={(e) => setTyped(typed.map((old, i) => (i === k ? e.target.value : old)) as unknown as Values)}
            />
          </label>
        ))}
        {changed && (
          <button type="submit" className="small" disabled={wrong.length > 0}>
            Put right
          </button>
        )}
      </form>
      {wrong.map((text) => (
        <p key={text} role="alert" className="field-wrong">
          {text}
        </p>
      ))}
      <Problems all={problems} />
    </li>
  )
}
