/** What is kept in this browser, newest first. */
import { useState } from 'react'
import type { Work } from '../store/keep-shelf.ts'
import { words } from '../words/index.ts'
import { useAround, useKeep } from './around.ts'
import { download } from './download.ts'
import { titleAndStory } from './head-name.tsx'
import { useNow } from './notices.tsx'

const say = words.keep
/** As many as are looked through at a glance. */
const FEW = 4

function Row({ work, here, now }: { work: Work; here: boolean; now: number }) {
  const { keep, start } = useAround()
  const [title] = titleAndStory(work.name)
  const saveIt = async (): Promise<void> => {
    const kept = await keep.textOf(work.id)
    if (kept) download(kept.file, kept.text, 'application/json')
  }
  return (
    <li>
      <button
        type="button"
        className="work"
        aria-label={say.work(title, work.at, now)}
        onClick={() => (here ? start.leave() : void keep.openWork(work.id))}
      >
        <b>{title}</b>
        <span>{say.when(work.at, now)}</span>
      </button>
      <button
        type="button"
        className="in-line"
        aria-label={say.asFile(title, work.at, now)}
        onClick={() => void saveIt()}
      >
        {say.asFileShort}
      </button>
      {!here && (
        <button
          type="button"
          className="in-line"
          aria-label={say.throwAway(title, work.at, now)}
          onClick={() => void keep.throwAway(work.id)}
        >
          {say.throwAwayShort}
        </button>
      )}
    </li>
  )
}

export function StartWorks() {
  const { keep } = useAround()
  const works = useKeep((s) => s.works)
  const here = useKeep((s) => s.here)
  const thrown = useKeep((s) => s.thrown)
  const now = useNow()
  const [all, setAll] = useState(false)
  if (works.length === 0 && !thrown) return null
  const listed = all ? works : works.slice(0, FEW)
  return (
    <section className="works" aria-labelledby="start-works">
      <h2 id="start-works">{say.works}</h2>
      <ul>
        {listed.map((work) => (
          <Row key={work.id} work={work} here={work.id === here} now={Math.max(now, work.at)} />
        ))}
      </ul>
      {works.length > listed.length && (
        <button type="button" className="in-line" onClick={() => setAll(true)}>
          {say.more(works.length - listed.length)}
        </button>
      )}
      {thrown && (
        <p role="status">
          {say.thrown(titleAndStory(thrown.name)[0])}{' '}
          <button type="button" className="in-line" onClick={() => void keep.putBack()}>
            {say.putBack}
          </button>
        </p>
      )}
    </section>
  )
}
