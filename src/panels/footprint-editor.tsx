/** The bench on which a part is described: fields at the left, the part in plan and in the round at the right. */
import { type KeyboardEvent, useEffect, useId, useRef, useState } from 'react'
import { loadLibrary } from '../../footprints/load.ts'
import type { FootprintFile } from '../../footprints/schema.ts'
import { footprintText, oddities, usersOf, withOwnFootprint } from '../model/edit-footprint.ts'
import { addPart, setItem } from '../model/edit-items.ts'
import type { Describing } from '../store/parts-desk.ts'
import { words } from '../words/index.ts'
import { download } from './download.ts'
import { TextField } from './entry-field.tsx'
import { useBring } from './footprint-bring.tsx'
import { inForm } from './footprint-called.ts'
import { Bench, useDraft, useSteps } from './footprint-draft.ts'
import { Count, Group, Mm, Pick, Text, Tick } from './footprint-fields.tsx'
import { Contacts, Terminals } from './footprint-more.tsx'
import { MountFields } from './footprint-mount.tsx'
import { Power } from './footprint-power.tsx'
import { Corridors } from './footprint-rooms.tsx'
import { Sight, Turning } from './footprint-sight.tsx'
import { PartViews } from './footprint-views.tsx'
import { Problems } from './item-fields.tsx'
import { useEdit } from './parts-edit.ts'
import { useParts } from './parts-use.ts'
import { dropped } from './sources.ts'
import { useDeck } from './use.ts'
import './footprint-editor.css'

const t = words.footprint
const KINDS = Object.keys(t.kinds) as (keyof typeof t.kinds)[]

function About({ from }: { from: string | undefined }) {
  const { footprint, set, wrong } = useDraft()
  const missing = wrong(['source'])
  return (
    <Group title={t.about}>
      <p className="quiet">{t.intro}</p>
      <div className="fields">
        <Text path={['name']} label={t.name} wide />
        <Text path={['id']} label={t.id} />
        <Pick path={['kind']} label={t.kind} options={KINDS.map((kind) => [kind, t.kinds[kind]] as const)} />
      </div>
      <div className="fields">
        <span className="bench-field wide">
          <TextField
            label={t.source}
            wide
            value={footprint.source ?? ''}
            onChange={(text) => set(['source'], text === '' ? undefined : text)}
          />
          {missing && <span className="field-wrong">{missing}</span>}
        </span>
        <button type="button" onClick={() => set(['source'], t.byHand)}>
          {t.offerByHand}
        </button>
        {from !== undefined && (
          <button type="button" onClick={() => set(['source'], from)}>
            {t.offerSame}
          </button>
        )}
      </div>
      <p className="quiet">{t.sourceWhy}</p>
    </Group>
  )
}

function Body() {
  const { footprint, set } = useDraft()
  return (
    <Group title={t.body}>
      <div className="fields">
        <Mm path={['body', 'width']} label={t.width} least={0.001} />
        <Mm path={['body', 'depth']} label={t.depth} least={0.001} />
        <Mm path={['body', 'height']} label={t.height} least={0.001} />
        <Count path={['mass']} label={t.mass} idle={0} least={0} most={1e6} />
        {footprint.above !== 'open' && (
          <Mm path={['above']} label={t.above} least={0} idle={footprint.breadboard ? 25 : 0} />
        )}
      </div>
      <Tick label={t.open} on={footprint.above === 'open'} onChange={(on) => set(['above'], on ? 'open' : undefined)} />
    </Group>
  )
}

function Oddities({ footprint }: { footprint: FootprintFile }) {
  const all = oddities(footprint)
  if (all.length === 0) return null
  return (
    <div className="bench-odd" role="status">
      <b>{t.odd}</b>
      <ul>
        {all.slice(0, 8).map((o) => (
          <li key={JSON.stringify(o)}>
            {o.kind === 'outside'
              ? t.oddity.outside(o.what, o.id)
              : o.kind === 'off-pitch'
                ? t.oddity['off-pitch'](o.pin)
                : t.oddity['no-holes']}
          </li>
        ))}
      </ul>
    </div>
  )
}

/** Fields by which a part is called; the part can be drawn without them. */
const NAMES = ['source', 'id', 'name']

