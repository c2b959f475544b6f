/** The export sheet: what leaves for the workshop, with a preview of every file as it will be written. */
import { useCallback, useEffect, useId, useMemo, useRef, useState } from 'react'
import { assemblyCautions } from '../export/assembly-cautions.ts'
import { cautions } from '../export/cautions.ts'
import { checkListOf } from '../inspect/check-list.ts'
import { keepShop, recallShop, SHOP, type Shop } from '../store/export-settings.ts'
import { wiringFor } from '../store/leads.ts'
import { isBuilt } from '../store/making.ts'
import { shelf } from '../store/shelf.ts'
import { shown } from '../store/store.ts'
import type { View } from '../store/view.ts'
import { words } from '../words/index.ts'
import { download } from './download.ts'
import { type Asked, KINDS, type Kind, type Made, standing } from './export-files.ts'
import { createWriters, openThread } from './export-line.ts'
import { type Once, Options } from './export-options.tsx'
import { Preview } from './export-preview.tsx'
import { Refused } from './refused.tsx'
import { useReport } from './report-use.ts'
import { useDeck } from './use.ts'

const text = words.files

type Outcome =
  | { readonly kind: 'files'; readonly of: Kind; readonly files: readonly Made[] }
  | { readonly kind: 'failed'; readonly why: string }

/** The files of what is asked for; while others are being made, `busy` and those from before. */
function useFiles(kind: Kind, asked: Asked, ready: boolean): { outcome: Outcome | undefined; busy: boolean } {
  const [done, setDone] = useState<{ asked: Asked; kind: Kind; outcome: Outcome }>()
  const [writers] = useState(() => createWriters(openThread))
  useEffect(() => writers.end, [writers])
  useEffect(() => {
    if (!ready) return
    let gone = false
    // Whoever types a number, or looks through the kinds, does not want the files of everything in between.
    const timer = setTimeout(() => {
      writers.make(kind, asked).then(
        (files) => gone || setDone({ asked, kind, outcome: { kind: 'files', of: kind, files } }),
        (error: unknown) =>
          gone ||
          setDone({
            asked,
            kind,
            outcome: { kind: 'failed', why: error instanceof Error ? error.message : String(error) },
          }),
      )
    }, 120)
    return () => {
      gone = true
      clearTimeout(timer)
    }
  }, [kind, asked, ready, writers])
  return { outcome: done?.outcome, busy: done?.asked !== asked || done.kind !== kind }
}

