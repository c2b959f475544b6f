/** Two plug-in parts that may sit on one breadboard, seat against seat: what both need that look at such a pair. */
import type { Footprint } from '../problem.ts'
import type { Engine, Propagator } from './engine.ts'
import type { Body, Model } from './model.ts'
import type { Axis } from './relation.ts'
import { type Seat, seatsOn } from './seats.ts'

/** Both parts on one host: literals that are true exactly then. */
export interface Host {
  /** Item index. */
  readonly host: number
  readonly footprint: Footprint
  readonly lits: readonly [number, number]
}

export type Side = 0 | 1

/** Are all pins so far within their part's body (Um; less than 0: no farther beyond it)? */
export const pinsWithin = ({ plug, width, depth }: Footprint, by: number): boolean =>
  plug!.pins.every(({ at: { x, y } }) => x >= by && y >= by && x + by <= width && y + by <= depth)

/** Bodies that both can be plugged into. */
export function boardsOf(model: Model, a: Body, b: Body): Body[] {
  const common = new Set(a.modes.flatMap(({ host }) => (b.modes.some((m) => m.host === host) ? [host] : [])))
  return [...common].flatMap((h) => model.bodies[h] ?? [])
}

/** The same with their literals, which this makes. */
export function hostsOf(model: Model, a: Body, b: Body): Host[] {
  const on = (body: Body, { index }: Body) =>
    model.class(
      body,
      body.modes.filter((m) => m.host === index),
    )
  return boardsOf(model, a, b).map((h) => ({ host: h.index, footprint: h.footprint, lits: [on(a, h), on(b, h)] }))
}

/** Calls whenever hosts, turns or seats of the two change. */
export function wakeOnSeats(e: Engine, it: Propagator, bodies: readonly Body[], hosts: readonly Host[]): void {
  for (const { lits } of hosts)
    for (const l of lits) {
      e.wakeOnTrue(it, l)
      e.wakeOnTrue(it, e.not(l))
    }
  for (const { seating } of bodies) {
    for (const w of seating!.ways) e.wakeOnTrue(it, w.lit)
    for (const a of [seating!.u, seating!.v]) e.wakeOn(it, a.v, true, true)
  }
  e.schedule(it)
}

const low = (e: Engine, a: Axis): number => a.values[e.lb[a.v]!]!
const high = (e: Engine, a: Axis): number => a.values[e.ub[a.v]!]!

/** The seat that a body has taken on a host of this footprint, and the literals that say so. */
export function seated(
  e: Engine,
  body: Body,
  host: Footprint,
): { readonly seat: Seat; readonly why: readonly number[] } | undefined {
  const { u, v, ways } = body.seating!
  if (e.lb[u.v] !== e.ub[u.v] || e.lb[v.v] !== e.ub[v.v]) return undefined
  const way = ways.find((w) => w.footprint === host && e.isTrue(w.lit))
  if (!way) return undefined
  const [su, sv] = [low(e, u), low(e, v)]
  const seat = seatsOn(body.footprint, host).find((s) => s.turn === way.turn && s.u === su && s.v === sv)
  return seat && { seat, why: [way.lit, e.lbLit(u.v), e.ubLit(u.v), e.lbLit(v.v), e.ubLit(v.v)] }
}

/** Looks at every seat on a host of this footprint that is still open to a body, with its place in `seatsOn`. */
export function eachOpen(e: Engine, body: Body, host: Footprint, look: (seat: Seat, index: number) => void): void {
  const { u, v, ways } = body.seating!
  const [ul, uu, vl, vu] = [low(e, u), high(e, u), low(e, v), high(e, v)]
  const turns = ways.filter((w) => w.footprint === host && !e.isFalse(w.lit)).map((w) => w.turn)
  seatsOn(body.footprint, host).forEach((s, i) => {
    if (s.u >= ul && s.u <= uu && s.v >= vl && s.v <= vu && turns.includes(s.turn)) look(s, i)
  })
}

/** Adds to the reason why no other seats are open to a body. */
export function whyOpen(e: Engine, body: Body): void {
  const { u, v, ways } = body.seating!
  for (const a of [u, v]) {
    e.why(e.lbLit(a.v))
    e.why(e.ubLit(a.v))
  }
  for (const w of ways) if (e.isFalse(w.lit)) e.why(e.not(w.lit))
}
