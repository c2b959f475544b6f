/** Files come in here: chosen from a button anywhere on the page, or dropped anywhere on it. */
import { createContext, lazy, type ReactNode, Suspense, useContext, useEffect, useRef, useState } from 'react'
import type { BringKind } from '../store/arrive.ts'
import { type AllArrived, arriveAll, type LeftOver } from '../store/arrive-all.ts'
import { words } from '../words/index.ts'
import { useAround } from './around.ts'
import type { Source } from './bring-files.ts'
import { hasFiles, readEach } from './sources.ts'
import { useDeckwright } from './use.ts'

const BringIn = lazy(() => import('./bring-in.tsx'))

const Choose = createContext<() => void>(() => {})

/** Asks for a file, as a button does. */
export const useOpenFile = (): (() => void) => useContext(Choose)

/** mm: what a drawing takes the place of, where there is no deck yet. */
const BEFORE = [160, 120] as const

/** Dialogs take their own drops. */
const elsewhere = (event: DragEvent): boolean =>
  event.defaultPrevented || (event.target instanceof Element && event.target.closest('dialog') !== null)

const leftOf = (came: AllArrived | undefined): string => {
  const whys = [...new Set((came?.left ?? []).map((l) => l.why))]
  const named = (why: LeftOver): string[] => (came?.left ?? []).flatMap((l) => (l.why === why ? [l.file] : []))
  return whys.map((why) => words.start.leftOver(named(why), why)).join(' ')
}

/** What became of what was dropped; of one file that could not be used the notice says it. */
function saidOf(came: AllArrived): string {
  const t = words.start
  const { only, project, layout, parts, left, refused } = came
  if (only) return only.kind === 'part' ? t.partTaken(only.name, only.replaced) : only.kind === 'laid' ? t.laid : ''
  const sentences = [
    project === undefined ? '' : t.project(project),
    parts.length > 0 ? t.parts(parts) : '',
    layout === undefined ? '' : t.layout(layout),
    left.length > 0 ? leftOf(came) : '',
    refused.length > 0 && (project ?? layout ?? parts[0] ?? came.bring) !== undefined ? t.notUsed(refused) : '',
  ]
  return sentences.filter((s) => s !== '').join(' ')
}

export function OpenFile({ children }: { children: ReactNode }) {
  const deckwright = useDeckwright()
  const { keep, start } = useAround()
  const picker = useRef<HTMLInputElement>(null)
  const [over, setOver] = useState(false)
  const [arrived, setArrived] = useState<AllArrived>()
  const [bringing, setBringing] = useState<{ readonly as: BringKind; readonly sources: readonly Source[] }>()

  useEffect(() => {
    // The browser would otherwise leave the page for the file that is dropped.
    const drag = (event: DragEvent): void => {
      if (!hasFiles(event) || event.defaultPrevented) return
      event.preventDefault()
      if (!elsewhere(event)) setOver(true)
      else if (event.dataTransfer) event.dataTransfer.dropEffect = 'none'
    }
    const away = (event: DragEvent): void => {
      if (event.relatedTarget === null) setOver(false)
    }
    const drop = (event: DragEvent): void => {
      setOver(false)
      if (!hasFiles(event) || event.defaultPrevented) return
      const here = !elsewhere(event)
      event.preventDefault()
      if (here) void take(event.dataTransfer?.files ?? [])
    }
    const take = async (files: Iterable<File>): Promise<void> => {
      const all = await readEach(files)
      if (all.length === 0) return
      const came = arriveAll(deckwright, all)
      setArrived(came)
      if (came.bring) {
        // From the start view a drawing begins a deck of its own, and leaves the last work alone.
        if (start.store.getState().open && came.project === undefined)
          deckwright.actions.newDeck(
            ...BEFORE,
            keep.store.getState().works.map((w) => w.name),
          )
        setBringing({ as: came.bring.as, sources: came.bring.files })
      }
      if (came.bring || came.project !== undefined || came.layout !== undefined || came.parts.length > 0) start.leave()
    }
    const input = picker.current
    const chosen = async (): Promise<void> => {
      if (!input?.files?.[0]) return
      await take(input.files)
      // The same file may be chosen again after it was mended.
      input.value = ''
    }
    window.addEventListener('dragover', drag)
    window.addEventListener('dragleave', away)
    window.addEventListener('drop', drop)
    input?.addEventListener('change', chosen)
    return () => {
      window.removeEventListener('dragover', drag)
      window.removeEventListener('dragleave', away)
      window.removeEventListener('drop', drop)
      input?.removeEventListener('change', chosen)
    }
  }, [deckwright, keep, start])

  const said = arrived ? saidOf(arrived) : ''
  return (
    <Choose value={() => picker.current?.click()}>
      {children}
      <input
        ref={picker}
        type="file"
        multiple
        accept=".json,application/json,.svg,.dxf,.idf,.emn,.brd,.gbr,.gm1,.gko,.drl,.xln,.txt"
        hidden
        aria-label={words.start.fileToOpen}
      />
      <p className={said ? 'arrived' : 'unseen'} role="status">
        {said}{' '}
        {said !== '' && (
          <button type="button" className="in-line" onClick={() => setArrived(undefined)}>
            {words.keep.putAside}
          </button>
        )}
      </p>
      {bringing && (
        <Suspense fallback={<p className="unseen">{words.making.readersComing}</p>}>
          <BringIn
            first={bringing.as}
            files={bringing.sources}
            note={leftOf(arrived)}
            onClose={() => setBringing(undefined)}
          />
        </Suspense>
      )}
      {over && (
        <div className="drop-here" aria-hidden="true">
          <p>{words.keep.dropHere}</p>
        </div>
      )}
    </Choose>
  )
}
