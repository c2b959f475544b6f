/**
 * Two plug-in parts on one breadboard: no pin of the one on a point that the other covers. Asked of seats, not of places on the deck, so
 * that what is learned holds wherever the board stands: once one of the two is seated, those seats of the other go that it rules out.
 * For explanations, where boards and parts may stand anywhere once their rules are dropped.
 */
import type { Footprint } from '../problem.ts'
import type { Body, Model } from './model.ts'
import type { Propagator } from './propagator.ts'
import type { Axis } from './relation.ts'
import { eachOpen, type Host, hostsOf, type Side, seated, wakeOnSeats, whyOpen } from './seat-pairs.ts'
import { type Seat, seatsOn } from './seats.ts'

export class PinsClear implements Propagator {
  readonly cost = 2
  private readonly model: Model
  /** Both parts': where a part sits is known by its own rule alone. */
  private readonly guards: readonly number[]
  /** Whose pins are looked at, and what may cover their points. */
  private readonly bodies: readonly [Body, Body]
  private readonly hosts: readonly Host[]
  /** By footprint of the host, side and seat: 1 for each seat of the other side that it leaves. */
  private readonly rows = new Map<Footprint, readonly [Map<Seat, Uint8Array>, Map<Seat, Uint8Array>]>()

  constructor(model: Model, pins: Body, covers: Body, guards: readonly number[]) {
    this.model = model
    this.guards = guards
    this.bodies = [pins, covers]
    const { e } = model
    this.hosts = hostsOf(model, pins, covers)
    // where no two seats go together, that is known at once
    const hopeless = this.hosts.filter(
      ({ footprint }) => !seatsOn(pins.footprint, footprint).some((s) => this.leftBy(footprint, 0, s).includes(1)),
    )
    for (const { lits } of hopeless) e.addClause([...guards, ...lits].map((l) => e.not(l)))
    if (hopeless.length === this.hosts.length) return
    for (const g of guards) e.wakeOnTrue(this, g)
    wakeOnSeats(e, this, this.bodies, this.hosts)
  }

  propagate(): boolean {
    if (this.guards.some((g) => !this.model.e.isTrue(g))) return true
    for (const host of this.hosts) if (!this.look(host, 0) || !this.look(host, 1)) return false
    return true
  }

  /** Where the body of this side is seated on the host: what that leaves the other. */
  private look(host: Host, side: Side): boolean {
    const { e } = this.model
    const [mine, its] = [host.lits[side]!, host.lits[1 - side]!]
    if (!e.isTrue(mine) || e.isFalse(its)) return true
    const taken = seated(e, this.bodies[side]!, host.footprint)
    if (!taken) return true
    const other = this.bodies[1 - side]!
    const left = this.leftBy(host.footprint, side, taken.seat)
    const open: Seat[] = []
    eachOpen(e, other, host.footprint, (s, i) => {
      if (left[i] === 1) open.push(s)
    })
    const imply = (lit: number, also: number): boolean => {
      if (e.isTrue(lit)) return true
      e.begin()
      for (const g of this.guards) e.why(g)
      e.why(mine)
      e.why(also)
      for (const l of taken.why) e.why(l)
      whyOpen(e, other)
      return e.imply(lit)
    }
    if (open.length === 0) return imply(e.not(its), mine)
    if (!e.isTrue(its)) return true
    const { u, v, ways } = other.seating!
    for (const w of ways)
      if (w.footprint === host.footprint && !open.some((s) => s.turn === w.turn) && !imply(e.not(w.lit), its))
        return false
    const within = (a: Axis, at: readonly number[]): boolean =>
      imply(e.ge(a.v, a.values.indexOf(Math.min(...at))), its) &&
      imply(e.lt(a.v, a.values.indexOf(Math.max(...at)) + 1), its)
    return (
      within(
        u,
        open.map((s) => s.u),
      ) &&
      within(
        v,
        open.map((s) => s.v),
      )
    )
  }

  private leftBy(host: Footprint, side: Side, seat: Seat): Uint8Array {
    let both = this.rows.get(host)
    if (!both) {
      both = [new Map(), new Map()]
      this.rows.set(host, both)
    }
    let row = both[side].get(seat)
    if (!row) {
      const taken = new Set(side === 0 ? seat.pins : seat.covered)
      const clear = (s: Seat) => !(side === 0 ? s.covered : s.pins).some((t) => taken.has(t))
      row = Uint8Array.from(seatsOn(this.bodies[1 - side]!.footprint, host), (s) => (clear(s) ? 1 : 0))
      both[side].set(seat, row)
    }
    return row
  }
}
