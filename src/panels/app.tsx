/** What is on the page. */
import { useEffect, useMemo } from 'react'
import { createItemKeys } from '../plan/keys.ts'
import type { Deckwright } from '../store/store.ts'
import { words } from '../words/index.ts'
import { PageBoundary } from './boundary.tsx'
import { Cards } from './cards.tsx'
import { download } from './download.ts'
import { Head } from './head.tsx'
import { Lists } from './lists.tsx'
import { Sheet } from './sheet.tsx'
import { Stage } from './stage.tsx'
import { Here } from './use.ts'

/** Ctrl-Z and Ctrl-Shift-Z anywhere but in a field for typing, and in a dialog, which would hide what is undone. */
function useHistoryKeys({ actions }: Deckwright): void {
  useEffect(() => {
    const press = (event: KeyboardEvent): void => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey || event.key.toLowerCase() !== 'z') return
      const target = event.target as HTMLElement | null
      if (target?.closest('input:not([type=file]), textarea, dialog')) return
      event.preventDefault()
      if (event.shiftKey) actions.redo()
      else actions.undo()
    }
    window.addEventListener('keydown', press)
    return () => window.removeEventListener('keydown', press)
  }, [actions])
}

const keep = ({ actions }: Deckwright): void => {
  const { file, text } = actions.save()
  download(file, text, 'application/json')
}

export function App({ deckwright }: { deckwright: Deckwright }) {
  useHistoryKeys(deckwright)
  const keys = useMemo(() => createItemKeys(deckwright.store.getState, deckwright.actions), [deckwright])
  return (
    <Here value={deckwright}>
      <PageBoundary onSave={() => keep(deckwright)}>
        <Head />
        <main>
          <Cards />
          <div className="bench">
            <div className="table">
              <Stage keys={keys} />
              <Lists keys={keys} />
            </div>
            <Sheet />
          </div>
        </main>
        <p id="item-keys" className="unseen">
          {words.page.itemKeys}
        </p>
      </PageBoundary>
    </Here>
  )
}
