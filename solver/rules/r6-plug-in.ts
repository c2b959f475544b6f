/** R6: plug-in parts sit on tie points of one breadboard. */
import type { Footprint } from '../problem.ts'
import { CoveredTwice } from '../search/covered-twice.ts'
import type { Propagator } from '../search/engine.ts'
import type { Body, Model } from '../search/model.ts'
import { PinsClear } from '../search/pins-clear.ts'
import { firstAtLeast } from '../search/relation.ts'
import { pinsWithin, seated } from '../search/seat-pairs.ts'
import { type Seat, seatsOn, TOLERANCE } from '../search/seats.ts'
import { Bitmap, StaticMap } from '../search/static-map.ts'
import { Sum } from '../search/sum.ts'
import { type Turn, turnedSize } from '../units.ts'
import { asked } from '../words-asked.ts'
import type { Rule } from './index.ts'

export const plugIn: Rule = {
  post(model) {
    const guards = new Map<Body, number>()
    for (const body of model.bodies) {
      if (body.footprint.mount.kind !== 'plug-in') continue
      const guard = model.instance('R6', [body.item.id], () => asked.plugIn(body.item.id))
      guards.set(body, guard)
      seat(model, body, guard)
    }
    const plugs = [...guards.keys()]
    plugs.forEach((a, i) => {
      for (const b of plugs.slice(i + 1)) share(model, a, b, guards)
    })
  },
}

interface Way {
  readonly lit: number
  readonly footprint: Footprint
  readonly turn: Turn
  readonly seats: readonly Seat[]
}

function seat(model: Model, body: Body, guard: number): void {
  const { e } = model
  const hosts = [...new Set(body.modes.map((m) => m.host).filter((h) => h >= 0))].map((h) => model.bodies[h]!)
  const ways: Way[] = []
  for (const f of new Set(hosts.map((h) => h.footprint)))
    for (const turn of [0, 1, 2, 3] as const) {
      const seats = seatsOn(body.footprint, f).filter((s) => s.turn === turn)
      if (seats.length > 0) ways.push({ lit: e.newBool(), footprint: f, turn, seats })
    }
  const us = sorted(ways.flatMap((w) => w.seats.map((s) => s.u)))
  const vs = sorted(ways.flatMap((w) => w.seats.map((s) => s.v)))
  const u = { v: e.newVar(us.length), values: us }
  const v = { v: e.newVar(vs.length), values: vs }
  for (const m of body.modes) {
    if (m.host < 0) {
      // only where conflicts are explained: the part without a host, once this rule is dropped
      e.addClause([e.not(guard), e.not(m.lit)])
      continue
    }
    e.addClause([e.not(guard), e.not(m.lit), ...ways.map((w) => w.lit)])
    const host = model.bodies[m.host]!
    const there = host.modes.filter((h) => h.deck === m.deck)
    e.addClause([e.not(m.lit), ...there.map((h) => h.lit)])
    for (const h of there) {
      const way = ways.find((w) => w.footprint === host.footprint && w.turn === ((m.turn - h.turn + 4) & 3))
      e.addClause([e.not(guard), e.not(m.lit), e.not(h.lit), ...(way ? [way.lit] : [])])
    }
  }
  for (let i = 0; i < ways.length; i++)
    for (let j = i + 1; j < ways.length; j++) e.addClause([e.not(ways[i]!.lit), e.not(ways[j]!.lit)])
  const maps = ways.map((w) => {
    const legal = new Uint8Array(us.length * vs.length)
    for (const s of w.seats) legal[firstAtLeast(us, s.u) * vs.length + firstAtLeast(vs, s.v)] = 1
    return new Bitmap(us.length, vs.length, legal)
  })
  const lits = ways.map((w) => w.lit)
  if (ways.length > 0) new StaticMap(e, u, v, lits, () => maps, body.present, guard)
  for (const host of hosts) link(model, body, host, u, v, guard)
  const counts = sorted([0, ...ways.flatMap((w) => w.seats.map((s) => s.covered.length))])
  const cover = { v: e.newVar(counts.length), values: counts }
  body.seating = { u, v, ways, cover }
  if (!model.explaining) new Cover(model, body, ways)
}

const sorted = (values: readonly number[]): Int32Array => Int32Array.from(new Set(values)).sort()

