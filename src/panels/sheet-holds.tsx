/** What is held, each with what it costs; what is built stands apart. */
import { costText } from '../store/ask-words.ts'
import { called } from '../store/sentences.ts'
import type { View } from '../store/view.ts'
import { words } from '../words/index.ts'
import { useActions, useDeck } from './use.ts'

const text = words.sheet

export function Holds({ view }: { view: View }) {
  const actions = useActions()
  const costs = useDeck((s) => s.asked.get(view.sheet)?.costs)
  const { holds, built = [] } = view.sheet
  const free = holds.filter((id) => !built.includes(id))
  return (
    <>
      {free.length > 0 && (
        <section aria-labelledby="held-title">
          <h3 id="held-title">{text.held}</h3>
          <ul className="held-list">
            {free.map((id) => {
              const cost = costs?.get(id)
              return (
                <li key={id}>
                  <button
                    type="button"
                    className="small"
                    onClick={() => actions.free(id)}
                    aria-label={text.free(called(id))}
                  >
                    {called(id)} <span aria-hidden="true">· {text.freeShort}</span>
                  </button>
                  {cost && <span className="held-cost">{costText(cost)}</span>}
                </li>
              )
            })}
          </ul>
          <button type="button" onClick={actions.freeAll}>
            {text.freeAll}
          </button>
        </section>
      )}
      {built.length > 0 && (
        <section aria-labelledby="sheet-built-title">
          <h3 id="sheet-built-title">{text.built}</h3>
          <ul className="built-list">
            {built.map((id) => (
              <li key={id}>
                <button type="button" className="quiet-button" onClick={() => actions.select(id)}>
                  {called(id)}
                </button>{' '}
                <button
                  type="button"
                  className="small"
                  onClick={() => actions.unmarkBuilt(id)}
                  aria-label={text.unmark(called(id))}
                >
                  {text.unmarkShort}
                </button>
              </li>
            ))}
          </ul>
          <p className="quiet">{text.builtHow}</p>
        </section>
      )}
    </>
  )
}
