/** What is to be made of a layout, beside what to mind when doing so. */
import { lazy, Suspense, useState } from 'react'
import { cautions } from '../export/cautions.ts'
import { inWords, recallShop } from '../store/export-settings.ts'
import { isBuilt, notReady } from '../store/making.ts'
import { shelf } from '../store/shelf.ts'
import type { View } from '../store/view.ts'
import { words } from '../words/index.ts'
import { download } from './download.ts'
import { Built } from './making-built.tsx'
import { Refused } from './refused.tsx'
import { useDeck } from './use.ts'
import './workshop.css'

// The writers are large, and nobody needs them before something is to be made.
const ExportSheet = lazy(() => import('./export-sheet.tsx'))
const BringIn = lazy(() => import('./bring-in.tsx'))

export function Making({ view }: { view: View }) {
  const file = useDeck((s) => s.history.doc.file)
  const carried = useDeck((s) => s.carry !== undefined)
  const [failure, setFailure] = useState('')
  const [open, setOpen] = useState(false)
  const { problem, sheet } = view
  const why = notReady(view, carried)
  const shop = recallShop(shelf())
  const asMade = isBuilt(problem)
  const settings = [asMade ? words.making.onlyNew : '', inWords(shop)].filter((text) => text !== '').join(', ')
  const hand = async (deck: number): Promise<void> => {
    try {
      const { deckSvg } = await import('./export-files.ts')
      const made = deckSvg({ view, file, shop, asMade, others: [] }, deck)
      download(made.name, made.data, made.type)
      setFailure('')
    } catch (error) {
      setFailure(words.making.failed(error instanceof Error ? error.message : String(error)))
    }
  }
  return (
    <>
      <section className="list making" aria-labelledby="making-title">
        <h2 id="making-title">{words.making.title}</h2>
        <div className="group">
          <button type="button" disabled={why !== undefined} onClick={() => setOpen(true)}>
            {words.making.files}
          </button>
          {problem.decks.map((deck, index) => (
            <button key={deck.id} type="button" disabled={why !== undefined} onClick={() => hand(index)}>
              {words.making.svgOf(deck.name)}
            </button>
          ))}
        </div>
        {why ? <p>{why}</p> : settings && <p className="quiet">{words.making.drawnWith(settings)}</p>}
        <Refused look="">{failure}</Refused>
        <ul className="cautions" aria-label={words.making.cautions}>
          {cautions.map((caution) => (
            <li key={caution}>{caution}</li>
          ))}
        </ul>
        {open && (
          <Suspense fallback={<p>{words.making.writersComing}</p>}>
            <ExportSheet view={view} why={why} onClose={() => setOpen(false)} />
          </Suspense>
        )}
      </section>
      <Built key={sheet.variant} view={view} ready={why === undefined} />
      <Bringing />
    </>
  )
}

function Bringing() {
  const [open, setOpen] = useState(false)
  return (
    <section className="list" aria-labelledby="bring-title">
      <h2 id="bring-title">{words.making.bringTitle}</h2>
      <p>{words.making.bringHow}</p>
      <div className="group">
        <button type="button" onClick={() => setOpen(true)}>
          {words.making.bring}
        </button>
      </div>
      {open && (
        <Suspense fallback={<p>{words.making.readersComing}</p>}>
          <BringIn onClose={() => setOpen(false)} />
        </Suspense>
      )}
    </section>
  )
}
