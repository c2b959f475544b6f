/** Files come in here: chosen from a button anywhere on the page, or dropped anywhere on it. */
import { createContext, type ReactNode, useContext, useEffect, useRef, useState } from 'react'
import { type Arrived, arrive } from '../store/arrive.ts'
import { words } from '../words/index.ts'
import { useAround } from './around.ts'
import { useDeckwright } from './use.ts'

const Choose = createContext<() => void>(() => {})

/** Asks for a file, as a button does. */
export const useOpenFile = (): (() => void) => useContext(Choose)

const hasFiles = (event: DragEvent): boolean => event.dataTransfer?.types.includes('Files') ?? false
/** Dialogs take their own drops. */
const elsewhere = (event: DragEvent): boolean =>
  event.defaultPrevented || (event.target instanceof Element && event.target.closest('dialog') !== null)

export function OpenFile({ children }: { children: ReactNode }) {
  const deckwright = useDeckwright()
  const { start } = useAround()
  const picker = useRef<HTMLInputElement>(null)
  const [over, setOver] = useState(false)
  const [arrived, setArrived] = useState<Arrived>()

  useEffect(() => {
    // The browser would otherwise leave the page for the file that is dropped.
    const drag = (event: DragEvent): void => {
      if (!hasFiles(event) || elsewhere(event)) return
      event.preventDefault()
      setOver(true)
    }
    const away = (event: DragEvent): void => {
      if (event.relatedTarget === null) setOver(false)
    }
    const drop = (event: DragEvent): void => {
      setOver(false)
      if (!hasFiles(event) || elsewhere(event)) return
      event.preventDefault()
      const file = event.dataTransfer?.files[0]
      if (file) void take(file)
    }
    const take = async (file: File): Promise<void> => {
      const what = arrive(deckwright, new Uint8Array(await file.arrayBuffer()), file.name)
      setArrived(what)
      if (what.kind !== 'refused') start.leave()
    }
    const input = picker.current
    const chosen = async (): Promise<void> => {
      const file = input?.files?.[0]
      if (!input || !file) return
      await take(file)
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
  }, [deckwright, start])

  const said =
    arrived?.kind === 'part' ? words.start.partTaken(arrived.name) : arrived?.kind === 'laid' ? words.start.laid : ''
  return (
    <Choose value={() => picker.current?.click()}>
      {children}
      <input ref={picker} type="file" accept=".json,application/json" hidden aria-label={words.start.fileToOpen} />
      <p className={said ? 'arrived' : 'unseen'} role="status">
        {said}
      </p>
      {over && (
        <div className="drop-here" aria-hidden="true">
          <p>{words.keep.dropHere}</p>
        </div>
      )}
    </Choose>
  )
}