/** Ties the part's corner to its host's, for every way the two can be turned. */
function link(
  model: Model,
  body: Body,
  host: Body,
  u: NonNullable<Body['seating']>['u'],
  v: NonNullable<Body['seating']>['v'],
  guard: number,
): void {
  const { e } = model
  const f = body.footprint
  const hw = host.footprint.width
  const hd = host.footprint.depth
  for (const t of new Set(body.modes.filter((m) => m.host === host.index).map((m) => m.turn)))
    for (const T of new Set(host.modes.map((m) => m.turn))) {
      const size = turnedSize(f.width, f.depth, ((t - T + 4) & 3) as Turn)
      const when = [
        guard,
        model.group(
          body,
          body.modes.filter((m) => m.host === host.index && m.turn === t),
        ),
        model.group(
          host,
          host.modes.filter((m) => m.turn === T),
        ),
      ]
      const tie = (axis: 'x' | 'y', on: typeof u, sign: 1 | -1, offset: number) => {
        new Sum(e, body[axis], host[axis], on, sign, offset, when)
        model.links.push({ body, host, axis, on, sign, offset, when })
      }
      switch (T) {
        case 0:
          tie('x', u, 1, 0)
          tie('y', v, 1, 0)
          break
        case 1:
          tie('x', v, -1, hd - size.h)
          tie('y', u, 1, 0)
          break
        case 2:
          tie('x', u, -1, hw - size.w)
          tie('y', v, -1, hd - size.h)
          break
        case 3:
          tie('x', v, 1, 0)
          tie('y', u, -1, hw - size.w)
          break
      }
    }
}

/** The fewest tie points that the part can still cover. */
class Cover implements Propagator {
  readonly cost = 2
  private readonly model: Model
  private readonly body: Body
  private readonly ways: readonly Way[]
  private readonly least: number

  constructor(model: Model, body: Body, ways: readonly Way[]) {
    this.model = model
    this.body = body
    this.ways = ways
    const { e } = model
    const { u, v, cover } = body.seating!
    const counts = ways.flatMap((w) => w.seats.map((s) => s.covered.length))
    this.least = Math.min(...counts)
    if (counts.length === 0) return
    e.addClause([e.not(body.present), e.ge(cover.v, firstAtLeast(cover.values, this.least))])
    // most parts cover the same wherever they sit
    if (counts.every((n) => n === this.least)) return
    e.wakeOnTrue(this, body.present)
    e.wakeOn(this, u.v, true, true)
    e.wakeOn(this, v.v, true, true)
    for (const w of ways) e.wakeOnTrue(this, e.not(w.lit))
    e.schedule(this)
  }

  propagate(): boolean {
    const { e } = this.model
    if (!e.isTrue(this.body.present)) return true
    const { u, v, cover } = this.body.seating!
    const ul = u.values[e.lb[u.v]!]!
    const uu = u.values[e.ub[u.v]!]!
    const vl = v.values[e.lb[v.v]!]!
    const vu = v.values[e.ub[v.v]!]!
    let least = Number.POSITIVE_INFINITY
    for (const w of this.ways)
      for (const s of w.seats) {
        const n = s.covered.length
        if (n < least && !e.isFalse(w.lit) && s.u >= ul && s.u <= uu && s.v >= vl && s.v <= vu) least = n
      }
    if (!Number.isFinite(least)) return true
    const k = firstAtLeast(cover.values, least)
    if (k <= e.lb[cover.v]!) return true
    e.begin()
    e.why(this.body.present)
    for (const w of this.ways) if (e.isFalse(w.lit)) e.why(e.not(w.lit))
    for (const a of [u, v]) {
      e.why(e.lbLit(a.v))
      e.why(e.ubLit(a.v))
    }
    return e.imply(e.ge(cover.v, k))
  }
}

/** No pin on a point that the other part's pin or body covers. */
function share(model: Model, a: Body, b: Body, guards: ReadonlyMap<Body, number>): void {
  // parts that keep a gap that no two pins bridge, each on its body, cannot meet on a point
  const tucked = [a, b].every((x) => pinsWithin(x.footprint, 0))
  if (!model.explaining && model.problem.itemClearance > 2 * TOLERANCE && tucked) return
  if (model.explaining) {
    const both = [guards.get(a)!, guards.get(b)!]
    new PinsClear(model, a, b, both)
    new PinsClear(model, b, a, both)
    return
  }
  // To find a layout, places serve better: what is learned of them leads back to who stands left of whom.
  const check = (pins: Body, covers: Body) =>
    model.whenFixed([pins, covers], [], ([mp, mc]) => {
      if (!mp || !mc || mp.host < 0 || mp.host !== mc.host) return true
      const one = seated(model.e, pins, model.bodies[mp.host]!.footprint)
      const two = seated(model.e, covers, model.bodies[mp.host]!.footprint)
      return !one || !two || !one.seat.pins.some((p) => two.seat.covered.includes(p))
    })
  check(a, b)
  check(b, a)
  // bodies with a gap between them have no point in common
  const twice = model.problem.itemClearance > 0 ? undefined : CoveredTwice.of(model, a, b)
  if (twice) model.coveredTwice.push(twice.not)
}
