/** What was asked beside the layout: changes that make it fit, each a button, and other layouts with the same figures. */
import { useEffect, useState } from 'react'
import type { EditProblem } from '../model/index.ts'
import { type Equals as EqualLayouts, maySeekOn } from '../store/asks.ts'
import type { View } from '../store/view.ts'
import { words } from '../words/index.ts'
import { Refused } from './refused.tsx'
import { useActions, useDeck } from './use.ts'

const text = words.sheet

/** Milliseconds that nothing must have fitted before it is tried what would: nobody waits for it between two drags. */
const STILL = 500

export function Remedies({ view }: { view: View }) {
  const actions = useActions()
  const asked = useDeck((s) => s.asked.get(view.sheet)?.remedies)
  const [wrong, setWrong] = useState<{ readonly sheet: unknown; readonly problem: EditProblem }>()
  const due = view.conflict.length > 0
  const { sheet } = view
  // biome-ignore lint/correctness/useExhaustiveDependencies: another sheet is asked anew
  useEffect(() => {
    if (!due) return
    const timer = setTimeout(actions.askRemedies, STILL)
    return () => clearTimeout(timer)
  }, [due, sheet, actions])
  if (!due) return null
  const value = asked?.kind === 'answered' ? asked.value : undefined
  const apply = (k: number): void => {
    const [problem] = actions.remedy(k)
    setWrong(problem && { sheet, problem })
    // The button is gone with what it mended.
    if (!problem) document.getElementById('sheet-title')?.focus()
  }
  return (
    <section aria-labelledby="remedies-title">
      <h3 id="remedies-title">{text.remediesTitle}</h3>
      <div aria-live="polite">
        {(!asked || asked.kind === 'asking') && <p className="quiet">{text.remediesAsking}</p>}
        {asked?.kind === 'failed' && <p>{text.remediesFailed(asked.error)}</p>}
        {value?.list.length === 0 && <p>{value.complete ? text.remediesNone : text.remediesNoneYet}</p>}
      </div>
      {value && value.list.length > 0 && (
        <>
          <ul className="remedies">
            {value.list.map((remedy, k) => (
              <li key={remedy.text}>
                <button type="button" onClick={() => apply(k)}>
                  {remedy.text}
                </button>
                {remedy.smaller && <span className="quiet"> {remedy.smaller}</span>}
              </li>
            ))}
          </ul>
          <p className="quiet">
            {text.noRemedy} {!value.complete && text.remediesMore}
          </p>
        </>
      )}
      <Refused look="">
        {wrong?.sheet === sheet && text.refused(wrong.problem.path, wrong.problem.found, wrong.problem.expected)}
      </Refused>
    </section>
  )
}

function equalText({ layouts, on, elsewhere, exhausted, better }: EqualLayouts): string {
  const all = layouts.length
  const far = elsewhere[on] ?? 0
  if (better === 'others') return on === 0 ? text.betterFirst(all - 1) : text.betterOn(on, all - 1, far)
  if (better === 'shown' && on === 0) return text.betterShown(all)
  if (all === 1) return text.equalNone(exhausted)
  return on === 0 ? text.equalFirst(all) : text.equalOn(on + 1, all, far)
}

export function Equals({ view }: { view: View }) {
  const actions = useActions()
  const asked = useDeck((s) => s.asked.get(view.sheet)?.equal)
  const carried = useDeck((s) => s.carry !== undefined)
  const ready = view.goals.length > 0 && view.problem.items.length > 0 && !view.looking && !carried
  if (!asked && !ready) return null
  const value = asked?.kind === 'answered' ? asked.value : undefined
  const all = value?.layouts.length ?? 0
  return (
    <section aria-label={text.equal}>
      {!asked && (
        <button type="button" className="quiet-button" onClick={actions.askEqual}>
          {text.equalAsk}
        </button>
      )}
      <div aria-live="polite">
        {asked?.kind === 'asking' && <p className="quiet">{text.equalAsking}</p>}
        {asked?.kind === 'failed' && <p>{text.equalFailed(asked.error)}</p>}
        {value && <p>{equalText(value)}</p>}
      </div>
      {asked && maySeekOn(asked) && ready && (
        <button type="button" className="quiet-button" onClick={actions.askEqual}>
          {text.equalAgain}
        </button>
      )}
      {value && all > 1 && (
        <div className="group">
          <button type="button" onClick={() => actions.showEqual((value.on + all - 1) % all)}>
            {text.equalBefore}
          </button>
          <button type="button" onClick={() => actions.showEqual((value.on + 1) % all)}>
            {text.equalNext}
          </button>
        </div>
      )}
    </section>
  )
}
