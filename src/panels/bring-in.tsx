/** Bringing in what is there already: a deck from its drawing, a board from the files it is made from, measures by caliper. */
import { type ReactNode, useEffect, useId, useMemo, useRef, useState } from 'react'
import type { DrillAnswers } from '../bring-in/excellon-number.ts'
import { UNITS_ASKED, type Unit } from '../bring-in/index.ts'
import type { EditProblem, ProjectDeck } from '../model/index.ts'
import {
  boardAsks,
  boardFrom,
  type DeckAnswers,
  deckFrom,
  deckWords,
  type Got,
  measuresFrom,
  ownIn,
  type Source,
  withDeck,
  withFootprint,
} from './bring-files.ts'
import { DeckPicture, FootprintPicture } from './bring-picture.tsx'
import { numberIn, wrongWith } from './making-number.tsx'
import { useActions, useDeck } from './use.ts'

type Kind = 'deck' | 'board' | 'measures'

const KINDS: readonly (readonly [Kind, what: string, accept: string])[] = [
  ['deck', 'A deck from its drawing, DXF or SVG', '.dxf,.svg,image/svg+xml'],
  ['board', 'A circuit board from its files: IDF, or outline and drill files', ''],
  ['measures', 'Measures by caliper, as a measures file', '.json,application/json'],
]

const HEIGHT = { least: 0.001, most: 10_000 }