export default function ExportSheet({
  view,
  why,
  onClose,
}: {
  view: View
  why: string | undefined
  onClose: () => void
}) {
  const file = useDeck((s) => s.history.doc.file)
  const state = useDeck((s) => s)
  const dialog = useRef<HTMLDialogElement>(null)
  const title = useId()
  const [kind, setKind] = useState<Kind>('svg')
  const [shop, setShop] = useState<Shop>(() => recallShop(shelf()))
  const [kept, setKept] = useState(true)
  const [once, setOnce] = useState<Once>({
    asMade: isBuilt(view.problem),
    parts: ['template', 'assembly', 'before-power', 'dummies'],
    look: 'light',
  })
  const [wrong, setWrong] = useState<readonly string[]>([])
  const onWrong = useCallback(
    (field: string, is: boolean): void =>
      setWrong((old) => [...old.filter((f) => f !== field), ...(is ? [field] : [])]),
    [],
  )
  const change = (next: Shop): void => {
    setShop(next)
    setKept(keepShop(shelf(), next))
  }
  useEffect(() => {
    const box = dialog.current
    if (box && !box.open) box.showModal()
  }, [])
  const { problem, placements, sheet } = view
  const { known, trials, history } = state
  // Of another layout, however little other, it would say what does not hold.
  const report = useReport((s) =>
    s.of?.problem === problem && s.of.placements === placements && !s.looking ? s.report : undefined,
  )
  const checkList = useMemo(() => report && checkListOf(report), [report])
  const listed = kind === 'pdf' ? checkList : undefined
  // biome-ignore lint/correctness/useExhaustiveDependencies: of the state only what layouts are shown by; of the view what is drawn
  const asked = useMemo((): Asked => {
    const others = history.doc.sheets
      .filter((s) => s.variant !== sheet.variant)
      .map((s) => ({ id: s.variant, problem: s.problem, placements: shown(state, s) }))
      .filter((other) => other.placements.length > 0)
    const variants = [sheet.variant, ...others.map((o) => o.id)]
    const wiring = new Map(variants.map((v) => [v, wiringFor(history.doc.project, v)]))
    return { view, file, shop, others, wiring, ...once, ...(listed ? { checkList: listed } : {}) }
  }, [problem, placements, sheet.variant, file, shop, once, known, trials, history.doc, listed])
  const { outcome, busy } = useFiles(kind, asked, why === undefined)
  const files = outcome?.kind === 'files' && outcome.of === kind ? outcome.files : []
  return (
    <dialog ref={dialog} className="workshop export-sheet" aria-labelledby={title} onClose={onClose}>
      <header>
        <h2 id={title}>{text.title(sheet.variant)}</h2>
        <button type="button" onClick={() => dialog.current?.close()}>
          {text.close}
        </button>
      </header>
      <Refused look="">{why}</Refused>
      <fieldset className="kinds">
        <legend className="unseen">{text.what}</legend>
        {KINDS.map((k) => (
          <label key={k}>
            <input type="radio" name="kind" checked={k === kind} onChange={() => setKind(k)} />
            <span>
              <b>{text.kind[k].name}</b> {text.kind[k].use}
            </span>
          </label>
        ))}
      </fieldset>
      <div className={`workshop-body ${kind === 'tables' ? 'whole' : ''}`}>
        <div className="previews" aria-busy={busy}>
          <p className={wrong.length > 0 && !why ? 'quiet' : 'unseen'} aria-live="polite">
            {standing({ asked: why === undefined, wrong: wrong.length, busy, files: files.length })}
          </p>
          {files.length === 0 && busy && !why && <p>{text.coming}</p>}
          <Refused>{outcome?.kind === 'failed' && !busy && text.refused(outcome.why)}</Refused>
          {!busy && outcome?.kind === 'files' && files.length === 0 && <p>{text.nothing}</p>}
          {!why &&
            files.map((made) => (
              <article key={made.name} aria-label={made.title}>
                <div className="file-line">
                  <h3>{made.title}</h3>
                  <button
                    type="button"
                    disabled={busy || wrong.length > 0}
                    onClick={() => download(made.name, made.data, made.type)}
                  >
                    {text.download(made.name)}
                  </button>
                </div>
                <Preview made={made} />
              </article>
            ))}
        </div>
        <div className="beside">
          <Options
            kind={kind}
            decks={problem.decks.length}
            shop={shop}
            once={once}
            onShop={change}
            onOnce={setOnce}
            onWrong={onWrong}
          />
          {kind === 'pdf' && once.parts.includes('before-power') && !report && (
            <p className="quiet">{text.listComing}</p>
          )}
          {(kind === 'svg' || kind === 'dxf' || kind === 'pdf') && (
            <p className="quiet">
              {kept ? text.remembered : text.notRemembered}{' '}
              <button type="button" className="small" onClick={() => change(SHOP)} disabled={shop === SHOP}>
                {text.anew}
              </button>
            </p>
          )}
          <Cautions kind={kind} />
        </div>
      </div>
    </dialog>
  )
}

/** Files for the plate carry the plate's cautions; what the robot is put together from, all of them. */
function Cautions({ kind }: { kind: Kind }) {
  const whole = kind === 'pdf' || kind === 'tables'
  const groups = whole ? assemblyCautions : [{ work: text.before, cautions }]
  return groups.map((group) => (
    <div key={group.work}>
      <h3>{group.work}</h3>
      <ul className="cautions">
        {group.cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </div>
  ))
}
