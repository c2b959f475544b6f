/**
 * Energy: what the bodies of a deck must cover of a strip across it is no more than the strip has room for (energetic
 * reasoning, Erschler & Lopez 1990; Baptiste, Le Pape & Nuijten 1999), in cells, on either axis.
 */
import type { Engine, Propagator } from '../search/engine.ts'
import type { Body, Model } from '../search/model.ts'
import { type Axis, firstAtLeast } from '../search/relation.ts'
import { cellOf, cellsOf, lengthIn } from './cells.ts'

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
  readonly present: number
  readonly here: readonly Way[]
  readonly elsewhere: readonly number[]
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
  if (body.footprint.mount.kind === 'plug-in') return []
  const modes = body.modes.filter((m) => m.deck === deck)
  if (modes.length === 0) return []
  const along = body[axis]
  const across = body[axis === 'x' ? 'y' : 'x']
  return [
    {
      axis: along,
      starts: along.values.map((v) => cellOf(v, grid)),
      present: body.present,
      here: modes.map((m) => {
        const [w, h] = [m.w + gap, m.h + gap]
        const [l, c] = axis === 'x' ? [w, h] : [h, w]
        return { lit: m.lit, long: lengthIn(along.values, l, grid), wide: lengthIn(across.values, c, grid) }
      }),
      elsewhere: body.modes.filter((m) => m.deck !== deck).map((m) => m.lit),
    },
  ]
}

export class Energy implements Propagator {
  readonly cost = 2
  queued = false
  private readonly e: Engine
  readonly parts: readonly Part[]
  readonly room: Float64Array
  readonly first: number
  readonly grid: number
  private readonly sure: Part[] = []
  private readonly los: Int32Array
  private readonly his: Int32Array
  private readonly needs: Float64Array

  constructor(e: Engine, parts: readonly Part[], room: Float64Array, first: number, grid: number) {
    this.e = e
    this.parts = parts
    this.room = room
    this.first = first
    this.grid = grid
    this.los = new Int32Array(parts.length)
    this.his = new Int32Array(parts.length)
    this.needs = new Float64Array(parts.length)
    for (const p of parts) {
      e.wakeOn(this, p.axis.v, true, true)
      e.wakeOnTrue(this, p.present)
      for (const w of p.here) e.wakeOnTrue(this, e.not(w.lit))
      for (const l of p.elsewhere) e.wakeOnTrue(this, e.not(l))
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
    const { e, sure, los, his } = this
    sure.length = 0
    const from: number[] = []
    const to: number[] = []
    let all = 0
    for (const p of this.parts) {
      if (!e.isTrue(p.present) || !p.elsewhere.every((l) => e.isFalse(l))) continue
      const lo = p.starts[e.lb[p.axis.v]!]!
      const hi = p.starts[e.ub[p.axis.v]!]!
      los[sure.length] = lo
      his[sure.length] = hi
      sure.push(p)
      let least = Number.POSITIVE_INFINITY
      let short = Number.POSITIVE_INFINITY
      let long = 0
      for (const w of p.here) {
        if (e.isFalse(w.lit)) continue
        least = Math.min(least, w.long * w.wide)
        short = Math.min(short, w.long)
        long = Math.max(long, w.long)
      }
      if (short === Number.POSITIVE_INFINITY) return true
      all += least
      if (!from.includes(lo)) from.push(lo)
      if (hi > lo && hi < lo + short && !from.includes(hi)) from.push(hi)
      if (!to.includes(hi + long)) to.push(hi + long)
      if (hi < lo + short && !to.includes(lo + short)) to.push(lo + short)
    }
    for (const a of from)
      for (const b of to) {
        if (b <= a) continue
        const room = this.between(a, b)
        if (all <= room) continue
        let need = 0
        for (let i = 0; i < sure.length; i++) need += this.least(i, a, b)
        if (need > room) return this.overfull(a, b, need - room - 1)
      }
    return true
  }

  /** The least that the i-th sure body covers between two cells. */
  private least(i: number, a: number, b: number): number {
    const { e } = this
    const lo = this.los[i]!
    const hi = this.his[i]!
    if (hi >= b || lo >= b) return 0
    let least = Number.POSITIVE_INFINITY
    const { here } = this.sure[i]!
    for (let k = 0; k < here.length; k++) {
      const w = here[k]!
      const length = Math.min(w.long, b - a, lo + w.long - a, b - hi)
      if (length <= 0) {
        if (!e.isFalse(w.lit)) return 0
      } else if (length * w.wide < least && !e.isFalse(w.lit)) least = length * w.wide
    }
    return least
  }

  /** Names what makes the bodies need too much, as loosely as the surplus allows. */
  private overfull(a: number, b: number, surplus: number): false {
    const { e, sure, needs } = this
    for (let i = 0; i < sure.length; i++) needs[i] = this.least(i, a, b)
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
    e.why(p.present)
    for (const l of p.elsewhere) e.why(e.not(l))
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
