/** The start view: the ways to a deck on the stage. The document that is there stays where it is meanwhile. */
import { useEffect, useRef } from 'react'
import { words } from '../words/index.ts'
import { useAround } from './around.ts'
import { titleAndStory } from './head-name.tsx'
import { useOpenFile } from './open-file.tsx'
import { StartDemos } from './start-demos.tsx'
import { StartNew } from './start-new.tsx'
import { StartWorks } from './start-works.tsx'
import { useDeck } from './use.ts'
import './start.css'

const say = words.start

export function StartView() {
  const { start, keep } = useAround()
  const openFile = useOpenFile()
  const name = useDeck((s) => s.history.doc.project.name)
  // Before anything was opened there is nothing to go back to.
  const any = useDeck((s) => s.opened > 0 || s.history.past.length > 0)
  const title = useRef<HTMLHeadingElement>(null)
  useEffect(() => {
    title.current?.focus()
    document.title = words.head.maker
    void keep.flush().then(keep.look)
  }, [keep])
  return (
    <div className="start">
      <header className="start-head">
        <p className="maker">{words.head.maker}</p>
        {any && (
          <button type="button" onClick={start.leave}>
            {say.back(titleAndStory(name)[0])}
          </button>
        )}
      </header>
      <main>
        <h1 ref={title} tabIndex={-1}>
          {say.title}
        </h1>
        <p className="promise">{say.promise}</p>
        <div className="ways">
          <section aria-labelledby="start-new">
            <h2 id="start-new">{say.newTitle}</h2>
            <StartNew />
          </section>
          <section aria-labelledby="start-open">
            <h2 id="start-open">{say.openTitle}</h2>
            <button type="button" onClick={openFile}>
              {say.open}
            </button>
            <p className="how">{say.openHow}</p>
          </section>
          <StartWorks />
        </div>
        <section className="demos" aria-labelledby="start-demos">
          <h2 id="start-demos">{say.demosTitle}</h2>
          <StartDemos />
        </section>
      </main>
    </div>
  )
}
