/** The line on which a part is searched, where the pointer or the focus is, with what it finds as small plans to one scale. */
import { useEffect, useId, useLayoutEffect, useMemo, useRef, useState } from 'react'
import { loadLibrary } from '../../footprints/load.ts'
import { type FootprintFile, footprintToSolver } from '../../footprints/schema.ts'
import { um } from '../../solver/index.ts'
import { copyOfFootprint, emptyFootprint, freeFootprintId } from '../model/edit-footprint.ts'
import { addPart, setItem } from '../model/edit-items.ts'
import { contactsOf, findFootprints, holesOf } from '../model/find-footprint.ts'
import { saysSize } from '../store/part-size.ts'
import { insideWindow, type Search } from '../store/parts-desk.ts'
import { roomNear } from '../store/room-near.ts'
import { words } from '../words/index.ts'
import { useEdit, useFootprints } from './parts-edit.ts'
import { PartPicture } from './parts-picture.tsx'
import { useParts } from './parts-use.ts'
import { Refused } from './refused.tsx'
import { useActions, useDeck, useDeckwright } from './use.ts'

/** Pixels for one millimetre in all the small plans, so that they can be compared. */
const SCALE = 0.72

const facts = (f: FootprintFile): string =>
  words.parts.facts({
    size: saysSize(f.name, f.body.width, f.body.depth)
      ? words.parts.high(f.body.height)
      : words.parts.size(f.body.width, f.body.depth, f.body.height),
    contacts: contactsOf(f),
    pins: f.plug?.pins.length ?? 0,
    holes: holesOf(f),
    terminals: f.terminals?.length ?? 0,
    mass: f.mass ?? 0,
  })

/** Adds the part, and says what that came to. */
function useAdd(search: Search) {
  const { edit } = useEdit()
  const actions = useActions()
  const { store } = useDeckwright()
  const desk = useParts()
  return (footprint: string): string | undefined => {
    const { swap, at } = search
    if (swap !== undefined) {
      const refused = edit((project, variant) => setItem(project, variant, swap, { footprint }))
      return refused
    }
    const { history, active } = store.getState()
    const made = addPart(history.doc.project, footprint)
    const sheet = history.doc.sheets[active]
    // A layout of one's own stays as far as it can; the solver's best is looked for anew with one part more.
    const kept = sheet?.placements !== undefined
    let near = false
    const refused = edit(
      () => made.project,
      {
        put: (problem, placements) => {
          if (!at) return undefined
          const item = problem.items.findIndex((i) => i.id === made.id)
          const room = roomNear(problem, placements, item, at.deck, { x: um(at.x), y: um(at.y) })
          near = room !== undefined
          return room
        },
      },
      at || kept ? undefined : 'anew',
    )
    if (refused !== undefined) return refused
    desk.say(words.parts.added[near ? 'near' : at || kept ? 'kept' : 'best'](made.id))
    // The focus goes back first, and whatever has it is selected by that.
    queueMicrotask(() => actions.select(made.id))
    return undefined
  }
}

