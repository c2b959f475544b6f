/** The findings sheet: what is wrong or tight, in sentences with millimetres. */
import { called, inMm, plainly } from '../store/sentences.ts'
import type { View } from '../store/view.ts'
import { useActions, useDeck, useView } from './use.ts'

function Held({ view }: { view: View }) {
  const actions = useActions()
  const { holds } = view.sheet
  if (holds.length === 0) return null
  return (
    <section aria-labelledby="held-title">
      <h3 id="held-title">Held where you put them</h3>
      <ul className="held-list">
        {holds.map((id) => (
          <li key={id}>
            <button type="button" className="small" onClick={() => actions.free(id)} aria-label={`Free ${called(id)}`}>
              {called(id)} <span aria-hidden="true">· free</span>
            </button>
          </li>
        ))}
      </ul>
      <button type="button" onClick={actions.freeAll}>
        Free all
      </button>
    </section>
  )
}

/** The sentence of a finding, with how much is short where the text does not say it. */
const findingText = (text: string, by: number): string => {
  const sentence = plainly(text)
  return by > 0 && !/\d\s*mm\b/.test(text) ? `${sentence} ${inMm(by)} mm are missing.` : sentence
}

export function Sheet() {
  const actions = useActions()
  const view = useView(useDeck((s) => s.active))
  if (!view) return null
  const { sheet, problem, findings, conflict } = view
  const said = new Set(conflict.map((m) => m.text))
  const others = findings.filter((f) => !said.has(findingText(f.text, f.by)))
  const pick = (items: readonly string[]): void => {
    const id = items.find((i) => problem.items.some((item) => item.id === i))
    if (id) actions.select(id)
  }
  return (
    <aside className="sheet" aria-labelledby="sheet-title">
      <h2 id="sheet-title">Findings</h2>
      <div aria-live="polite">
        {conflict.length === 0 && <p className="verdict">{view.verdict}</p>}
        {view.notes.map((note) => (
          <p key={note}>{note}</p>
        ))}
        {conflict.length > 0 && (
          <ul className="findings">
            {conflict.map((m) => (
              <li key={m.text}>
                <button type="button" onClick={() => pick(m.items)}>
                  {m.text}
                </button>
              </li>
            ))}
          </ul>
        )}
        {others.length > 0 && conflict.length > 0 && <p>And as it stands:</p>}
        {others.length > 0 && (
          <ul className="findings">
            {others.map((f) => (
              <li key={`${f.rule} ${f.items} ${f.text}`}>
                <button type="button" onClick={() => pick(f.items)}>
                  {findingText(f.text, f.by)}
                </button>
              </li>
            ))}
          </ul>
        )}
        {findings.length === 0 && view.figures && !view.looking && <p>Nothing is wrong in this layout.</p>}
      </div>
      <div className="group">
        {view.looking && (
          <button type="button" onClick={actions.stop}>
            Stop looking
          </button>
        )}
        {view.better && (
          <button type="button" onClick={actions.rearrange}>
            {sheet.holds.length > 0 ? 'Find the best with what is held' : 'Go back to the best'}
          </button>
        )}
      </div>
      <Held view={view} />
    </aside>
  )
}
