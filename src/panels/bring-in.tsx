/** Bringing in what is there already: a deck from its drawing, a board from the files it is made from, measures by caliper. */
import { type ReactNode, useContext, useEffect, useId, useMemo, useRef, useState } from 'react'
import type { DrillAnswers } from '../bring-in/excellon-number.ts'
import { UNITS_ASKED, type Unit } from '../bring-in/index.ts'
import { ownPlates, seenIn, written } from '../model/edit-deck-variant.ts'
import type { EditProblem, ProjectDeck } from '../model/index.ts'
import { words } from '../words/index.ts'
import {
  boardAsks,
  boardFrom,
  type DeckAnswers,
  deckFrom,
  deckWords,
  type Got,
  measuresFrom,
  type Source,
  withDeck,
  withFootprint,
} from './bring-files.ts'
import { NumbersQuestion } from './bring-numbers.tsx'
import { DeckPicture, FootprintPicture } from './bring-picture.tsx'
import { DraftHere, useVariant } from './deck-use.ts'
import { Refused } from './refused.tsx'
import { dropped, sourcesOf } from './sources.ts'
import { lengthIn, wrongLength } from './typed.ts'
import { useActions, useDeck } from './use.ts'

type Kind = 'deck' | 'board' | 'measures'

const w = words.bring

/** What the file picker offers. */
const ACCEPT: Readonly<Record<Kind, string>> = {
  deck: '.dxf,.svg,image/svg+xml',
  board: '',
  measures: '.json,application/json',
}
const KINDS = ['deck', 'board', 'measures'] as const satisfies readonly Kind[]

const HEIGHT = { least: 0.001, most: 10_000 }

