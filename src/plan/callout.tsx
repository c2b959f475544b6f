/** What is said beside a carried item: how many contacts stay free, and what is wrong with the place. */
import type { Placement } from '../../solver/index.ts'
import { NOTE, type Side } from '../store/callout-place.ts'
import { asSpelt } from '../store/sentences.ts'
import type { Carry } from '../store/store.ts'
import { figuresOf, type View } from '../store/view.ts'
import { words } from '../words/index.ts'

interface Props {
  readonly view: View
  readonly carry: Carry
  readonly moved: readonly Placement[]
  readonly side: Side
}

export function Callout({ view, carry, moved, side }: Props) {
  const { problem, findings, figures } = view
  const id = problem.items[carry.item]?.id ?? ''
  // A board that counts contacts stands somewhere, or there is nothing to count.
  const before = figuresOf(problem, carry.from).freeTiePoints
  const now = figures?.freeTiePoints ?? 0
  const told = findings.find((f) => f.items.includes(id)) ?? findings[0]
  return (
    // The findings sheet says the same aloud, and all of it.
    <div
      className={told ? 'callout wrong' : 'callout'}
      style={{
        maxWidth: NOTE.w,
        transform: `translate(${side.x}px, ${side.y}px)${side.above ? ' translateY(-100%)' : ''}`,
      }}
      aria-hidden="true"
    >
      {(before > 0 || now > 0) && <b>{words.plan.count(now, now - before)}</b>}
      {!told && <span>{words.plan.fits}</span>}
      {told && <span>{asSpelt(problem, told.text)}</span>}
      {told && (moved.length > 0 || findings.length > 1) && (
        <span className="callout-more">
          {moved.length > 0 ? words.plan.others(moved.length) : words.plan.moreReasons(findings.length - 1)}
        </span>
      )}
    </div>
  )
}
