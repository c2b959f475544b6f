/** The findings sheet: what stops the job, how it stands, what is worth knowing, what would make it fit, and what is held. */
import { useDeferredValue, useState } from 'react'
import { tightTexts } from '../store/leads.ts'
import { leadsOf } from '../store/shared-leads.ts'
import type { View } from '../store/view.ts'
import { words } from '../words/index.ts'
import { Refused } from './refused.tsx'
import { useReport } from './report-use.ts'
import { Stops, Worth } from './sheet-findings.tsx'
import { Holds } from './sheet-holds.tsx'
import { Equals, Remedies } from './sheet-other.tsx'
import { useActions, useDeck, useView } from './use.ts'

const text = words.sheet

/** Values of all goals, their bounds and what is between them, in words. While something is carried their room is kept, so that nothing jumps. */
function Goals({ view }: { view: View }) {
  const carried = useDeck((s) => s.carry !== undefined)
  const now = view.goals.filter(worthSaying)
  const [before, setBefore] = useState(now)
  if (!carried && before !== now && texts(before) !== texts(now)) setBefore(now)
  const told = carried ? before : now
  if (told.length === 0) return null
  return (
    <ul className="goals" aria-label={text.reached} style={carried ? { visibility: 'hidden' } : undefined}>
      {told.map((g) => (
        <li key={g.name}>{g.text}</li>
      ))}
    </ul>
  )
}

/** Nothing of a goal is nothing to say, but that no hole is to be made is. */
const worthSaying = (g: View['goals'][number]): boolean => g.value !== 0 || g.gap !== 0 || g.name === 'new-holes'

const texts = (goals: View['goals']): string => goals.map((g) => g.text).join()

export function Sheet() {
  const actions = useActions()
  const view = useView(useDeck((s) => s.active))
  const looking = useReport((s) => s.looking)
  const failed = useReport((s) => s.failed)
  const carried = useDeck((s) => s.carry !== undefined)
  const project = useDeck((s) => s.history.doc.project)
  // The plan and the verdict come first.
  const there = useDeferredValue(true, false)
  if (!view) return null
  const { sheet } = view
  // A verdict that leads up to what stops the job stands before it; one that praises does not, or a low window would show nothing else.
  const first = view.conflict.length === 0 && view.findings.length === 0 && !view.stuck
  const tight =
    view.figures && view.findings.length === 0 ? tightTexts(view.problem, leadsOf(view, project, carried)) : []
  return (
    <aside className="sheet" aria-labelledby="sheet-title">
      <div className="sheet-head">
        <h2 id="sheet-title" tabIndex={-1}>
          {text.title}
        </h2>
        {/* Always there, so that nothing jumps while it comes and goes. */}
        <p className={looking ? 'sheet-looks' : 'sheet-looks still'} aria-hidden={!looking}>
          {text.beingLookedAt}
        </p>
      </div>
      {view.looking && (
        <button type="button" className="sheet-stop" onClick={actions.stop} title={text.stopHow}>
          {text.stop}
        </button>
      )}
      {there && first && <Stops view={view} />}
      {/* What is best so far changes many times a second: it is said aloud once, at the end. */}
      <div aria-live="polite" aria-busy={view.looking && !carried}>
        {view.conflict.length === 0 && <p className="verdict">{view.verdict}</p>}
        {[...view.notes, ...tight].map((note) => (
          <p key={note}>{note}</p>
        ))}
      </div>
      {there && !first && <Stops view={view} />}
      <Goals view={view} />
      {(view.better || view.open) && (
        <div className="group">
          {view.open && (
            <button type="button" onClick={actions.lookOn} title={text.stopHow}>
              {text.lookOn}
            </button>
          )}
          {view.better && (
            <button type="button" onClick={actions.rearrange}>
              {sheet.holds.length > 0 ? text.rearrange : text.rearrangeFree}
            </button>
          )}
        </div>
      )}
      {there && (
        <>
          <Worth view={view} />
          <Remedies view={view} />
          <Refused look="">{failed !== undefined && text.notLookedAt(failed)}</Refused>
          <Equals view={view} />
          <Holds view={view} />
        </>
      )}
    </aside>
  )
}