export default function BringIn({
  first = 'deck',
  files = [],
  deck,
  note = '',
  onClose,
}: {
  first?: Kind
  /** What was dropped already. */
  files?: readonly Source[]
  /** The deck that a drawing takes the place of; missing: the first. */
  deck?: string
  /** What is to be said besides, of what was dropped with it. */
  note?: string
  onClose: () => void
}) {
  const actions = useActions()
  const project = useDeck((s) => s.history.doc.project)
  const dialog = useRef<HTMLDialogElement>(null)
  const title = useId()
  const [kind, setKind] = useState<Kind>(first)
  const [sources, setSources] = useState(files)
  const [deckId, setDeckId] = useState(deck ?? project.decks[0]?.id ?? '')
  const [answers, setAnswers] = useState<DeckAnswers>({})
  const [boardId, setBoardId] = useState(nameIn(files))
  const [unread, setUnread] = useState(false)
  const [height, setHeight] = useState('')
  const [numbers, setNumbers] = useState<DrillAnswers>({})
  const [place, setPlace] = useState(true)
  const [problems, setProblems] = useState<readonly EditProblem[]>([])
  useEffect(() => {
    const box = dialog.current
    if (!box || box.open) return
    box.showModal()
    // The title, so that what was dropped is read on from there.
    box.querySelector('h2')?.focus()
  }, [])
  // A drawing takes the place of the deck as the open variant has it, and goes where that stands.
  const variant = useVariant()
  const onlyIn = useContext(DraftHere)?.getState().onlyIn
  const seen = useMemo(() => seenIn(project, variant), [project, variant])
  const old = seen.decks.find((d) => d.id === deckId) ?? seen.decks[0]
  const alone = onlyIn === variant || (old !== undefined && ownPlates(project, old.id).includes(variant))
  const got = useMemo((): Got | undefined => {
    const [first] = sources
    if (!first || !old) return undefined
    if (kind === 'deck') return deckFrom(first, old, answers)
    if (kind === 'measures') return measuresFrom(first, old)
    return boardFrom(sources, boardId.trim() || 'board', lengthIn(height), numbers)
  }, [sources, kind, old, answers, boardId, height, numbers])
  const fresh = (): void => {
    setAnswers({})
    setNumbers({})
    setProblems([])
  }
  const put = async (chosen: Iterable<File>): Promise<void> => {
    const read = await sourcesOf(chosen)
    fresh()
    setUnread(read === undefined)
    setSources(read ?? [])
    setBoardId((id) => id || nameIn(read ?? []))
  }
  const take = (): void => {
    if (got?.kind !== 'deck' && got?.kind !== 'footprint') return
    const next =
      got.kind === 'deck'
        ? written(project, variant, alone, withDeck(seen, got.deck))
        : withFootprint(project, got.footprint, place)
    const wrong = actions.change(next)
    setProblems(wrong)
    if (wrong.length === 0) dialog.current?.close()
  }
  const close = (): void => dialog.current?.close()
  // Only a board has several files.
  const taken = kind === 'board' ? sources : sources.slice(0, 1)
  const variants = got?.kind === 'deck' && !alone ? ownPlates(project, got.deck.id) : []
  return (
    <dialog
      ref={dialog}
      className="workshop bring"
      aria-labelledby={title}
      onClose={(event) => {
        if (event.target === dialog.current) onClose()
      }}
      {...dropped((chosen) => void put(chosen))}
    >
      <header>
        <h2 id={title} tabIndex={-1}>
          {w.title}
        </h2>
        <button type="button" onClick={close}>
          {w.close}
        </button>
      </header>
      <fieldset className="kinds">
        <legend className="unseen">{w.what}</legend>
        {KINDS.map((k) => (
          <label key={k}>
            <input
              type="radio"
              name="bring"
              checked={k === kind}
              onChange={() => {
                setKind(k)
                setSources([])
                setUnread(false)
                fresh()
              }}
            />
            <span>{w.kinds[k]}</span>
          </label>
        ))}
      </fieldset>
      <div className="asked-for">
        <label>
          {kind === 'board' ? w.files : w.file}{' '}
          <input
            key={kind}
            type="file"
            multiple={kind === 'board'}
            accept={ACCEPT[kind]}
            onChange={(event) => void put(event.currentTarget.files ?? [])}
          />
        </label>
        <p className="quiet">{sources.length > 0 ? w.these(taken.map((s) => s.name)) : w.orDrop}</p>
        {sources.length > taken.length && (
          <p role="status">
            {words.start.leftOver(
              sources.slice(1).map((s) => s.name),
              'drawing',
            )}
          </p>
        )}
        {note !== '' && <p role="status">{note}</p>}
        <Refused>{unread && words.start.unreadable}</Refused>
        {kind !== 'board' && project.decks.length > 1 && (
          <label>
            {w.inPlaceOf}{' '}
            <select value={old?.id} onChange={(e) => setDeckId(e.target.value)}>
              {project.decks.map((d) => (
                <option key={d.id} value={d.id}>
                  {d.name ?? d.id}
                </option>
              ))}
            </select>
          </label>
        )}
        {kind === 'board' && (
          <>
            <label>
              {w.name} <input value={boardId} onChange={(e) => setBoardId(e.target.value)} />
            </label>
            <label>
              {w.height} <input value={height} onChange={(e) => setHeight(e.target.value)} />
            </label>
            <Refused>{height !== '' && wrongLength(height, HEIGHT)}</Refused>
            <NumbersQuestion asks={boardAsks(got)} numbers={numbers} onAnswer={setNumbers} />
          </>
        )}
        {(got?.kind === 'unit' || answers.unit) && <UnitQuestion got={got} answers={answers} onAnswer={setAnswers} />}
        {(got?.kind === 'outline' || answers.outline) && (
          <OutlineQuestion
            decks={got?.kind === 'outline' ? got.decks : undefined}
            chosen={answers.outline}
            onChoose={(outline) => setAnswers({ ...answers, outline })}
          />
        )}
      </div>
      <div className="brought" aria-live="polite">
        {got?.kind === 'refused' && <RefusedFiles got={got} />}
        {(got?.kind === 'deck' || got?.kind === 'footprint') && (
          <>
            {got.kind === 'deck' ? <DeckPicture deck={got.deck} /> : <FootprintPicture footprint={got.footprint} />}
            <ul>
              {got.kind === 'deck' && alone && <li>{w.inVariantAlone(variant)}</li>}
              {variants.map((v) => (
                <li key={v}>{w.ownInVariant(v)}</li>
              ))}
              {got.lines.map((line, i) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: two lines may say the same
                <li key={i}>{line}</li>
              ))}
            </ul>
          </>
        )}
      </div>
      {(got?.kind === 'deck' || got?.kind === 'footprint') && (
        <footer>
          {got.kind === 'footprint' && (
            <label className="tick">
              <input type="checkbox" checked={place} onChange={(e) => setPlace(e.target.checked)} />
              <span>{w.placeOne}</span>
            </label>
          )}
          <div className="group">
            <button type="button" onClick={take}>
              {got.kind === 'deck' ? w.takeFor(old?.name ?? old?.id ?? '') : w.take(got.footprint.id)}
            </button>
            <button type="button" onClick={close}>
              {w.leave}
            </button>
          </div>
          <p className="quiet">
            {got.kind === 'deck' && `${w.replaces} `}
            {w.oneStep}
          </p>
        </footer>
      )}
      {problems.length > 0 && (
        <Wrong head={w.notTogether}>{problems.map((p) => w.problem(p.path, p.found, p.expected))}</Wrong>
      )}
    </dialog>
  )
}

