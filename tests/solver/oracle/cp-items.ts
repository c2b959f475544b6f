/** The CP-SAT oracle's items: where each may be, as variables. */
import type { Problem } from '../../../solver/problem.ts'
import { freeStands, nothingOff, seatedStands } from './candidates.ts'
import { type CpWriter, not, type Term } from './cp-model.ts'
import { patches } from './forbid.ts'
import { broken1, broken2, seatOf } from './rules.ts'
import { moved, type Stand, tiesOf } from './stand.ts'

/** One way of standing: everything but the position. */
export interface Mode {
  readonly literal: number
  /** A stand of this kind, anywhere. */
  readonly sample: Stand
  readonly xs: readonly number[]
  readonly ys: readonly number[]
  /** Plug-in parts: what is under it, and where. */
  readonly seat?: {
    readonly host: number
    readonly dx: number
    readonly dy: number
    readonly covered: readonly number[]
    readonly pins: readonly number[]
  }
}

export interface CpItem {
  readonly present: number
  readonly x: number
  readonly y: number
  readonly modes: readonly Mode[]
}

const sorted = (v: Iterable<number>): number[] => [...new Set(v)].sort((a, b) => a - b)

/** An item that stands on a deck: a table of its legal (mode, x, y). */
export function standing(w: CpWriter, p: Problem, i: number): CpItem {
  const item = p.items[i]!
  const groups = new Map<string, Stand[]>()
  for (const s of freeStands(p, i, nothingOff)) {
    if (broken1(p, s).length > 0) continue
    // Whether holes are reused depends on the place, and decides about webs.
    const key = [s.deck, s.turn, s.reuses, ...s.holes.map((h) => h.reused)].join()
    groups.set(key, [...(groups.get(key) ?? []), s])
  }
  const lists = [...groups.values()]
  const all = lists.flat()
  if (all.length === 0) {
    const nowhere = not(w.yes)
    if (item.required) w.clause([nowhere])
    return { present: nowhere, x: w.int([0]), y: w.int([0]), modes: [] }
  }
  const x = w.int(all.map((s) => s.x))
  const y = w.int(all.map((s) => s.y))
  const which = w.range(-1, lists.length - 1)
  const modes = lists.map((list, k): Mode => {
    const literal = w.bool()
    w.linear([[which, 1]], k, k, [literal])
    return { literal, sample: list[0]!, xs: sorted(list.map((s) => s.x)), ys: sorted(list.map((s) => s.y)) }
  })
  const present = item.required ? w.yes : w.bool()
  w.exactlyOne([...modes.map((m) => m.literal), not(present)])
  const rows = lists.flatMap((list, k) => list.map((s) => [k, s.x, s.y]))
  rows.push([-1, all[0]!.x, all[0]!.y])
  w.table([which, x, y], rows)
  return { present, x, y, modes }
}

/** Literals "to − from ≤ v" and "≥ v" along both axes, each made once. */
export class Relations {
  private readonly made = new Map<string, number>()
  private readonly w: CpWriter
  constructor(w: CpWriter) {
    this.w = w
  }

  private literal(from: number | undefined, to: number, v: number, least: boolean): number {
    const key = `${from}|${to}|${v}|${least}`
    const known = this.made.get(key)
    if (known !== undefined) return known
    const l = this.w.bool()
    const terms: Term[] =
      from === undefined
        ? [[to, 1]]
        : [
            [to, 1],
            [from, -1],
          ]
    this.w.linear(terms, least ? v : Number.NEGATIVE_INFINITY, least ? Number.POSITIVE_INFINITY : v, [l])
    this.made.set(key, l)
    return l
  }

  atMost(from: number | undefined, to: number, v: number): number {
    return this.literal(from, to, v, false)
  }

  atLeast(from: number | undefined, to: number, v: number): number {
    return this.literal(from, to, v, true)
  }

  /** Where all `when` literals hold, (to − from) keeps out of the patches; `dx`, `dy` are all differences that can arise then. */
  keepOut(
    from: { x: number; y: number } | undefined,
    to: { x: number; y: number },
    dx: readonly number[],
    dy: readonly number[],
    bad: readonly { x0: number; x1: number; y0: number; y1: number }[],
    when: readonly number[],
  ): void {
    for (const r of bad) {
      const out = when.map(not)
      if (r.x0 > 0) out.push(this.atMost(from?.x, to.x, dx[r.x0 - 1]!))
      if (r.x1 + 1 < dx.length) out.push(this.atLeast(from?.x, to.x, dx[r.x1 + 1]!))
      if (r.y0 > 0) out.push(this.atMost(from?.y, to.y, dy[r.y0 - 1]!))
      if (r.y1 + 1 < dy.length) out.push(this.atLeast(from?.y, to.y, dy[r.y1 + 1]!))
      this.w.clause(out)
    }
  }
}

/** A plug-in part: one literal for each contact of each host, at each way the host and the part may lie. */
export function plugged(
  w: CpWriter,
  rel: Relations,
  p: Problem,
  i: number,
  items: readonly (CpItem | undefined)[],
): CpItem {
  const item = p.items[i]!
  const x = w.range(-10_000_000, 10_000_000)
  const y = w.range(-10_000_000, 10_000_000)
  const modes: Mode[] = []
  items.forEach((host, h) => {
    if (!host || tiesOf(p.items[h]!).length === 0) return
    const ways = new Map<string, Mode[]>()
    for (const m of host.modes) {
      const key = `${m.sample.deck}|${m.sample.turn}`
      ways.set(key, [...(ways.get(key) ?? []), m])
    }
    for (const same of ways.values()) {
      const base = same[0]!.sample
      const xs = sorted(same.flatMap((m) => m.xs))
      const ys = sorted(same.flatMap((m) => m.ys))
      for (const s of seatedStands(p, i, base)) {
        const seat = seatOf(p, s, base)
        if (!seat.sound || broken2(p, s, base).length > 0) continue
        const legal = (a: number, b: number): boolean =>
          broken1(p, moved(s, xs[a]! - base.x, ys[b]! - base.y)).length === 0
        const bad = patches(xs.length, ys.length, (a, b) => !legal(a, b))
        const literal = w.bool()
        w.clause([not(literal), ...same.map((m) => m.literal)])
        rel.keepOut(undefined, host, xs, ys, bad, [literal])
        const dx = s.x - base.x
        const dy = s.y - base.y
        w.linear(
          [
            [x, 1],
            [host.x, -1],
          ],
          dx,
          dx,
          [literal],
        )
        w.linear(
          [
            [y, 1],
            [host.y, -1],
          ],
          dy,
          dy,
          [literal],
        )
        modes.push({ literal, sample: s, xs, ys, seat: { host: h, dx, dy, covered: seat.covered, pins: seat.pins } })
      }
    }
  })
  const present = item.required ? w.yes : w.bool()
  w.exactlyOne([...modes.map((m) => m.literal), not(present)])
  w.linear([[x, 1]], 0, 0, [not(present)])
  w.linear([[y, 1]], 0, 0, [not(present)])
  return { present, x, y, modes }
}
