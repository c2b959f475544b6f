/** Files on the bench: chosen by a button or dropped; what came of them is said, and one step takes it back. */
import { type ReactNode, useState } from 'react'
import type { DrillAnswers } from '../bring-in/excellon-number.ts'
import type { ProjectDeck } from '../model/index.ts'
import type { Whole } from '../store/arrive-all.ts'
import { words } from '../words/index.ts'
import { NumbersQuestion } from './bring-numbers.tsx'
import type { Draft } from './footprint-draft.ts'
import { type Brought, footprintFrom } from './footprint-files.ts'
import { Refused } from './refused.tsx'
import { readEach } from './sources.ts'

const t = words.footprint

export function useBring(draft: Draft, deck: ProjectDeck | undefined) {
  const [brought, setBrought] = useState<Brought>()
  const [sources, setSources] = useState<readonly Whole[]>([])
  const [answers, setAnswers] = useState<DrillAnswers>({})
  const [unread, setUnread] = useState<readonly string[]>([])
  const read = async (whole: readonly Whole[], said: DrillAnswers): Promise<void> => {
    if (!deck) return
    const got = await footprintFrom(whole, draft.footprint, deck, said)
    setBrought(got)
    if (got.footprint) draft.put(got.footprint)
  }
  const take = async (files: Iterable<File>): Promise<void> => {
    const each = await readEach(files)
    const whole = each.flatMap(({ name, bytes }) => (bytes ? [{ name, bytes }] : []))
    setUnread(each.flatMap(({ name, bytes }) => (bytes ? [] : [name])))
    setSources(whole)
    setAnswers({})
    setBrought(undefined)
    if (whole.length > 0) await read(whole, {})
  }
  const answer = (said: DrillAnswers): void => {
    setAnswers(said)
    void read(sources, said)
  }
  return { take, said: <Said brought={brought} unread={unread} answers={answers} onAnswer={answer} /> }
}

const List = ({ children }: { children: readonly string[] }): ReactNode => (
  <ul>
    {children.slice(0, 40).map((text) => (
      <li key={text}>{text}</li>
    ))}
  </ul>
)

function Said({
  brought,
  unread,
  answers,
  onAnswer,
}: {
  brought: Brought | undefined
  unread: readonly string[]
  answers: DrillAnswers
  onAnswer: (answers: DrillAnswers) => void
}) {
  const { files = [], left = [], footprint, problems = [], lines = [] } = brought ?? {}
  const asks = brought?.asks ?? { units: false, zeros: false }
  return (
    <>
      <Refused>{unread.length > 0 && t.files.unread(unread)}</Refused>
      {brought && !footprint && (
        <div role="alert" className="field-wrong">
          <p>{t.refused(t.files.listed(files))}</p>
          <List>
            {problems.map((p) => t.files.problem(files.length > 1 ? p.file : '', p.path, p.found, p.expected))}
          </List>
        </div>
      )}
      {brought && <NumbersQuestion asks={asks} numbers={answers} onAnswer={onAnswer} />}
      {footprint && (
        <div role="status">
          <p>{t.files.taken(files)}</p>
          {lines.length > 0 && (
            <details>
              <summary>{t.files.remarks(lines.length)}</summary>
              <List>{lines}</List>
            </details>
          )}
        </div>
      )}
      {left.length > 0 && <p role="status">{t.files.left(left)}</p>}
    </>
  )
}
