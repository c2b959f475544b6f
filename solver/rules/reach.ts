/**
 * Where a body may stand so that all leads from exits reach it together: itself, or what is plugged into it for sure, on some seat. Follows
 * from R6, R7 and R10. One lead alone mostly reaches everywhere; a driver for two motors has far fewer places, on an upper deck often none.
 */
import { TRUE } from '../search/engine.ts'
import type { Body, Mode, Model } from '../search/model.ts'
import { at, gathered } from '../search/parts.ts'
import { firstAtLeast } from '../search/relation.ts'
import { cornerOn, seatsOn } from '../search/seats.ts'
import { Bitmap } from '../search/static-map.ts'
import type { StaticTest } from '../search/static-tests.ts'
import { chainsOf, riseBetween, type WireEnds, wireEnds } from '../search/wire-ends.ts'
import type { Point, Turn } from '../units.ts'
import { longest } from './r7-wires.ts'

/** A wire from an exit, with a limit, and the one body that it leads to. */
interface Lead {
  readonly body: Body
  /** In the body's frame. */
  readonly end: Point
  /** From where on a deck how much is left of it, along x and y together, µm: the exit, or passes that lead on from it. */
  readonly starts: (deck: number) => readonly Start[]
}

interface Start {
  readonly x: number
  readonly y: number
  readonly left: number
}

/** Once all rules are posted: what is plugged in, and into what, follows from them. */
export function withinReach(model: Model): void {
  const leads = wireEnds(model).flatMap((w) => leadOf(model, w) ?? [])
  for (const body of new Set(leads.map((l) => l.body))) {
    const host = body.seating ? sureHost(model, body) : body
    const mine = leads.filter((l) => l.body === body)
    if (host) model.addStatic(host, TRUE, (mode) => onSomeSeat(host, mode, seats(body, host, mode), mine), true)
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
  const starts: Lead['starts'] = (deck) =>
    deck === exit.deck
      ? [{ x, y, left: most }]
      : chainsOf(model, exit.deck, deck).map((c) => {
          const run = Math.abs(x - c.x0) + Math.abs(y - c.y0) + c.between + riseBetween(model, exit.deck, deck)
          return { x: c.x1, y: c.y1, left: most - run }
        })
  return { body: one.body, end: far.at, starts }
}

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
    return [{ turn, ...cornerOn(f, host.footprint, s, mode.turn) }]
  })
}

/** Seats in a row along x: ends of leads of the first, against its host's corner, and how far each seat is from it. */
interface SeatRow {
  readonly ends: readonly { readonly x: number; readonly y: number }[]
  /** From 0 on, in order. */
  readonly along: readonly number[]
  /** The widest step from one to the next. */
  readonly step: number
}

function rowsOf(all: readonly Seated[], leads: readonly Lead[]): SeatRow[] {
  const rows = gathered(all, (a, b) => a.turn === b.turn && a.y === b.y)
  return rows.map((row) => {
    const xs = row.map((s) => s.x).sort((a, b) => a - b)
    const first = { ...row[0]!, x: xs[0]! }
    return {
      ends: leads.map(({ body, end }) => plus(first, at(body.footprint, end, first.turn))),
      along: xs.map((x) => x - first.x),
      step: xs.reduce((most, x, i) => Math.max(most, x - (xs[i - 1] ?? x)), 0),
    }
  })
}

/** Of the host's corner: is there a seat that all leads reach? Row by row, as on a row each seat is reached on a few stretches. */
function onSomeSeat({ x, y }: Body, { deck }: Mode, all: readonly Seated[], leads: readonly Lead[]): StaticTest {
  const starts = leads.map((l) => l.starts(deck))
  const seatRows = rowsOf(all, leads)
  const [xs, ys] = [x.values, y.values]
  /** On a row, by column: how many more stretches than on the one before are over it. */
  const more = new Int32Array(xs.length + 1)
  /** Is one of them over the whole row? */
  let whole = false
  const cover = (low: number, high: number): void => {
    const [from, to] = [firstAtLeast(xs, low), firstAtLeast(xs, high + 1)]
    more[from]!++
    more[to]!--
    whole ||= from === 0 && to === xs.length
  }
  /** Adds where these seats are reached on a row, by the leads from `i` on, the first seat of the stretch from `low` to `high`. */
  const add = (seats: SeatRow, row: number, i: number, low: number, high: number): void => {
    if (i === leads.length) {
      const { along, step } = seats
      if (step <= high - low) cover(low - along.at(-1)!, high)
      else for (const x of along) cover(low - x, high - x)
      return
    }
    const end = seats.ends[i]!
    for (const { x, y, left } of starts[i]!) {
      const half = left - Math.abs(row + end.y - y)
      const [a, b] = [Math.max(low, x - end.x - half), Math.min(high, x - end.x + half)]
      if (a <= b) add(seats, row, i + 1, a, b)
    }
  }
  let made: Bitmap | undefined
  const map = (): Bitmap => {
    const reached = new Uint8Array(xs.length * ys.length)
    ys.forEach((row, j) => {
      more.fill(0)
      whole = false
      for (let n = 0; n < seatRows.length && !whole; n++)
        add(seatRows[n]!, row, 0, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY)
      for (let k = 0, over = 0; k < xs.length; k++) {
        over += more[k]!
        if (over > 0) reached[k * ys.length + j] = 1
      }
    })
    return new Bitmap(xs.length, ys.length, reached)
  }
  return (xl, xu, yl, yu) => {
    made ??= map()
    const [a, b] = [firstAtLeast(xs, xl), firstAtLeast(xs, xu)]
    const [c, d] = [firstAtLeast(ys, yl), firstAtLeast(ys, yu)]
    const n = made.count(a, b, c, d)
    return n === 0 ? -1 : n === (b - a + 1) * (d - c + 1) ? 1 : 0
  }
}

const plus = (s: Seated, p: Point): { readonly x: number; readonly y: number } => ({ x: s.x + p.x, y: s.y + p.y })
