/** Findings as sentences; choosing one lights what it speaks of and takes the first item into the hand. */
import { useState } from 'react'
import { type SheetLine, sheetLines } from '../store/sheet-lines.ts'
import type { View } from '../store/view.ts'
import { words } from '../words/index.ts'
import { useReport, useReports } from './report-use.ts'

const text = words.sheet

/** So many are shown before somebody asks for all. */
const FEW = { stops: 10, worth: 4 }

function Lines({ lines, kind }: { lines: readonly SheetLine[]; kind: 'stops' | 'worth' }) {
  const { choose } = useReports()
  const chosen = useReport((s) => s.chosen?.text)
  const [all, setAll] = useState(false)
  const few = FEW[kind]
  const many = lines.length > few + 1
  const shown = all || !many ? lines : lines.slice(0, few)
  return (
    <>
      <ul className={`findings findings-${kind}`}>
        {shown.map((line) => (
          <li key={line.text}>
            <button type="button" aria-pressed={chosen === line.text} onClick={() => choose(line.text, line.items)}>
              {line.text}
            </button>
          </li>
        ))}
      </ul>
      {many && (
        <button type="button" className="quiet-button" aria-expanded={all} onClick={() => setAll(!all)}>
          {all ? text.fewer : text.more(lines.length - few)}
        </button>
      )}
    </>
  )
}

const useLines = (view: View): ReturnType<typeof sheetLines> => {
  const report = useReport((s) => s.report)
  return sheetLines(view, report ? { report } : {})
}

/** What cannot be, and what stops the job. */
export function Stops({ view }: { view: View }) {
  const { conflict, stops } = useLines(view)
  // The search keeps the rules and counts; what else stops the job it does not know of.
  const evenSo = stops.length > 0 && view.findings.length === 0 && view.goals.length > 0 && !view.looking
  return (
    <>
      {conflict.length > 0 && <Lines lines={conflict} kind="stops" />}
      {conflict.length > 0 && stops.length > 0 && <p>{text.asItStands}</p>}
      {stops.length > 0 && (
        <section aria-labelledby="stops-title">
          {conflict.length === 0 ? (
            <h3 id="stops-title">{text.stops(stops.length)}</h3>
          ) : (
            <h3 id="stops-title" className="unseen">
              {text.stops(stops.length)}
            </h3>
          )}
          <Lines lines={stops} kind="stops" />
          {evenSo && (
            <p>
              {text.evenSo(
                view.goals.every((g) => g.gap === 0),
                view.bestHeld,
              )}
            </p>
          )}
        </section>
      )}
    </>
  )
}

/** What is worth knowing, and what the files do not say. */
export function Worth({ view }: { view: View }) {
  const waiting = useReport((s) => s.looking && !s.report)
  const { conflict, stops, worthKnowing, missing } = useLines(view)
  const fine =
    stops.length === 0 && conflict.length === 0 && view.figures && !view.looking && view.problem.items.length > 0
  return (
    <>
      {fine && !waiting && <p>{text.fine}</p>}
      {worthKnowing.length > 0 && (
        <section aria-labelledby="worth-title">
          <h3 id="worth-title">{text.worthKnowing(worthKnowing.length)}</h3>
          <Lines lines={worthKnowing} kind="worth" />
        </section>
      )}
      {missing.length > 0 && (
        <details className="sheet-missing">
          <summary>{text.notSaid(missing.length)}</summary>
          <ul>
            {missing.map((m) => (
              <li key={m}>{m}</li>
            ))}
          </ul>
        </details>
      )}
    </>
  )
}
