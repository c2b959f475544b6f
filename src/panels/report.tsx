/** Below the stage: what was worked out of the layout, part by part; one part is open at a time. */
import { lazy, Suspense, useState } from 'react'
import type { PartName } from '../store/report-blocks.ts'
import type { View } from '../store/view.ts'
import { words } from '../words/index.ts'
import './report.css'

const ReportPart = lazy(() => import('./report-part.tsx'))
const Sliders = lazy(() => import('./report-sliders.tsx'))

const text = words.report
type Open = PartName | 'sliders'

export function ReportBar({ view }: { view: View }) {
  const [open, setOpen] = useState<Open>()
  return (
    <section className="report" aria-labelledby="report-title">
      <div className="report-bar">
        <h2 id="report-title">{text.title}</h2>
        <ul>
          {(Object.keys(text.part) as Open[]).map((name) => (
            <li key={name}>
              <button
                type="button"
                aria-expanded={open === name}
                aria-controls="report-room"
                onClick={() => setOpen(open === name ? undefined : name)}
              >
                {text.part[name]}
              </button>
            </li>
          ))}
        </ul>
      </div>
      <div id="report-room">
        {open && (
          <Suspense fallback={<p className="quiet">{text.onTheWay}</p>}>
            {open === 'sliders' ? <Sliders view={view} /> : <ReportPart key={open} part={open} view={view} />}
          </Suspense>
        )}
      </div>
    </section>
  )
}