/** A board is called after its first file, until it is called otherwise. */
const nameIn = ([first]: readonly Source[]): string => first?.name.replace(/\.[^.]*$/, '').replaceAll('#', '-') ?? ''

function Wrong({ head, children }: { head: ReactNode; children: readonly string[] }) {
  return (
    <div role="alert" className="broken">
      <p>{head}</p>
      <ul>
        {children.slice(0, 30).map((text) => (
          <li key={text}>{text}</li>
        ))}
      </ul>
    </div>
  )
}

function RefusedFiles({ got }: { got: Extract<Got, { kind: 'refused' }> }) {
  return (
    <>
      <Wrong head={w.refused}>
        {got.problems.map((p) => {
          const where = [p.file, p.path, p.line === undefined || p.file === '' ? '' : w.line(p.line)].filter(
            (t) => t !== '',
          )
          return w.refusal(where.join(', '), p.found, p.expected)
        })}
      </Wrong>
      <ul>
        {got.lines.map((line, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: two lines may say the same
          <li key={i}>{line}</li>
        ))}
      </ul>
    </>
  )
}

function UnitQuestion({
  got,
  answers,
  onAnswer,
}: {
  got: Got | undefined
  answers: DeckAnswers
  onAnswer: (answers: DeckAnswers) => void
}) {
  return (
    <div>
      {got?.kind === 'unit' && <p>{got.text}</p>}
      <label>
        {w.unitAsk}{' '}
        <select
          value={answers.unit ?? ''}
          onChange={(e) => onAnswer({ ...answers, unit: (e.target.value || undefined) as Unit | undefined })}
        >
          <option value="">{w.notSaid}</option>
          {UNITS_ASKED.map((unit) => (
            <option key={unit} value={unit}>
              {w.units[unit]}
            </option>
          ))}
        </select>
      </label>
    </div>
  )
}

function OutlineQuestion({
  decks,
  chosen,
  onChoose,
}: {
  decks: readonly ProjectDeck[] | undefined
  chosen: number | undefined
  onChoose: (outline: number | undefined) => void
}) {
  if (!decks) {
    return (
      <div className="group">
        <button type="button" onClick={() => onChoose(undefined)}>
          {w.otherOutline(chosen ?? 1)}
        </button>
      </div>
    )
  }
  return (
    <div>
      <p>{w.whichOutline(decks.length)}</p>
      <div className="group">
        {decks.map((deck, i) => (
          <button key={deck.id} type="button" onClick={() => onChoose(i + 1)}>
            {w.outline(i + 1, deckWords(deck))}
          </button>
        ))}
      </div>
    </div>
  )
}
