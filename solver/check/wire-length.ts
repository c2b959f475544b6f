/** How long the wires of a layout are (contract R7). */
import type { Wire, WireEnd } from '../problem.ts'
import type { Point } from '../units.ts'
import { pointOn } from './body.ts'
import type { Layout } from './layout.ts'

/** Where a wire can end: at an exit, or at one copy of an item. */
export interface End {
  readonly deck: number
  readonly at: Point
  readonly item?: number
  readonly exit?: number
}

export interface Run {
  /** Um; Infinity where no chain of passes joins the decks. */
  readonly length: number
  readonly from: End
  readonly to: End
}

/** All places that an end stands for: the exit, or the terminal on each copy that is placed. */
export function endsOf(layout: Layout, end: WireEnd): End[] {
  if (end.kind === 'exit') {
    const exit = layout.problem.exits[end.exit]
    return exit ? [{ deck: exit.deck, at: exit.at, exit: end.exit }] : []
  }
  return end.ref.items.flatMap((item) => {
    const body = layout.bodyOf.get(item)
    return body ? [{ deck: body.deck, at: pointOn(body.item.footprint, body.placement, end.at), item }] : []
  })
}

const manhattan = (a: Point, b: Point): number => Math.abs(a.x - b.x) + Math.abs(a.y - b.y)

/** Length of the shortest way between two ends: straight along x and y on one deck, through passes and up or down between two. */
function wayBetween(layout: Layout, from: End, to: End): number {
  if (from.deck === to.deck) return manhattan(from.at, to.at)
  const { passes, decks } = layout.problem
  // Least length so far at each pass, once on each of its two decks; settled by relaxing until nothing gets shorter.
  const best = passes.map(() => [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY])
  for (let again = true; again; ) {
    again = false
    passes.forEach((pass, p) => {
      for (const side of [0, 1] as const) {
        const deck = pass.decks[side]
        let d = best[p]![1 - side]!
        if (deck === from.deck) d = Math.min(d, manhattan(from.at, pass.at))
        passes.forEach((q, i) => {
          for (const s of [0, 1] as const)
            if (q.decks[s] === deck) d = Math.min(d, best[i]![s]! + manhattan(q.at, pass.at))
        })
        if (d < best[p]![side]!) {
          best[p]![side] = d
          again = true
        }
      }
    })
  }
  let length = Number.POSITIVE_INFINITY
  passes.forEach((pass, p) => {
    for (const side of [0, 1] as const)
      if (pass.decks[side] === to.deck) length = Math.min(length, best[p]![side]! + manhattan(pass.at, to.at))
  })
  return length + Math.abs(decks[from.deck]!.z - decks[to.deck]!.z)
}

/** The shortest run over the copies at both ends; undefined for a wire with an end left out, which does not count. */
export function runOf(layout: Layout, wire: Wire): Run | undefined {
  let best: Run | undefined
  for (const from of endsOf(layout, wire.from)) {
    for (const to of endsOf(layout, wire.to)) {
      const length = wayBetween(layout, from, to)
      if (!best || length < best.length) best = { length, from, to }
    }
  }
  return best
}
