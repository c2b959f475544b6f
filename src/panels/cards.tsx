/** The variants as cards along the top: a small plan, the figures and one sentence each. */
import { useMemo } from 'react'
import type { Figures } from '../../solver/index.ts'
import { SmallPlan } from '../plan/small-plan.tsx'
import { called, inMm } from '../store/sentences.ts'
import { figuresOf, findingsOf } from '../store/view.ts'
import { useActions, useDeck, useView } from './use.ts'

/** What a card counts, beside the first card's count where they differ. */
function contactsText(figures: Figures, first: Figures | undefined, firstName: string): string | undefined {
  if (!first || first === figures) return undefined
  const more = figures.freeTiePoints - first.freeTiePoints
  if (more === 0) return `as many as ${firstName}`
  return `${Math.abs(more)} ${more > 0 ? 'more' : 'fewer'} than ${firstName}`
}

function Card({ index, onStage }: { index: number; onStage: boolean }) {
  const actions = useActions()
  const view = useView(index)
  const first = useView(0)
  const leftOut = useMemo(() => {
    if (!view) return []
    const placed = new Set(view.placements.map((p) => p.item))
    return view.problem.items.filter((_, i) => !placed.has(i)).map((item) => called(item.id))
  }, [view])
  if (!view) return null
  const { sheet, problem, placements } = view
  const figures = placements.length > 0 || problem.items.length === 0 ? figuresOf(problem, placements) : undefined
  const wrong = figures ? findingsOf(problem, placements).length > 0 : false
  const id = `card-${index}`
  const beside = figures && contactsText(figures, first?.figures, first?.sheet.variant ?? '')
  return (
    <li>
      <button
        type="button"
        className={`card${onStage ? ' on-stage' : ''}${wrong || view.stuck ? ' wrong' : ''}`}
        aria-pressed={onStage}
        aria-labelledby={`${id}-name`}
        aria-describedby={`${id}-figures ${id}-verdict`}
        onClick={() => actions.choose(index)}
      >
        <SmallPlan problem={problem} placements={placements} scope={id} />
        <span className="card-text">
          <span className="card-name" id={`${id}-name`}>
            <b>{sheet.variant}</b>
            {sheet.name !== sheet.variant && <span> {sheet.name}</span>}
          </span>
          <span className="card-figures" id={`${id}-figures`}>
            {figures && (
              <>
                <span className="figure main">
                  <b>{figures.freeTiePoints}</b> free contacts{beside && <i>, {beside}</i>}
                </span>
                {problem.wires.length > 0 && (
                  <span className="figure">
                    <b>{Math.round(figures.wireLength / 1000)}</b> mm of conductor
                  </span>
                )}
                {figures.balance !== undefined && (
                  <span className="figure">
                    <b>{inMm(figures.balance)}</b> mm off balance
                  </span>
                )}
                {leftOut.length > 0 && <span className="figure">without {leftOut.join(', ')}</span>}
              </>
            )}
          </span>
          <span className={view.looking ? 'card-verdict looking' : 'card-verdict'} id={`${id}-verdict`}>
            {view.verdict}
          </span>
        </span>
      </button>
    </li>
  )
}

export function Cards() {
  const names = useDeck((s) => s.history.doc.sheets)
  const active = useDeck((s) => s.active)
  return (
    <nav className="cards" aria-label="Variants">
      <ul>
        {names.map((sheet, index) => (
          <Card key={sheet.variant} index={index} onStage={index === active} />
        ))}
      </ul>
    </nav>
  )
}
