/**
 * Energy: what the bodies of a deck must cover of a strip across it is no more than the strip has room for (energetic
 * reasoning, Erschler & Lopez 1990; Baptiste, Le Pape & Nuijten 1999), in cells, on either axis.
 */
import type { Engine, Propagator } from '../search/engine.ts'
import type { Body, Model } from '../search/model.ts'
import { gathered } from '../search/parts.ts'
import { type Axis, firstAtLeast } from '../search/relation.ts'
import { cellOf, cellsOf, lengthIn } from './cells.ts'

/** Sure bodies of which strips are asked. */
const MANY = 64

interface Way {
  readonly lit: number
  /** Cells along the axis and across it. */
  readonly long: number
  readonly wide: number
}

interface Part {
  readonly axis: Axis
  /** By index of the axis: the cell at which the body starts. */
  readonly starts: Int32Array
  readonly here: readonly Way[]
  /** Stands on the deck. */
  readonly on: number
}

/** Posts both axes of every deck. Only once all static tests are posted. */
export function energyOn(model: Model): void {
  model.problem.decks.forEach((_, deck) => {
    const cells = cellsOf(model, deck)
    if (!cells) return
    for (const axis of ['x', 'y'] as const) {
      const parts = model.bodies.flatMap((b) => partOf(model, b, deck, axis))
      const [room, first] = axis === 'x' ? [cells.columns, cells.x0] : [cells.rows, cells.y0]
      if (parts.length > 2) new Energy(model.e, parts, room, first, model.problem.grid)
    }
  })
}

function partOf(model: Model, body: Body, deck: number, axis: 'x' | 'y'): Part[] {
  const { grid, itemClearance: gap } = model.problem
  if (body.footprint.mount.kind === 'plug-in' || model.loose.has(body.index)) return []
  const modes = body.modes.filter((m) => m.deck === deck)
  if (modes.length === 0) return []
  const along = body[axis]
  const across = body[axis === 'x' ? 'y' : 'x']
  return [
    {
      axis: along,
      starts: along.values.map((v) => cellOf(v, grid)),
      // turns of one size, together
      here: gathered(modes, (a, b) => a.w === b.w && a.h === b.h).map((alike) => {
        const { w, h } = alike[0]!
        const [l, c] = axis === 'x' ? [w + gap, h + gap] : [h + gap, w + gap]
        const [long, wide] = [lengthIn(along.values, l, grid), lengthIn(across.values, c, grid)]
        return { lit: model.class(body, alike), long, wide }
      }),
      on: model.onDeck(body, deck),
    },
  ]
}

export class Energy implements Propagator {
  readonly cost = 2
  private readonly e: Engine
  readonly parts: readonly Part[]
  readonly room: Float64Array
  readonly first: number
  readonly grid: number
  private readonly sure: Part[] = []
  private readonly los: Int32Array
  private readonly his: Int32Array
  private readonly needs: Float64Array
  /** The least that each sure body covers in all. */
  private readonly areas: Float64Array
  /** Where each sure body's open ways begin in `longs` and `wides`, alike ones once; one more entry at the end. */
  private readonly ways: Int32Array
  private readonly longs: Int32Array
  private readonly wides: Int32Array
  /** Sure bodies that may reach beyond a cell. */
  private readonly beyond: Int32Array

  constructor(e: Engine, parts: readonly Part[], room: Float64Array, first: number, grid: number) {
    this.e = e
    this.parts = parts
    this.room = room
    this.first = first
    this.grid = grid
    this.los = new Int32Array(parts.length)
    this.his = new Int32Array(parts.length)
    this.needs = new Float64Array(parts.length)
    this.areas = new Float64Array(parts.length)
    this.ways = new Int32Array(parts.length + 1)
    const most = parts.reduce((n, p) => n + p.here.length, 0)
    this.longs = new Int32Array(most)
    this.wides = new Int32Array(most)
    this.beyond = new Int32Array(parts.length)
    for (const p of parts) {
      e.wakeOn(this, p.axis.v, true, true)
      for (const w of p.here) e.wakeOnTrue(this, e.not(w.lit))
      e.wakeOnTrue(this, p.on)
    }
    e.schedule(this)
  }

  /** Usable cells from cell `a` to before cell `b`. */
  private between(a: number, b: number): number {
    const last = this.room.length - 1
    const i = Math.min(last, Math.max(0, a - this.first))
    const j = Math.min(last, Math.max(0, b - this.first))
    return this.room[j]! - this.room[i]!
  }

