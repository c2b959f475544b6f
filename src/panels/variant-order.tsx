/** The order of what matters as a sentence whose parts can be put earlier or later: by drag, by arrow keys, or by the buttons of each. */
import { Fragment, useEffect, useRef, useState } from 'react'
import type { ObjectiveName } from '../../solver/index.ts'
import { goalMoved, goalsOf, withGoals } from '../model/edit-variants.ts'
import { words } from '../words/index.ts'
import { useDeck } from './use.ts'

const ALL: readonly ObjectiveName[] = ['free-tie-points', 'optional-value', 'new-holes', 'wire-length', 'balance']
const text = words.variants.order

type Edit = (
  make: (project: Parameters<typeof withGoals>[0]) => Parameters<typeof withGoals>[0],
  anew?: 'anew',
) => boolean

export function Order({ edit }: { edit: Edit }) {
  const project = useDeck((s) => s.history.doc.project)
  const goals = goalsOf(project)
  const [open, setOpen] = useState<ObjectiveName>()
  const [said, setSaid] = useState('')
  const [dragged, setDragged] = useState<ObjectiveName>()
  const chips = useRef(new Map<ObjectiveName, HTMLButtonElement>())
  const follow = useRef<ObjectiveName | undefined>(undefined)
  // A part that moved in the page loses the focus, which belongs to the part.
  useEffect(() => {
    if (follow.current) chips.current.get(follow.current)?.focus()
    follow.current = undefined
  })
  const holes = project.decks.some((d) => (d.holes ?? []).length > 0)
  const missing = ALL.filter((g) => !goals.includes(g) && (g !== 'new-holes' || holes))

  const change = (next: readonly ObjectiveName[]): void => {
    if (edit((p) => withGoals(p, next), 'anew')) setSaid(text.said(next))
  }
  const move = (goal: ObjectiveName, to: number): void => {
    const next = goalMoved(goals, goal, to)
    if (next.every((g, i) => g === goals[i])) return
    follow.current = goal
    change(next)
  }
  const at = open === undefined ? -1 : goals.indexOf(open)

  return (
    <div className="order">
      {/* biome-ignore lint/a11y/useSemanticElements: a sentence with buttons in it is a group, and no fieldset */}
      <p className="order-sentence" role="group" aria-label={text.label}>
        {goals.length === 0 && text.none}
        {goals.map((goal, index) => (
          <Fragment key={goal}>
            {index === 0 ? text.first : text.onwards}
            {/* In one piece, or a line could begin with a comma. */}
            <span className="goal-piece">
              <button
                type="button"
                ref={(element) => {
                  if (element) chips.current.set(goal, element)
                  else chips.current.delete(goal)
                }}
                className={`goal${dragged === goal ? ' dragged' : ''}`}
                draggable
                aria-label={text.place(goal, index + 1, goals.length)}
                aria-expanded={open === goal}
                aria-describedby="order-hint"
                title={text.hint}
                onClick={() => setOpen(open === goal ? undefined : goal)}
                onKeyDown={(event) => {
                  if (event.key === 'Escape') setOpen(undefined)
                  if (event.key !== 'ArrowLeft' && event.key !== 'ArrowRight') return
                  event.preventDefault()
                  move(goal, index + (event.key === 'ArrowLeft' ? -1 : 1))
                }}
                onDragStart={(event) => {
                  event.dataTransfer.setData('text/plain', goal)
                  event.dataTransfer.effectAllowed = 'move'
                  setDragged(goal)
                }}
                onDragOver={(event) => {
                  if (dragged && dragged !== goal) event.preventDefault()
                }}
                onDrop={(event) => {
                  event.preventDefault()
                  if (dragged) move(dragged, index)
                }}
                onDragEnd={() => setDragged(undefined)}
              >
                {text.goal(goal)}
              </button>
              {index < goals.length - 1 ? text.comma : text.end}
            </span>
          </Fragment>
        ))}
        {missing.length > 0 && (
          <select
            className="order-add"
            aria-label={text.add}
            value=""
            onChange={(event) => {
              const goal = missing.find((g) => g === event.target.value)
              // Fewest new holes before wires, as for a plate that was made; anything else comes last.
              const wires = goals.indexOf('wire-length')
              if (goal) change(goalMoved(goals, goal, goal === 'new-holes' && wires >= 0 ? wires : goals.length))
            }}
          >
            <option value="">{text.adding}</option>
            {missing.map((goal) => (
              <option key={goal} value={goal}>
                {text.goal(goal)}
              </option>
            ))}
          </select>
        )}
      </p>
      {open !== undefined && at >= 0 && (
        <div className="group order-tools">
          <button type="button" aria-label={text.earlier(open)} disabled={at === 0} onClick={() => move(open, at - 1)}>
            {text.earlierShort}
          </button>
          <button
            type="button"
            aria-label={text.later(open)}
            disabled={at === goals.length - 1}
            onClick={() => move(open, at + 1)}
          >
            {text.laterShort}
          </button>
          <button
            type="button"
            aria-label={text.leaveOut(open)}
            disabled={goals.length === 1}
            onClick={() => {
              setOpen(undefined)
              change(goals.filter((g) => g !== open))
            }}
          >
            {text.leaveOutShort}
          </button>
        </div>
      )}
      <p id="order-hint" className="unseen">
        {text.hint}
      </p>
      <p className="unseen" role="status">
        {said}
      </p>
    </div>
  )
}
