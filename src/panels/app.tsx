/** What is on the page. */
import { type ReactNode, useEffect, useMemo, useRef, useState } from 'react'
import { createItemKeys } from '../plan/keys.ts'
import { KeysNote } from '../plan/keys-note.tsx'
import { createPartsDesk } from '../store/parts-desk.ts'
import { shelf } from '../store/shelf.ts'
import type { Deckwright } from '../store/store.ts'
import { Around, type AroundDeck, useStart } from './around.ts'
import { PageBoundary } from './boundary.tsx'
import { Cards } from './cards.tsx'
import { download } from './download.ts'
import { keepFocus } from './focus-keeper.ts'
import { Head } from './head.tsx'
import { Lists } from './lists.tsx'
import { Notices } from './notices.tsx'
import { OpenFile } from './open-file.tsx'
import { WithParts } from './parts-desk.tsx'
import { Sheet } from './sheet.tsx'
import { Stage } from './stage.tsx'
import { StartView } from './start.tsx'
import { Here } from './use.ts'

/** A field in which something unfinished is typed has an undo of its own; one whose number is taken has not. */
const typing = (target: HTMLElement | null): boolean => {
  const field = target?.closest('input:not([type=file], [type=checkbox], [type=radio], [type=range]), textarea')
  return !!field && (!field.closest('.length-field') || field.hasAttribute('data-typed'))
}

/** Ctrl-Z and Ctrl-Shift-Z anywhere but while typing, and in a dialog that would hide what is undone (`data-undo`: it shows it). */
function useHistoryKeys({ actions }: Deckwright): void {
  useEffect(() => {
    const press = (event: KeyboardEvent): void => {
      if (!(event.ctrlKey || event.metaKey) || event.altKey || event.key.toLowerCase() !== 'z') return
      const target = event.target as HTMLElement | null
      if (event.defaultPrevented || typing(target) || target?.closest('dialog:not([data-undo])')) return
      event.preventDefault()
      if (event.shiftKey) actions.redo()
      else actions.undo()
    }
    window.addEventListener('keydown', press)
    return () => window.removeEventListener('keydown', press)
  }, [actions])
}

const save = ({ actions }: Deckwright): void => {
  const { file, text } = actions.save()
  download(file, text, 'application/json')
}

/** The start view or the document, whichever is looked at; what must be said stands over both. */
function Page({ children }: { children: ReactNode }) {
  const starting = useStart((s) => s.open)
  const was = useRef(starting)
  useEffect(() => {
    // What had the focus on the start view is gone.
    if (was.current && !starting) document.getElementById('page-title')?.focus()
    was.current = starting
  }, [starting])
  return (
    <>
      {!starting && <Head />}
      <Notices />
      {starting ? <StartView /> : children}
    </>
  )
}

export function App({ deckwright, around }: { deckwright: Deckwright; around: AroundDeck }) {
  useHistoryKeys(deckwright)
  useEffect(() => keepFocus(document.body), [])
  const [parts] = useState(() => createPartsDesk(() => deckwright.store.getState().history.past, shelf()))
  const keys = useMemo(
    () => createItemKeys(deckwright.store.getState, deckwright.actions, undefined, parts.goTo, parts.say),
    [deckwright, parts],
  )
  return (
    <Here value={deckwright}>
      <PageBoundary onSave={() => save(deckwright)}>
        <Around value={around}>
          <OpenFile>
            <Page>
              <WithParts desk={parts}>
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
              </WithParts>
            </Page>
          </OpenFile>
        </Around>
        <KeysNote id="item-keys" />
      </PageBoundary>
    </Here>
  )
}