  propagate(): boolean {
    const { e, sure, los, his, areas, ways } = this
    sure.length = 0
    const from: number[] = []
    const to: number[] = []
    for (const p of this.parts) {
      if (!e.isTrue(p.on)) continue
      const n = sure.length
      // strips grow with the square of these, and so many small ones are seldom refused by anything but their area
      if (n === MANY) return true
      const lo = p.starts[e.lb[p.axis.v]!]!
      const hi = p.starts[e.ub[p.axis.v]!]!
      const { short, long, least } = this.openWays(p, n)
      if (short === Number.POSITIVE_INFINITY) return true
      los[n] = lo
      his[n] = hi
      areas[n] = least
      sure.push(p)
      if (!from.includes(lo)) from.push(lo)
      if (hi > lo && hi < lo + short && !from.includes(hi)) from.push(hi)
      if (!to.includes(hi + long)) to.push(hi + long)
      if (hi < lo + short && !to.includes(lo + short)) to.push(lo + short)
    }
    const { beyond } = this
    for (const a of from) {
      // what ends before the strip covers nothing of it, whatever its end
      let n = 0
      let most = 0
      for (let i = 0; i < sure.length; i++) {
        let reaches = true
        for (let k = ways[i]!; k < ways[i + 1]!; k++) if (los[i]! + this.longs[k]! <= a) reaches = false
        if (!reaches) continue
        beyond[n++] = i
        most += areas[i]!
      }
      for (const b of to) {
        if (b <= a) continue
        const room = this.between(a, b)
        let need = 0
        let rest = most
        for (let m = 0; m < n && need + rest > room; m++) {
          const i = beyond[m]!
          need += this.least(i, a, b)
          rest -= areas[i]!
        }
        if (need > room) return this.overfull(a, b)
      }
    }
    return true
  }

  /** Notes the ways open to a part as those of the n-th sure body. */
  private openWays(p: Part, n: number): { readonly short: number; readonly long: number; readonly least: number } {
    const { ways, longs, wides } = this
    const first = ways[n]!
    let end = first
    let least = Number.POSITIVE_INFINITY
    let short = Number.POSITIVE_INFINITY
    let long = 0
    next: for (const w of p.here) {
      if (this.e.isFalse(w.lit)) continue
      for (let k = first; k < end; k++) if (longs[k] === w.long && wides[k] === w.wide) continue next
      longs[end] = w.long
      wides[end++] = w.wide
      least = Math.min(least, w.long * w.wide)
      short = Math.min(short, w.long)
      long = Math.max(long, w.long)
    }
    ways[n + 1] = end
    return { short, long, least }
  }

  /** The least that the i-th sure body covers between two cells. */
  private least(i: number, a: number, b: number): number {
    const lo = this.los[i]!
    const hi = this.his[i]!
    if (hi >= b || lo >= b) return 0
    let least = Number.POSITIVE_INFINITY
    for (let k = this.ways[i]!; k < this.ways[i + 1]!; k++) {
      const long = this.longs[k]!
      const length = Math.min(long, b - a, lo + long - a, b - hi)
      if (length <= 0) return 0
      least = Math.min(least, length * this.wides[k]!)
    }
    return least
  }

  /** Names what makes the bodies need too much, as loosely as the surplus allows. */
  private overfull(a: number, b: number): false {
    const { e, sure, needs } = this
    let surplus = -this.between(a, b) - 1
    for (let i = 0; i < sure.length; i++) {
      needs[i] = this.least(i, a, b)
      surplus += needs[i]!
    }
    const order = sure.map((_, i) => i).sort((p, q) => needs[p]! - needs[q]!)
    let spare = surplus
    e.begin()
    for (const i of order) {
      const need = needs[i]!
      if (need <= spare) {
        spare -= need
        continue
      }
      const want = need - spare
      spare = 0
      this.why(sure[i]!, a, b, want)
    }
    return e.fail()
  }

  /** Why a body covers at least `want` cells of the strip. */
  private why(p: Part, a: number, b: number, want: number): void {
    const { e } = this
    e.why(p.on)
    let low = Number.NEGATIVE_INFINITY
    let high = Number.POSITIVE_INFINITY
    for (const w of p.here) {
      if (e.isFalse(w.lit)) continue
      const length = Math.ceil(want / w.wide)
      low = Math.max(low, a + length - w.long)
      high = Math.min(high, b - length)
    }
    // the farthest bounds that still make every open way reach into the strip
    e.why(e.ge(p.axis.v, firstAtLeast(p.starts, low)))
    e.why(e.lt(p.axis.v, firstAtLeast(p.starts, high + 1)))
    for (const w of p.here) {
      if (!e.isFalse(w.lit)) continue
      const length = Math.min(w.long, b - a, low + w.long - a, b - high)
      if (length * w.wide < want) e.why(e.not(w.lit))
    }
  }
}
