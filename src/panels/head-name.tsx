/** The name of the document, and how it is given another one. */
import { useEffect, useRef, useState } from 'react'
import type { EditProblem } from '../model/index.ts'
import { words } from '../words/index.ts'
import { Refused } from './refused.tsx'
import { useDeckwright } from './use.ts'

/** A name like `Mole: digs tunnels` is a title and a story. */
export const titleAndStory = (name: string): readonly [title: string, story: string] => {
  const [title = name, story = ''] = name.split(/:\s+(.*)/s)
  return [title, story]
}

function Rename({ name, onDone }: { name: string; onDone: () => void }) {
  const { actions, store } = useDeckwright()
  const [text, setText] = useState(name)
  const [wrong, setWrong] = useState<EditProblem>()
  const field = useRef<HTMLInputElement>(null)
  useEffect(() => field.current?.select(), [])
  return (
    <form
      className="rename"
      onSubmit={(event) => {
        event.preventDefault()
        const { project } = store.getState().history.doc
        const [problem] = text === project.name ? [] : actions.change({ ...project, name: text })
        if (problem) setWrong(problem)
        else onDone()
      }}
      onKeyDown={(event) => {
        if (event.key === 'Escape') onDone()
      }}
    >
      <label>
        <span className="unseen">{words.head.nameLabel}</span>
        <input
          ref={field}
          value={text}
          aria-invalid={wrong !== undefined}
          onChange={(event) => setText(event.target.value)}
        />
      </label>
      <button type="submit">{words.head.nameKeep}</button>
      <button type="button" onClick={onDone}>
        {words.head.nameLeave}
      </button>
      <Refused look="">{wrong && words.head.nameWrong(wrong.found, wrong.expected)}</Refused>
    </form>
  )
}

export function HeadName({ name }: { name: string }) {
  const [asking, setAsking] = useState(false)
  const asks = useRef<HTMLButtonElement>(null)
  const [title, story] = titleAndStory(name)
  useEffect(() => {
    document.title = words.head.pageTitle(title)
  }, [title])
  if (asking)
    return (
      <Rename
        name={name}
        onDone={() => {
          setAsking(false)
          // The field that had the focus is gone.
          requestAnimationFrame(() => asks.current?.focus())
        }}
      />
    )
  return (
    <div className="name">
      <h1 id="page-title" tabIndex={-1}>
        {title}
        {story && <small>{story}</small>}
      </h1>
      <button
        ref={asks}
        type="button"
        className="in-line"
        aria-label={words.head.renameLong}
        onClick={() => setAsking(true)}
      >
        {words.head.rename}
      </button>
    </div>
  )
}
