/** Which two parts of a net are nearest to each other: the next that a jumper or lead joins. */
import type { layoutOf } from '../../solver/index.ts'
import { distance } from './netlist.ts'
import type { PlanEnd } from './strips.ts'

type Layout = ReturnType<typeof layoutOf>

/** One end that can still take a conductor; `room` = how many. */
export interface Spot {
  readonly end: PlanEnd
  room: number
}

export const roomIn = (part: readonly Spot[]): number => part.reduce((sum, s) => sum + s.room, 0)

interface Pair {
  readonly a: Spot
  readonly b: Spot
  readonly length: number
}

/** The nearest spots of every two parts, kept until one of the two changes. */
export class Known {
  private readonly pairs = new Map<readonly Spot[], Map<readonly Spot[], Pair | undefined>>()

  constructor(private readonly layout: Layout) {}

  forget(part: readonly Spot[]): void {
    this.pairs.delete(part)
    for (const row of this.pairs.values()) row.delete(part)
  }

  /** The nearest spots of two parts that leave room for the rest. */
  closest(parts: readonly Spot[][]): (Pair & { readonly i: number; readonly k: number }) | undefined {
    let best: (Pair & { i: number; k: number }) | undefined
    const least = parts.length > 2 ? 3 : 2
    const room = parts.map(roomIn)
    for (let i = 0; i < parts.length; i++) {
      for (let k = i + 1; k < parts.length; k++) {
        if (room[i]! + room[k]! < least) continue
        const pair = this.pair(parts[i]!, parts[k]!)
        if (pair && pair.length < (best?.length ?? Number.POSITIVE_INFINITY)) best = { ...pair, i, k }
      }
    }
    return best
  }

  private pair(p: readonly Spot[], q: readonly Spot[]): Pair | undefined {
    let row = this.pairs.get(p)
    if (!row) {
      row = new Map()
      this.pairs.set(p, row)
    }
    if (row.has(q)) return row.get(q)
    let best: Pair | undefined
    for (const a of p) {
      if (a.room === 0) continue
      for (const b of q) {
        if (b.room === 0) continue
        const length = distance(this.layout, a.end.node, b.end.node)
        if (length < (best?.length ?? Number.POSITIVE_INFINITY)) best = { a, b, length }
      }
    }
    row.set(q, best)
    return best
  }
}
