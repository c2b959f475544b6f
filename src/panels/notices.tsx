/** What must be said at once, over all else: a file that was not opened, work that is not kept, other tabs, newer versions. */
import { type ReactNode, type RefObject, useEffect, useRef, useState } from 'react'
import { useStore } from 'zustand'
import { UNKNOWN } from '../../footprints/problems.ts'
import type { FileProblem } from '../model/index.ts'
import { PAGE } from '../model/underlay.ts'
import type { Broken } from '../store/store.ts'
import { words } from '../words/index.ts'
import { useAround, useKeep, useStart } from './around.ts'
import { download } from './download.ts'
import { useActions, useDeck, useDeckwright } from './use.ts'

const MOST = 50

const say = words.keep

/** The time, so that "2 min ago" does not stand still. */
export function useNow(): number {
  const [now, setNow] = useState(Date.now)
  useEffect(() => {
    const tick = setInterval(() => setNow(Date.now()), 20_000)
    return () => clearInterval(tick)
  }, [])
  return now
}

export function useSaveFile(): () => void {
  const { actions } = useDeckwright()
  return () => {
    const { file, text } = actions.save()
    download(file, text, 'application/json')
  }
}

const placeOf = ({ path, line }: FileProblem): string => (line === undefined ? path : words.start.line(path, line))

/** Of the part of a file that is the page’s own. */
const ofPage = (path: string): boolean => path === PAGE || path.startsWith(`${PAGE}.`)

const filesOf = (problems: readonly FileProblem[]): string[] => [...new Set(problems.map((p) => p.file))]

/** `many`: of several files, so that each says of which. */
function Problems({ problems, many }: { problems: readonly FileProblem[]; many: boolean }) {
  return (
    <>
      <ul>
        {problems.slice(0, MOST).map((p) => {
          const at = placeOf(p)
          const { place, rest } = words.start.problem(many ? words.start.inOne(p.file, at) : at, p.found, p.expected)
          return (
            <li key={`${p.file} ${p.path} ${p.line} ${p.found} ${p.expected}`}>
              <b>{place}</b> {rest}
            </li>
          )
        })}
      </ul>
      {problems.length > MOST && <p>{words.start.more(problems.length - MOST)}</p>}
    </>
  )
}

const KIND: Readonly<Record<NonNullable<Broken['kind']>, string>> = {
  layout: words.start.layoutElsewhere,
  unreadable: words.start.unreadable,
  nothing: words.start.nothing,
  picture: words.start.picture,
  other: words.start.other,
}

/** Whoever drops a file far down the page sees at once what is said of it, and comes back to where they were once it is put aside. */
function useSeen(notice: RefObject<HTMLElement | null>, broken: unknown, notices: unknown): () => void {
  /** px from the page's end, which is as far away with the notice as without. */
  const left = useRef<number>(undefined)
  // biome-ignore lint/correctness/useExhaustiveDependencies: to be seen anew with whatever is said anew
  useEffect(() => {
    const top = notice.current?.getBoundingClientRect().top
    if (top === undefined || (top >= 0 && top < window.innerHeight / 2)) return
    left.current ??= document.documentElement.scrollHeight - window.scrollY
    notice.current?.scrollIntoView({ block: 'start' })
  }, [broken, notices])
  return () => {
    const from = left.current
    left.current = undefined
    if (from === undefined) return
    // once it is gone, and the page has its own height again
    requestAnimationFrame(() => window.scrollTo(window.scrollX, document.documentElement.scrollHeight - from))
  }
}

