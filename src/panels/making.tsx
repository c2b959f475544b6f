/** The template to cut and drill, beside what to mind when doing so. */
import { useState } from 'react'
import { cautions, svg, template } from '../export/index.ts'
import type { View } from '../store/view.ts'
import { download } from './download.ts'
import { useDeck } from './use.ts'

export function Making({ view }: { view: View }) {
  const file = useDeck((s) => s.history.doc.file)
  const carried = useDeck((s) => s.carry !== undefined)
  const [failure, setFailure] = useState('')
  const { problem, placements, findings, sheet } = view
  const missing = problem.items.some((item, i) => item.required && !placements.some((p) => p.item === i))
  const ready = !carried && findings.length === 0 && !missing
  const name = (deck: string): string => `${file.replace(/\.json$/i, '')}-${sheet.variant}-${deck}.svg`
  return (
    <section className="list making" aria-labelledby="making-title">
      <h2 id="making-title">Template</h2>
      <div className="group">
        {problem.decks.map((deck, index) => (
          <button
            key={deck.id}
            type="button"
            disabled={!ready}
            onClick={() => {
              try {
                download(name(deck.id), svg(template(problem, placements, index)), 'image/svg+xml')
                setFailure('')
              } catch (error) {
                setFailure(`The template could not be drawn: ${error instanceof Error ? error.message : String(error)}`)
              }
            }}
          >
            Download SVG of {deck.name}
          </button>
        ))}
      </div>
      {!ready && <p>A template is made of a layout in which nothing is wrong.</p>}
      {failure && <p role="alert">{failure}</p>}
      <ul className="cautions" aria-label="Cautions">
        {cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </section>
  )
}
