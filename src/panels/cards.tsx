/** The variants as cards along the top: a small plan, the figures beside those of the marked card, one sentence, and the user's note. */
import { useEffect, useMemo, useRef, useSyncExternalStore } from 'react'
import { markedOf, withMarked } from '../model/edit-variants.ts'
import { frameOf } from '../plan/frame.ts'
import { SMALL, SmallPlan } from '../plan/small-plan.tsx'
import { called, inMm } from '../store/sentences.ts'
import { progressOf } from '../store/view.ts'
import { words } from '../words/index.ts'
import { useActions, useDeck, useView } from './use.ts'
import { differenceOf } from './variant-figures.ts'
import { Note } from './variant-note.tsx'
import { useBeside, useEdit, useStageState } from './variant-use.ts'
import './variant-cards.css'

interface Room {
  readonly width: number
  readonly height: number
}

const text = words.variants.card

function Foot({ index, variant, marked }: { index: number; variant: string; marked: boolean }) {
  const active = useDeck((s) => s.active)
  const alone = useDeck((s) => s.history.doc.sheets.length < 2)
  const besideIndex = useBeside()
  const { beside } = useStageState()
  const { edit } = useEdit()
  const isBeside = besideIndex === index
  return (
    <div className="card-foot">
      <div className="card-foot-tools">
        {alone ? null : marked ? (
          <span className="card-is-mark">{text.isMark}</span>
        ) : (
          <button
            type="button"
            className="small-quiet"
            aria-label={text.markOf(variant)}
            onClick={() => edit((p) => withMarked(p, variant))}
          >
            {text.mark}
          </button>
        )}
        {index !== active && (
          <button
            type="button"
            className="small-quiet"
            aria-label={text.besideOf(variant)}
            aria-pressed={isBeside}
            onClick={() => beside.setState({ variant: isBeside ? undefined : variant })}
          >
            {text.beside}
          </button>
        )}
      </div>
      <Note variant={variant} />
    </div>
  )
}

interface CardProps {
  readonly index: number
  readonly onStage: boolean
  readonly markIndex: number
  readonly room: Room
}

function Card({ index, onStage, markIndex, room }: CardProps) {
  const actions = useActions()
  const view = useView(index)
  const mark = useView(markIndex)
  const isBeside = useBeside() === index
  const { beside } = useStageState()
  const onStageNow = useDeck((s) => s.history.doc.sheets[s.active]?.variant)
  const leftOut = useMemo(() => {
    if (!view) return []
    const placed = new Set(view.placements.map((p) => p.item))
    return view.problem.items.filter((_, i) => !placed.has(i)).map((item) => called(item.id))
  }, [view])
  const entry = useRef<HTMLLIElement>(null)
  // A copy may begin out of sight, to the right of the others; the page itself is not moved.
  useEffect(() => {
    if (!onStage) return
    // With the next frame, which lays the page out in any case.
    const frame = requestAnimationFrame(() => {
      const card = entry.current?.getBoundingClientRect()
      const list = entry.current?.parentElement
      if (!card || !list) return
      const room = list.getBoundingClientRect()
      if (card.right > room.right) list.scrollLeft += card.right - room.right
      else if (card.left < room.left) list.scrollLeft -= room.left - card.left
    })
    return () => cancelAnimationFrame(frame)
  }, [onStage])
  if (!view) return null
  const { sheet, problem, placements, figures } = view
  const wrong = view.findings.length > 0
  const id = `card-${index}`
  const marked = index === markIndex
  const other = mark?.sheet.variant ?? ''
  const difference = !marked && figures && mark?.figures ? differenceOf(figures, mark.figures) : undefined
  const state = `${onStage ? ' on-stage' : ''}${isBeside ? ' card-second' : ''}${wrong || view.stuck ? ' wrong' : ''}`
  return (
    <li ref={entry}>
      <button
        type="button"
        className={`card${state}`}
        aria-pressed={onStage}
        aria-labelledby={`${id}-name`}
        aria-describedby={`${id}-figures ${id}-verdict`}
        onClick={() => {
          // Two on the stage stay two: they only change which of them is worked on.
          if (isBeside) beside.setState({ variant: onStageNow })
          actions.choose(index)
        }}
      >
        <SmallPlan problem={problem} placements={placements} stood={view.stood} scope={id} room={room} />
        <span className="card-text">
          <span className="card-name" id={`${id}-name`}>
            <b>{sheet.variant}</b>
            {sheet.name !== sheet.variant && <span> {sheet.name}</span>}
          </span>
          <span className="card-figures" id={`${id}-figures`}>
            {figures && (
              <>
                <span className="figure main">
                  <b>{figures.freeTiePoints}</b> {text.contacts}
                </span>
                {difference && (
                  <span className="figure against">
                    <i aria-hidden="true">{text.against(text.short(difference), other)}</i>
                    <span className="unseen">{text.long(difference, other)}</span>
                  </span>
                )}
                {problem.wires.length > 0 && (
                  <span className="figure">
                    <b>{Math.round(figures.wireLength / 1000)}</b> {text.conductor}
                  </span>
                )}
                {figures.balance !== undefined && (
                  <span className="figure">
                    <b>{inMm(figures.balance)}</b> {text.offBalance}
                  </span>
                )}
                {leftOut.length > 0 && <span className="figure">{text.without(leftOut)}</span>}
              </>
            )}
          </span>
          <span
            className={`card-verdict${view.looking ? ' looking' : view.missing ? ' missing' : ''}`}
            id={`${id}-verdict`}
          >
            <span>{view.verdict}</span>
          </span>
        </span>
      </button>
      <Foot index={index} variant={sheet.variant} marked={marked} />
    </li>
  )
}

/** A low or narrow screen has its height for the stage. */
const SMALL_SCREEN = '(max-width: 1120px), (max-height: 820px)'
const isSmall = (): boolean => matchMedia(SMALL_SCREEN).matches
const onSmall = (heard: () => void): (() => void) => {
  const media = matchMedia(SMALL_SCREEN)
  media.addEventListener('change', heard)
  return () => media.removeEventListener('change', heard)
}

export function Cards() {
  const sheets = useDeck((s) => s.history.doc.sheets)
  const active = useDeck((s) => s.active)
  const mark = useDeck((s) => markedOf(s.history.doc.project))
  const done = useDeck(progressOf)
  const small = useSyncExternalStore(onSmall, isSmall)
  // One scale for all cards: each has the room that the largest needs.
  const room = useMemo((): Room => {
    const frames = sheets.map((s) => frameOf(s.problem, SMALL.pad, SMALL.gap, SMALL.aspect))
    return { width: Math.max(...frames.map((f) => f.width)), height: Math.max(...frames.map((f) => f.height)) }
  }, [sheets])
  const markIndex = Math.max(
    0,
    sheets.findIndex((s) => s.variant === mark),
  )
  return (
    <nav className="cards" aria-label={words.variants.title}>
      <ul className={sheets.length > 3 || small ? 'terse' : undefined}>
        {sheets.map((sheet, index) => (
          <Card key={sheet.variant} index={index} onStage={index === active} markIndex={markIndex} room={room} />
        ))}
      </ul>
      <p className="unseen" role="status">
        {done}
      </p>
    </nav>
  )
}