function FileNotice() {
  const broken = useDeck((s) => s.broken)
  const notices = useDeck((s) => s.notices)
  const { dismiss } = useActions()
  const notice = useRef<HTMLElement>(null)
  const back = useSeen(notice, broken, notices)
  if (!broken && notices.length === 0) return null
  const several = filesOf([...(broken?.problems ?? []), ...(broken?.strange ?? [])]).length > 1
  const strange = (broken?.strange ?? []).filter((p) => p.found === UNKNOWN)
  return (
    <section ref={notice} className="notice warn" role="alert">
      {broken && (
        <>
          <h2>{words.start.notOpened(broken.file, several)}</h2>
          <p>
            {broken.kind && `${KIND[broken.kind]} `}
            {words.start.asItWas}
          </p>
          {broken.problems.length > 0 && (
            <>
              <p>{several ? words.start.inFiles : words.start.inTheFile}</p>
              <Problems problems={broken.problems} many={several} />
            </>
          )}
          {strange.length > 0 && (
            <>
              <p>{words.start.strangeToo}</p>
              <Problems problems={strange} many={several} />
            </>
          )}
        </>
      )}
      {notices.length > 0 && (
        <>
          <h2>{words.start.strange(filesOf(notices))}</h2>
          <Problems problems={notices} many={filesOf(notices).length > 1} />
          {notices.some(({ path }) => ofPage(path)) && <p>{words.start.passedOver(PAGE)}</p>}
        </>
      )}
      <div className="group">
        <button
          type="button"
          onClick={() => {
            dismiss()
            back()
          }}
        >
          {say.putAside}
        </button>
      </div>
    </section>
  )
}

function Notice({ title, text, children }: { title: string; text: string; children: ReactNode }) {
  return (
    <section className="notice warn" role="alert">
      <h2>{title}</h2>
      <p>{text}</p>
      <div className="group">{children}</div>
    </section>
  )
}

function KeepNotice() {
  const { keep } = useAround()
  const starting = useStart((s) => s.open)
  const keeping = useKeep((s) => s.keeping)
  const lost = useKeep((s) => s.lost)
  const saveFile = useSaveFile()
  return (
    <>
      {keeping.kind === 'refused' && (
        <Notice title={say.refusedTitle} text={say.refused(keeping.why)}>
          <button type="button" onClick={saveFile}>
            {say.saveFile}
          </button>
          <button type="button" onClick={() => void keep.flush()}>
            {say.tryAgain}
          </button>
        </Notice>
      )}
      {keeping.kind === 'elsewhere' && !starting && (
        <Notice
          title={keeping.taken ? say.takenTitle : say.elsewhereTitle}
          text={`${keeping.taken ? say.taken : say.elsewhere} ${say.workHereHow}`}
        >
          <button type="button" onClick={() => void keep.workHere()}>
            {say.workHere}
          </button>
          <button type="button" onClick={() => void keep.openCopy()}>
            {say.openCopy}
          </button>
        </Notice>
      )}
      {lost && (
        <Notice title={say.lostTitle(lost.name)} text={say.lost}>
          <button type="button" onClick={() => download(lost.file, lost.text, 'application/json')}>
            {say.saveFile}
          </button>
          <button type="button" onClick={keep.putAside}>
            {say.putAside}
          </button>
        </Notice>
      )}
    </>
  )
}

/** Lines that are good to know, and in nobody's way. */
function Lines() {
  const { keep, start, renewal } = useAround()
  const starting = useStart((s) => s.open)
  const restored = useKeep((s) => (s.keeping.kind === 'elsewhere' ? undefined : s.restored))
  const also = useKeep((s) => s.also)
  const apart = useKeep((s) => s.apart)
  const name = useDeck((s) => s.history.doc.project.name.split(':')[0] ?? '')
  const renewed = useStore(renewal, (s) => s.renewed)
  const now = useNow()
  return (
    <div className="lines" role="status">
      {restored !== undefined && !starting && (
        <p>
          {say.restored(name, restored, now)}{' '}
          <button type="button" className="in-line" onClick={start.show}>
            {say.toStart}
          </button>{' '}
          <button type="button" className="in-line" onClick={keep.putAside}>
            {say.putAside}
          </button>
        </p>
      )}
      {apart && <p>{say.apart}</p>}
      {also && !starting && <p>{say.also}</p>}
      {renewed && (
        <p>
          {say.renewed}{' '}
          <button
            type="button"
            className="in-line"
            onClick={() => void keep.flush().then(() => window.location.reload())}
          >
            {say.loadNow}
          </button>
        </p>
      )}
    </div>
  )
}

export function Notices() {
  return (
    <div className="notices">
      <FileNotice />
      <KeepNotice />
      <Lines />
    </div>
  )
}