export default function PartsSearch({ search }: { search: Search }) {
  const desk = useParts()
  const footprints = useFootprints()
  const project = useDeck((s) => s.history.doc.project)
  const add = useAdd(search)
  const [question, setQuestion] = useState('')
  const [chosen, setChosen] = useState(0)
  const [refused, setRefused] = useState<string>()
  const dialog = useRef<HTMLDialogElement>(null)
  const list = useRef<HTMLDivElement>(null)
  const id = useId()
  const texts = words.parts.search
  const hits = useMemo(() => findFootprints(footprints.values(), question), [footprints, question])
  const hit = hits[Math.min(chosen, hits.length - 1)]?.footprint
  const own = useMemo(() => new Set((project.footprints ?? []).map((f) => f.id)), [project])
  useLayoutEffect(() => {
    const box = dialog.current
    if (!box) return
    if (!box.open) box.showModal()
    const { width, height } = box.getBoundingClientRect()
    box.style.left = `${insideWindow(search.x, width, innerWidth)}px`
    box.style.top = `${insideWindow(search.y, height, innerHeight)}px`
  }, [search])
  useEffect(() => {
    list.current?.querySelector(`[id="${CSS.escape(`${id}-${chosen}`)}"]`)?.scrollIntoView({ block: 'nearest' })
  }, [chosen, id])
  const take = (f: FootprintFile | undefined): void => {
    if (!f) return
    const wrong = add(f.id)
    setRefused(wrong)
    // Closing, and not only going away, gives the focus back to where it was.
    if (wrong === undefined) dialog.current?.close()
  }
  const describe = (draft: FootprintFile, from?: string): void => {
    dialog.current?.close()
    desk.describe({
      draft,
      ...(from === undefined ? {} : { from }),
      ...(search.swap === undefined ? {} : { item: search.swap }),
    })
  }
  const press = (event: React.KeyboardEvent): void => {
    const step = { ArrowDown: 1, ArrowUp: -1, PageDown: 5, PageUp: -5 }[event.key]
    if (step !== undefined) {
      event.preventDefault()
      setChosen(Math.max(0, Math.min(hits.length - 1, chosen + step)))
    } else if (event.key === 'Enter') {
      event.preventDefault()
      take(hit)
    }
  }
  const title = search.swap === undefined ? texts.title : texts.swapTitle(search.swap)
  const hint = search.swap !== undefined ? texts.swap : search.at ? texts.where : texts.anywhere
  const nearly = hits.length > 0 && !hits[0]!.whole
  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: Escape closes it by keyboard
    <dialog
      ref={dialog}
      className="parts-search"
      aria-label={title}
      onClose={() => desk.close('search')}
      onClick={(event) => {
        // A click beside it closes it.
        if (event.target === dialog.current) dialog.current?.close()
      }}
    >
      <div className="parts-search-inside">
        <label htmlFor={`${id}-question`}>{texts.label}</label>
        <input
          id={`${id}-question`}
          type="text"
          role="combobox"
          autoComplete="off"
          spellCheck={false}
          placeholder={texts.example}
          aria-expanded={hits.length > 0}
          aria-controls={`${id}-hits`}
          aria-autocomplete="list"
          aria-activedescendant={hit ? `${id}-${Math.min(chosen, hits.length - 1)}` : undefined}
          aria-describedby={`${id}-hint`}
          value={question}
          onChange={(event) => {
            setQuestion(event.target.value)
            setChosen(0)
          }}
          onKeyDown={press}
        />
        <p className="quiet" role="status">
          {hits.length === 0 ? texts.none : nearly ? texts.nearly : texts.count(hits.length)}
        </p>
        <div ref={list} id={`${id}-hits`} className="parts-hits" role="listbox" aria-label={texts.hits} tabIndex={-1}>
          {hits.map(({ footprint: f }, k) => (
            // biome-ignore lint/a11y/useKeyWithClickEvents: the line above has the keys of the list
            // biome-ignore lint/a11y/useFocusableInteractive: options of a combobox are pointed at, not focused
            <div
              key={f.id}
              id={`${id}-${k}`}
              className="parts-hit"
              role="option"
              aria-selected={f === hit}
              onClick={() => take(f)}
              onPointerMove={() => setChosen(k)}
            >
              <span className="parts-hit-plan">
                <PartPicture footprint={footprintToSolver(f)} scope={`hit-${k}`} scale={SCALE} />
              </span>
              <span>
                <b>{f.name ?? f.id}</b>
                {own.has(f.id) && <i>, {texts.own}</i>}
                <span className="row-what">{facts(f)}</span>
              </span>
            </div>
          ))}
        </div>
        <p id={`${id}-hint`} className="quiet">
          {hint}
        </p>
        <Refused>{refused}</Refused>
        <div className="group">
          <button
            type="button"
            disabled={!hit}
            onClick={() =>
              hit &&
              describe(copyOfFootprint(hit, freeFootprintId(project, loadLibrary(), `${hit.id}-own`)), hit.source)
            }
          >
            {texts.copy}
          </button>
          <button
            type="button"
            onClick={() => describe(emptyFootprint(freeFootprintId(project, loadLibrary(), 'my-part')))}
          >
            {texts.describe}
          </button>
          <button type="button" onClick={() => dialog.current?.close()}>
            {texts.close}
          </button>
        </div>
      </div>
    </dialog>
  )
}
