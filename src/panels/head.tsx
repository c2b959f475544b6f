/** The name of the document, whether it is kept, and what can be done with all of it. */
import { words } from '../words/index.ts'
import { useAround, useKeep } from './around.ts'
import { DeckDoor } from './deck-door.tsx'
import { HeadName } from './head-name.tsx'
import { useNow, useSaveFile } from './notices.tsx'
import { useActions, useDeck } from './use.ts'
import './head.css'

/** In words, since a sign for "saved" means something else to everybody. */
function Kept() {
  const keeping = useKeep((s) => s.keeping)
  const now = useNow()
  switch (keeping.kind) {
    case 'kept':
      return <p className="kept">{words.keep.kept(keeping.at, Math.max(now, keeping.at))}</p>
    case 'refused':
      return <p className="kept not">{words.keep.notKept(keeping.why)}</p>
    case 'elsewhere':
      return <p className="kept not">{words.keep.notKeptHere}</p>
    case 'nothing':
      return <p className="kept">{words.keep.nothing}</p>
  }
}

export function Head() {
  const actions = useActions()
  const { start } = useAround()
  const saveFile = useSaveFile()
  const name = useDeck((s) => s.history.doc.project.name)
  const canUndo = useDeck((s) => s.history.past.length > 0 || s.carry !== undefined)
  const canRedo = useDeck((s) => s.history.future.length > 0)
  return (
    <header className="head">
      <p className="maker">{words.head.maker}</p>
      <HeadName name={name} />
      <Kept />
      <div className="head-tools">
        <div className="group">
          <button type="button" onClick={actions.undo} disabled={!canUndo} title={words.head.undoKeys}>
            {words.head.undo}
          </button>
          <button type="button" onClick={actions.redo} disabled={!canRedo} title={words.head.redoKeys}>
            {words.head.redo}
          </button>
        </div>
        <div className="group">
          <DeckDoor />
          <button type="button" onClick={start.show}>
            {words.head.start}
          </button>
          <button type="button" onClick={saveFile}>
            {words.head.save}
          </button>
        </div>
      </div>
    </header>
  )
}
