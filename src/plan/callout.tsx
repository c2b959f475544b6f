/** What is said beside a carried item: how many contacts stay free, and what is wrong with the place. */
import type { RefObject } from 'react'
import type { Placement } from '../../solver/index.ts'
import { asSpelt } from '../store/sentences.ts'
import type { Carry } from '../store/store.ts'
import { figuresOf, type View } from '../store/view.ts'
import { words } from '../words/index.ts'

interface Props {
  readonly view: View
  readonly carry: Carry
  readonly moved: readonly Placement[]
  /** Moved along with the pointer without drawing anew. */
  readonly place: RefObject<HTMLDivElement | null>
  readonly x: number
  readonly y: number
}

/** Sentences at the pointer; the findings sheet has them all. */
const MOST = 2

export function Callout({ view, carry, moved, place, x, y }: Props) {
  const { problem, findings, figures } = view
  const id = problem.items[carry.item]?.id ?? ''
  // A board that counts contacts stands somewhere, or there is nothing to count.
  const before = figuresOf(problem, carry.from).freeTiePoints
  const now = figures?.freeTiePoints ?? 0
  const own = findings.filter((f) => f.items.includes(id))
  const told = [...own, ...findings.filter((f) => !own.includes(f))]
  return (
    // The findings sheet says the same aloud.
    <div
      ref={place}
      className={told.length > 0 ? 'callout wrong' : 'callout'}
      style={{ transform: `translate(${x}px, ${y}px)` }}
      aria-hidden="true"
    >
      {(before > 0 || now > 0) && <b>{words.plan.count(now, now - before)}</b>}
      {told.length === 0 && <span>{words.plan.fits}</span>}
      {told.slice(0, MOST).map((f) => (
        <span key={`${f.rule} ${f.items} ${f.text}`}>{asSpelt(problem, f.text)}</span>
      ))}
      {told.length > MOST && <span>{words.plan.moreReasons(told.length - MOST)}</span>}
      {told.length > 0 && moved.length > 0 && <span>{words.plan.others(moved.length)}</span>}
    </div>
  )
}