export default function FootprintEditor({ describing }: { describing: Describing }) {
  const desk = useParts()
  const dialog = useRef<HTMLDialogElement>(null)
  const picker = useRef<HTMLInputElement>(null)
  const title = useId()
  const project = useDeck((s) => s.history.doc.project)
  const draft = useSteps(describing.draft, desk.drafts)
  const { footprint, problems } = draft
  const { edit, problems: refused } = useEdit()
  const { take, said } = useBring(draft, project.decks[0])
  useEffect(() => {
    const box = dialog.current
    if (!box || box.open) return
    box.showModal()
    // The title, so that it is read from there; the first button would be the one for files.
    box.querySelector('h2')?.focus()
  }, [])
  // What cannot be drawn leaves the last picture that could.
  const drawable = problems.every((p) => NAMES.includes(p.path))
  const [drawn, setDrawn] = useState(drawable ? footprint : describing.draft)
  if (drawable && drawn !== footprint) setDrawn(footprint)
  const close = (): void => dialog.current?.close()
  /** A number that could not be taken is put right before the part goes anywhere. */
  const halfTyped = (): boolean => {
    const wrong = dialog.current?.querySelector<HTMLElement>('[aria-invalid="true"]')
    wrong?.focus()
    return wrong !== null && wrong !== undefined
  }
  const keep = (how: 'keep' | 'add' | 'use'): void => {
    if (halfTyped()) return
    const wrong = edit((p, variant) => {
      const next = withOwnFootprint(p, footprint)
      if (how === 'add') return addPart(next, footprint.id).project
      const { item } = describing
      return how === 'use' && item !== undefined ? setItem(next, variant, item, { footprint: footprint.id }) : next
    })
    if (wrong !== undefined) return
    draft.done()
    desk.say(t.saved(footprint.id))
    close()
  }
  const press = (event: KeyboardEvent): void => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey || event.key.toLowerCase() !== 'z') return
    if ((event.target as HTMLElement).dataset.typed) return
    event.preventDefault()
    event.stopPropagation()
    if (event.shiftKey) draft.redo?.()
    else draft.undo?.()
  }
  const known = project.footprints?.some((f) => f.id === footprint.id)
  const unsound = problems.length > 0
  return (
    <dialog
      ref={dialog}
      className="workshop footprint-bench"
      aria-labelledby={title}
      onClose={() => {
        if (desk.drafts.recall(describing.draft)) desk.say(t.aside(draft.kept))
        desk.close('describing')
      }}
      onKeyDown={press}
      {...dropped((files) => void take(files))}
    >
      <header>
        <h2 id={title} tabIndex={-1}>
          {t.title}
        </h2>
        <div className="group">
          <button type="button" disabled={!draft.undo} onClick={draft.undo}>
            {t.undo}
          </button>
          <button type="button" disabled={!draft.redo} onClick={draft.redo}>
            {t.redo}
          </button>
          <button type="button" title={t.bringHow} onClick={() => picker.current?.click()}>
            {t.bring}
          </button>
          <button type="button" onClick={close}>
            {t.close}
          </button>
        </div>
        <input
          ref={picker}
          type="file"
          multiple
          hidden
          aria-label={t.bring}
          onChange={(event) => {
            const input = event.currentTarget
            // The same file may be chosen again after it was mended.
            void take([...(input.files ?? [])]).finally(() => {
              input.value = ''
            })
          }}
        />
      </header>
      {draft.back !== undefined && (
        <div role="status" className="group">
          <span>{t.back(words.keep.ago(draft.back, Date.now()))}</span>
          <button type="button" onClick={draft.anew}>
            {t.anew}
          </button>
        </div>
      )}
      {!draft.kept && <p role="alert">{t.notKept}</p>}
      {said}
      <Bench value={draft}>
        <div className="bench-halves">
          <div className="bench-fields">
            <About from={describing.from} />
            <Body />
            <MountFields />
            <Terminals />
            <Corridors />
            <Contacts />
            <Turning />
            <Sight />
            <Power />
          </div>
          {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard (WCAG 2.1.1) */}
          <section className="bench-side" tabIndex={0} aria-label={t.seen}>
            <PartViews footprint={drawn} />
            {unsound && (
              <div className="bench-missing" role="status">
                <b>{t.missing}</b>
                <ul>
                  {problems.slice(0, 8).map((p) => {
                    const { field, found, expected } = inForm(footprint, p)
                    return <li key={`${p.path} ${p.found}`}>{t.refusedAt(field, found, expected)}</li>
                  })}
                </ul>
              </div>
            )}
            {drawable && <Oddities footprint={footprint} />}
            {known ? (
              <p className="quiet">{t.replaces(usersOf(project, footprint.id))}</p>
            ) : (
              loadLibrary().has(footprint.id) && <p className="quiet">{t.shadows}</p>
            )}
            <Problems all={refused} />
            <div className="group">
              {describing.item !== undefined && (
                <button type="button" disabled={unsound} onClick={() => keep('use')}>
                  {t.saveUse(describing.item)}
                </button>
              )}
              <button type="button" disabled={unsound} onClick={() => keep('keep')}>
                {t.save}
              </button>
              {describing.item === undefined && (
                <button type="button" disabled={unsound} onClick={() => keep('add')}>
                  {t.saveAdd}
                </button>
              )}
              <button
                type="button"
                disabled={unsound}
                onClick={() => {
                  if (!halfTyped()) download(`${footprint.id}.json`, footprintText(footprint), 'application/json')
                }}
              >
                {t.file}
              </button>
            </div>
            <p className="cautions" role="note" aria-label={t.caution}>
              {t.cautions}
            </p>
          </section>
        </div>
      </Bench>
    </dialog>
  )
}
