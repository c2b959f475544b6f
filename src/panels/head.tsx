/** The name of the document, and what can be done with all of it. */
import { useRef, useState } from 'react'
import { download } from './download.ts'
import { useActions, useDeck } from './use.ts'

function NewDeck({ onClose }: { onClose: () => void }) {
  const actions = useActions()
  const [width, setWidth] = useState('160')
  const [depth, setDepth] = useState('120')
  const sizes = [Number(width), Number(depth)]
  const wrong = sizes.some((size) => !(size >= 20 && size <= 1000))
  return (
    <form
      className="new-deck"
      aria-label="New empty deck"
      onSubmit={(event) => {
        event.preventDefault()
        if (wrong) return
        actions.newDeck(sizes[0] ?? 160, sizes[1] ?? 120)
        onClose()
      }}
      onKeyDown={(event) => {
        if (event.key === 'Escape') onClose()
      }}
    >
      <label>
        Width, mm <input inputMode="decimal" value={width} onChange={(e) => setWidth(e.target.value)} />
      </label>
      <label>
        Depth, mm <input inputMode="decimal" value={depth} onChange={(e) => setDepth(e.target.value)} />
      </label>
      <button type="submit" disabled={wrong}>
        Make it
      </button>
      <button type="button" onClick={onClose}>
        Leave it
      </button>
      {wrong && <p role="alert">Both from 20 to 1000 mm.</p>}
    </form>
  )
}

export function Head() {
  const actions = useActions()
  const name = useDeck((s) => s.history.doc.project.name)
  const canUndo = useDeck((s) => s.history.past.length > 0 || s.carry !== undefined)
  const canRedo = useDeck((s) => s.history.future.length > 0)
  const picker = useRef<HTMLInputElement>(null)
  const [asking, setAsking] = useState(false)
  const [title, story] = name.split(/:\s+(.*)/s)
  return (
    <header className="head">
      <p className="maker">Deckwright</p>
      <h1>
        {title}
        {story && <small>{story}</small>}
      </h1>
      <div className="head-tools">
        <div className="group">
          <button type="button" onClick={actions.undo} disabled={!canUndo} title="Ctrl-Z">
            Undo
          </button>
          <button type="button" onClick={actions.redo} disabled={!canRedo} title="Ctrl-Shift-Z">
            Redo
          </button>
        </div>
        <div className="group">
          <button type="button" onClick={() => setAsking(!asking)} aria-expanded={asking}>
            New deck…
          </button>
          <button type="button" onClick={() => picker.current?.click()}>
            Open…
          </button>
          <button
            type="button"
            onClick={() => {
              const { file, text } = actions.save()
              download(file, text, 'application/json')
            }}
          >
            Save
          </button>
        </div>
        <input
          ref={picker}
          type="file"
          accept=".json,application/json"
          hidden
          aria-label="Project file to open"
          onChange={async (event) => {
            const input = event.currentTarget
            const file = input.files?.[0]
            if (!file) return
            actions.open(new Uint8Array(await file.arrayBuffer()), file.name)
            // The same file may be chosen again after it was mended.
            input.value = ''
          }}
        />
      </div>
      {asking && <NewDeck onClose={() => setAsking(false)} />}
    </header>
  )
}
