/**
 * Tie points that two plug-in parts both cover: only those on the edges of two bodies that touch, under no pin of either. As a figure that
 * can only grow, the points that are *not* covered twice, of the most that could be; so it is one more part of a sum that is to be small.
 */
import type { Footprint } from '../problem.ts'
import { turnedSize } from '../units.ts'
import type { Body, Model } from './model.ts'
import { tiePoints } from './parts.ts'
import type { Propagator } from './propagator.ts'
import { type Axis, firstAtLeast } from './relation.ts'
import { boardsOf, eachOpen, type Host, hostsOf, seated, wakeOnSeats, whyOpen } from './seat-pairs.ts'
import { type Seat, seatsOn } from './seats.ts'

export class CoveredTwice implements Propagator {
  readonly cost = 2
  private readonly model: Model
  private readonly bodies: readonly [Body, Body]
  private readonly hosts: readonly Host[]
  private readonly most: number
  /** Of the most that could be covered twice, how many are not; at least. */
  readonly not: Axis

  private constructor(model: Model, a: Body, b: Body, hosts: readonly Host[], most: number) {
    this.model = model
    this.bodies = [a, b]
    this.hosts = hosts
    this.most = most
    this.not = { v: model.e.newVar(most + 1), values: Int32Array.from({ length: most + 1 }, (_, k) => k) }
    wakeOnSeats(model.e, this, this.bodies, hosts)
  }

  /** Of a pair that may cover a point twice. */
  static of(model: Model, a: Body, b: Body): CoveredTwice | undefined {
    const onBoth = ({ footprint: f }: Body) => Math.min(mostOnEdge(a, f), mostOnEdge(b, f))
    const most = Math.max(0, ...boardsOf(model, a, b).map(onBoth))
    return most === 0 ? undefined : new CoveredTwice(model, a, b, hostsOf(model, a, b), most)
  }

  propagate(): boolean {
    const { e } = this.model
    let twice = 0
    const why: (() => void)[] = []
    for (const { footprint, lits } of this.hosts) {
      const out = lits.find((l) => e.isFalse(l))
      if (out !== undefined) {
        why.push(() => e.why(e.not(out)))
        continue
      }
      const side = ([0, 1] as const).find((s) => e.isTrue(lits[s]!) && seated(e, this.bodies[s]!, footprint))
      if (side === undefined) return true
      const taken = seated(e, this.bodies[side]!, footprint)!
      const other = this.bodies[1 - side]!
      const edge = new Set(onEdge(this.bodies[side]!, footprint, taken.seat))
      eachOpen(e, other, footprint, (s) => {
        const n = onEdge(other, footprint, s).filter((t) => edge.has(t)).length
        if (n > twice) twice = n
      })
      why.push(() => {
        e.why(lits[side]!)
        for (const l of taken.why) e.why(l)
        whyOpen(e, other)
      })
    }
    const k = firstAtLeast(this.not.values, this.most - twice)
    if (k <= e.lb[this.not.v]!) return true
    e.begin()
    for (const say of why) say()
    return e.imply(e.ge(this.not.v, k))
  }
}

const known = new WeakMap<Seat, readonly number[]>()

/** Points on the edge of a seated part's body, under no pin of it. */
function onEdge(body: Body, host: Footprint, seat: Seat): readonly number[] {
  let out = known.get(seat)
  if (!out) {
    const ties = tiePoints(host.breadboard!)
    const size = turnedSize(body.footprint.width, body.footprint.depth, seat.turn)
    out = seat.covered.filter((i) => {
      const { x, y } = ties[i]!
      return !seat.pins.includes(i) && (x === seat.u || x === seat.u + size.w || y === seat.v || y === seat.v + size.h)
    })
    known.set(seat, out)
  }
  return out
}

const mostOnEdge = (body: Body, host: Footprint): number =>
  Math.max(0, ...seatsOn(body.footprint, host).map((s) => onEdge(body, host, s).length))