export default function BringIn({
  first = 'deck',
  deck,
  onClose,
}: {
  first?: Kind
  /** The deck that a drawing takes the place of; missing: the first. */
  deck?: string
  onClose: () => void
}) {
  const actions = useActions()
  const project = useDeck((s) => s.history.doc.project)
  const dialog = useRef<HTMLDialogElement>(null)
  const title = useId()
  const [kind, setKind] = useState<Kind>(first)
  const [sources, setSources] = useState<readonly Source[]>([])
  const [deckId, setDeckId] = useState(deck ?? project.decks[0]?.id ?? '')
  const [answers, setAnswers] = useState<DeckAnswers>({})
  const [boardId, setBoardId] = useState('')
  const [height, setHeight] = useState('')
  const [numbers, setNumbers] = useState<DrillAnswers>({})
  const [place, setPlace] = useState(true)
  const [problems, setProblems] = useState<readonly EditProblem[]>([])
  useEffect(() => {
    const box = dialog.current
    if (box && !box.open) box.showModal()
  }, [])
  const old = project.decks.find((d) => d.id === deckId) ?? project.decks[0]
  const got = useMemo((): Got | undefined => {
    const [first] = sources
    if (!first || !old) return undefined
    if (kind === 'deck') return deckFrom(first, old, answers)
    if (kind === 'measures') return measuresFrom(first, old)
    return boardFrom(sources, boardId.trim() || 'board', numberIn(height), numbers)
  }, [sources, kind, old, answers, boardId, height, numbers])
  const fresh = (): void => {
    setAnswers({})
    setNumbers({})
    setProblems([])
  }
  const take = (): void => {
    if (got?.kind !== 'deck' && got?.kind !== 'footprint') return
    const next = got.kind === 'deck' ? withDeck(project, got.deck) : withFootprint(project, got.footprint, place)
    const wrong = actions.change(next)
    setProblems(wrong)
    if (wrong.length === 0) dialog.current?.close()
  }
  const close = (): void => dialog.current?.close()
  const variants = got?.kind === 'deck' ? ownIn(project, got.deck.id) : []
  return (
    <dialog ref={dialog} className="workshop bring" aria-labelledby={title} onClose={onClose}>
      <header>
        <h2 id={title}>Bring in what is there</h2>
        <button type="button" onClick={close}>
          Close
        </button>
      </header>
      <fieldset className="kinds">
        <legend className="unseen">What to bring in</legend>
        {KINDS.map(([k, name]) => (
          <label key={k}>
            <input
              type="radio"
              name="bring"
              checked={k === kind}
              onChange={() => {
                setKind(k)
                setSources([])
                fresh()
              }}
            />
            <span>{name}</span>
          </label>
        ))}
      </fieldset>
      <div className="asked-for">
        <label>
          {kind === 'board' ? 'Its files, all at once' : 'Its file'}{' '}
          <input
            key={kind}
            type="file"
            multiple={kind === 'board'}
            accept={KINDS.find(([k]) => k === kind)?.[2]}
            onChange={async (event) => {
              const files = [...(event.currentTarget.files ?? [])]
              const read = await Promise.all(
                files.map(async (f) => ({ name: f.name, bytes: new Uint8Array(await f.arrayBuffer()) })),
              )
              fresh()
              setSources(read)
              setBoardId((id) => id || (files[0]?.name.replace(/\.[^.]*$/, '').replaceAll('#', '-') ?? ''))
            }}
          />
        </label>
        {kind !== 'board' && project.decks.length > 1 && (
          <label>
            In place of{' '}
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
              Name <input value={boardId} onChange={(e) => setBoardId(e.target.value)} />
            </label>
            <label>
              Height with its parts, mm{' '}
              <input inputMode="decimal" value={height} onChange={(e) => setHeight(e.target.value)} />
            </label>
            {height !== '' && wrongWith(height, HEIGHT) && (
              <p role="alert" className="field-wrong">
                {wrongWith(height, HEIGHT)}
              </p>
            )}
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
        {got?.kind === 'refused' && <Refused got={got} />}
        {(got?.kind === 'deck' || got?.kind === 'footprint') && (
          <>
            {got.kind === 'deck' ? <DeckPicture deck={got.deck} /> : <FootprintPicture footprint={got.footprint} />}
            <ul>
              {variants.map((v) => (
                <li key={v}>Variant {v} gives this deck an outline, openings or holes of its own, which stay.</li>
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
              <span>One of it is to be placed, in every variant.</span>
            </label>
          )}
          <div className="group">
            <button type="button" onClick={take}>
              {got.kind === 'deck' ? `Take it for ${old?.name ?? old?.id}` : `Take ${got.footprint.id}`}
            </button>
            <button type="button" onClick={close}>
              Leave it
            </button>
          </div>
          <p className="quiet">
            {got.kind === 'deck' && 'Outline, openings and holes are replaced; height, name and items stay. '}It is one
            step, and Undo takes it back.
          </p>
        </footer>
      )}
      {problems.length > 0 && (
        <Wrong head="It does not go together with the rest of the project, which is as it was:">
          {problems.map((p) => `${p.path || 'The project'}: found ${p.found}; expected ${p.expected}.`)}
        </Wrong>
      )}
    </dialog>
  )
}

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

function Refused({ got }: { got: Extract<Got, { kind: 'refused' }> }) {
  return (
    <>
      <Wrong head="It cannot be used like this. Your document is as it was.">
        {got.problems.map((p) => {
          const where = [p.file, p.path, p.line === undefined || p.file === '' ? '' : `line ${p.line}`].filter(
            (t) => t !== '',
          )
          return `${where.join(', ')}: found ${p.found}; expected ${p.expected}.`
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

const UNIT_WORDS: Readonly<Record<(typeof UNITS_ASKED)[number], string>> = {
  mm: 'millimetres',
  cm: 'centimetres',
  m: 'metres',
  um: 'micrometres',
  in: 'inches',
  ft: 'feet',
  mil: 'thousandths of an inch',
  px: 'pixels, 96 to the inch',
  pt: 'points, 72 to the inch',
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
        One unit of the drawing is{' '}
        <select
          value={answers.unit ?? ''}
          onChange={(e) => onAnswer({ ...answers, unit: (e.target.value || undefined) as Unit | undefined })}
        >
          <option value="">not said yet</option>
          {UNITS_ASKED.map((unit) => (
            <option key={unit} value={unit}>
              {UNIT_WORDS[unit]}
            </option>
          ))}
        </select>
      </label>
    </div>
  )
}

/** What the numbers of a board's files mean, where the files do not say. */
function NumbersQuestion({
  asks,
  numbers,
  onAnswer,
}: {
  asks: { readonly units: boolean; readonly zeros: boolean }
  numbers: DrillAnswers
  onAnswer: (numbers: DrillAnswers) => void
}) {
  return (
    <>
      {(asks.units || numbers.units) && (
        <label>
          Its files measure in{' '}
          <select
            value={numbers.units ?? ''}
            onChange={(e) => onAnswer({ ...numbers, units: (e.target.value || undefined) as DrillAnswers['units'] })}
          >
            <option value="">not said yet</option>
            <option value="mm">millimetres</option>
            <option value="inch">inches</option>
          </select>
        </label>
      )}
      {(asks.zeros || numbers.suppressed) && (
        <label>
          Its drill file leaves out{' '}
          <select
            value={numbers.suppressed ?? ''}
            onChange={(e) =>
              onAnswer({ ...numbers, suppressed: (e.target.value || undefined) as DrillAnswers['suppressed'] })
            }
          >
            <option value="">not said yet</option>
            <option value="leading">zeros before a number</option>
            <option value="trailing">zeros behind it</option>
          </select>
        </label>
      )}
    </>
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
          Choose another of the outlines than the {chosen}.
        </button>
      </div>
    )
  }
  return (
    <div>
      <p>{decks.length} outlines lie side by side. Which one is the deck?</p>
      <div className="group">
        {decks.map((deck, i) => (
          <button key={deck.id} type="button" onClick={() => onChoose(i + 1)}>
            The {i + 1}. from the left: {deckWords(deck)}
          </button>
        ))}
      </div>
    </div>
  )
}
