/** What was drilled becomes part of the deck, and can be put where it really is. */
import { useMemo, useState } from 'react'
import { addsFewest, type EditProblem } from '../model/index.ts'
import { making } from '../store/making.ts'
import { isBuilt } from '../store/state.ts'
import type { View } from '../store/view.ts'
import { words } from '../words/index.ts'
import { Refused, RefusedList } from './refused.tsx'
import { lengthIn, wrongLength } from './typed.ts'
import { useActions, useDeck } from './use.ts'

const text = words.making

export function Built({ view, ready }: { view: View; ready: boolean }) {
  const actions = useActions()
  const [asking, setAsking] = useState(false)
  const [problems, setProblems] = useState<readonly EditProblem[]>([])
  const { problem, placements } = view
  const made = useMemo(() => (ready ? making(problem, placements) : undefined), [ready, problem, placements])
  const sentence = made?.becomes
  return (
    <section className="list built" aria-labelledby="built-title">
      <h2 id="built-title">{text.built}</h2>
      <p aria-live="polite">{made ? made.reuse : text.builtNothing}</p>
      {sentence &&
        (asking ? (
          <fieldset className="asking">
            <legend className="unseen">{text.made}</legend>
            <p>{text.madeHow(sentence, addsFewest(problem.objective))}</p>
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
                {text.takeIn}
              </button>
              <button type="button" onClick={() => setAsking(false)}>
                {text.leave}
              </button>
            </div>
          </fieldset>
        ) : (
          <div className="group">
            <button type="button" onClick={() => setAsking(true)}>
              {text.madeAsk}
            </button>
          </div>
        ))}
      <RefusedList all={problems} say={text.problem} />
      <Marking view={view} />
      {problem.decks.map((deck, index) => (
        <Holes key={deck.id} view={view} deck={index} />
      ))}
    </section>
  )
}

/** What stands on the robot is said not to move any more; what comes later is not there yet. */
function Marking({ view }: { view: View }) {
  const actions = useActions()
  const carried = useDeck((s) => s.carry !== undefined)
  const { problem, placements, sheet } = view
  const there = placements.flatMap((p) => {
    const item = problem.items[p.item]
    return item && !item.later ? [item.id] : []
  })
  if (there.length === 0) return null
  if (there.every((id) => isBuilt(sheet, id))) return <p>{text.allMarked}</p>
  return (
    <div className="group">
      <button type="button" title={text.markAllHow} disabled={carried} onClick={() => actions.markBuilt(there)}>
        {text.markAll}
      </button>
    </div>
  )
}

const RANGE = { least: -10_000, most: 10_000 }
const WIDTH = { least: 0.001, most: 10_000 }

function Holes({ view, deck: index }: { view: View; deck: number }) {
  const deck = view.problem.decks[index]
  if (!deck || deck.holes.length === 0) return null
  return (
    <details className="holes">
      <summary>{text.holesIn(deck.holes.length, deck.name)}</summary>
      <p>{text.holesHow}</p>
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
  const wrong = NAMES.flatMap((name, k) => {
    const fault = wrongLength(typed[k]!, k === 2 ? WIDTH : RANGE)
    return fault === undefined ? [] : [text.wrongOf(fault, text.number[name])]
  })
  const changed = typed.some((value, k) => lengthIn(value) !== Number(values[k]))
  return (
    <li>
      <form
        className="hole-form"
        aria-label={text.hole(hole)}
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
            {text.numberShort[name]}
            <input
              aria-label={text.numberOf(text.number[name], hole)}
              value={typed[k]}
              onChange={(e) => setTyped(typed.map((old, i) => (i === k ? e.target.value : old)) as unknown as Values)}
            />
          </label>
        ))}
        {changed && (
          <button type="submit" className="small" disabled={wrong.length > 0}>
            {text.putRight}
          </button>
        )}
      </form>
      {wrong.map((sentence) => (
        <Refused key={sentence}>{sentence}</Refused>
      ))}
      <RefusedList all={problems} say={text.problem} />
    </li>
  )
}
