/** A wire that changes deck: no shorter than the shortest chain of passes from box to box. */
import type { Chain } from './chains.ts'
import type { Engine, Propagator } from './engine.ts'
import { stillOpen } from './propagator.ts'
import { type End, extreme } from './relation.ts'
import { type Tip, wakeWithTips, whyHigh, whyLow } from './within.ts'

/** The least length over all chains with both tips somewhere in their boxes (without the height). */
export function leastByChain(e: Engine, a: Tip, b: Tip, list: readonly Chain[]): number {
  let best = Number.POSITIVE_INFINITY
  for (const c of list) {
    const far = off(e, a.x, c.x0) + off(e, a.y, c.y0) + c.between + off(e, b.x, c.x1) + off(e, b.y, c.y1)
    if (far < best) best = far
  }
  return best
}

const lowest = (e: Engine, end: End) => end.axis.values[e.lb[end.axis.v]!]! + extreme(e, end, 1)
const highest = (e: Engine, end: End) => end.axis.values[e.ub[end.axis.v]!]! + extreme(e, end, -1)

const off = (e: Engine, end: End, at: number): number => Math.max(0, lowest(e, end) - at, at - highest(e, end))

/** Both tips' boxes, whole: what the least length was read from. */
export function whyBoxes(e: Engine, a: Tip, b: Tip): void {
  for (const end of [a.x, a.y, b.x, b.y]) {
    whyLow(e, end)
    whyHigh(e, end)
  }
}

export class ChainLimit implements Propagator {
  readonly cost = 2
  private readonly e: Engine
  readonly a: Tip
  readonly b: Tip
  readonly list: readonly Chain[]
  readonly limit: number
  readonly when: readonly number[]

  constructor(e: Engine, a: Tip, b: Tip, list: readonly Chain[], limit: number, when: readonly number[]) {
    this.e = e
    this.a = a
    this.b = b
    this.list = list
    this.limit = limit
    this.when = when.filter((l) => l !== -1)
    wakeWithTips(e, this, a, b, this.when)
  }

  propagate(): boolean {
    const { e, a, b } = this
    const open = stillOpen(e, this.when)
    if (open === undefined) return true
    const least = leastByChain(e, a, b, this.list)
    if (!(least > this.limit)) return true
    e.begin()
    for (const l of this.when) if (l !== open) e.why(l)
    whyBoxes(e, a, b)
    return open === -1 ? e.fail() : e.imply(e.not(open))
  }
}
