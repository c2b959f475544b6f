/**
 * Where a body may stand so that all leads from exits reach it together: itself, or what is plugged into it for sure, on some seat. Follows
 * from R6, R7 and R10. One lead alone mostly reaches everywhere; a driver for two motors has far fewer places, on an upper deck often none.
 */
import { TRUE } from '../search/engine.ts'
import type { Body, Mode, Model } from '../search/model.ts'
import { at, onTurnedHost } from '../search/parts.ts'
import { seatsOn } from '../search/seats.ts'
import type { StaticTest } from '../search/static-tests.ts'
import { chainsOf, riseBetween, type WireEnds, wireEnds } from '../search/wire-ends.ts'
import { type Point, type Turn, turnedSize } from '../units.ts'
import { longest } from './r7-wires.ts'

/** A wire from an exit, with a limit, and the one body that it leads to. */
interface Lead {
  readonly body: Body
  /** In the body's frame. */
  readonly end: Point
  /** Does it reach the points of a box on a deck (µm): 1 all, −1 none, 0 perhaps some? Exact where the box is one point. */
  readonly reaches: (deck: number, xl: number, xu: number, yl: number, yu: number) => -1 | 0 | 1
}

/** Once all rules are posted: what is plugged in, and into what, follows from them. */
export function withinReach(model: Model): void {
  const leads = wireEnds(model).flatMap((w) => leadOf(model, w) ?? [])
  for (const body of new Set(leads.map((l) => l.body))) {
    const host = body.seating ? sureHost(model, body) : body
    const mine = leads.filter((l) => l.body === body)
    if (host) model.addStatic(host, TRUE, (mode) => onSomeSeat(mode, seats(body, host, mode), mine), true)
  }
}

const sureHost = (model: Model, body: Body): Body | undefined =>
  model.e.isTrue(body.present) ? model.hostOf(body) : undefined

function leadOf(model: Model, { wire, from, to }: WireEnds): Lead | undefined {
  const [near, far] = wire.from.kind === 'exit' ? [wire.from, wire.to] : [wire.to, wire.from]
  const [one, ...others] = wire.from.kind === 'exit' ? to : from
  const most = longest(model.problem, wire)
  if (near.kind !== 'exit' || far.kind !== 'item' || !one?.body || others.length > 0) return undefined
  if (!Number.isFinite(most)) return undefined
  const exit = model.problem.exits[near.exit]!
  const { x, y } = exit.at
  const reaches: Lead['reaches'] = (deck, xl, xu, yl, yu) => {
    const here = deck === exit.deck
    const ways = here ? [{ x0: x, y0: y, x1: x, y1: y, between: 0 }] : chainsOf(model, exit.deck, deck)
    const rise = riseBetween(model, exit.deck, deck)
    let some: -1 | 0 = -1
    for (const w of ways) {
      const left = most - Math.abs(x - w.x0) - Math.abs(y - w.y0) - w.between - rise
      if (farthest(w.x1, xl, xu) + farthest(w.y1, yl, yu) <= left) return 1
      if (nearest(w.x1, xl, xu) + nearest(w.y1, yl, yu) <= left) some = 0
    }
    return some
  }
  return { body: one.body, end: far.at, reaches }
}

const nearest = (v: number, low: number, high: number): number => Math.max(0, low - v, v - high)
const farthest = (v: number, low: number, high: number): number => Math.max(high - v, v - low)

/** Where a body's corner is against its host's, and how it is turned on the deck. */
interface Seated {
  readonly turn: Turn
  readonly x: number
  readonly y: number
}

/** With the host in this mode; of a body that is its own, the one place. */
function seats(body: Body, host: Body, mode: Mode): Seated[] {
  if (body === host) return [{ turn: mode.turn, x: 0, y: 0 }]
  const { footprint: f } = body
  return seatsOn(f, host.footprint).flatMap((s) => {
    const turn = ((s.turn + mode.turn) & 3) as Turn
    if (!body.modes.some((m) => m.deck === mode.deck && m.host === host.index && m.turn === turn)) return []
    const size = turnedSize(f.width, f.depth, s.turn)
    return [{ turn, ...onTurnedHost(host.footprint, s.u, s.v, size.w, size.h, mode.turn) }]
  })
}

/** Of the host's corner: is there a seat that all leads reach? */
function onSomeSeat({ deck }: Mode, all: readonly Seated[], leads: readonly Lead[]): StaticTest {
  const ends = all.map(({ turn, x, y }) =>
    leads.map(({ body, end }) => {
      const p = at(body.footprint, end, turn)
      return { x: x + p.x, y: y + p.y }
    }),
  )
  const reached = (on: (typeof ends)[number], [xl, xu, yl, yu]: Parameters<StaticTest>): number => {
    let least = 1
    for (const [i, { x, y }] of on.entries()) {
      least = Math.min(least, leads[i]!.reaches(deck, xl + x, xu + x, yl + y, yu + y))
      if (least < 0) break
    }
    return least
  }
  // the seat that was reached last is mostly reached from the next place too
  let last = 0
  return (...box) => {
    if (ends.length > 0 && reached(ends[last]!, box) === 1) return 1
    let most = -1
    for (const [k, on] of ends.entries()) {
      most = Math.max(most, reached(on, box))
      if (most < 1) continue
      last = k
      return 1
    }
    return most as -1 | 0
  }
}
