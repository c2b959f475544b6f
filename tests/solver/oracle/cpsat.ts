/**
 * Oracle 2: the deck as a CP-SAT model. Positions are integer variables under tables of what one body may do; what two may not do
 * becomes clauses over their differences; near, beyond, wires and balance are linear. Lexicographic by repeated solves.
 */
import type { ObjectiveName, Problem, WireEnd } from '../../../solver/problem.ts'
import { type CpItem, type Mode, plugged, Relations, standing } from './cp-items.ts'
import { CpWriter, not, type Term } from './cp-model.ts'
import { boxClashes, clashTable, differences } from './forbid.ts'
import { centroid, objectivesOf } from './measure.ts'
import { viaPasses } from './rules.ts'
import { type Stand, stand, tiesOf, turned } from './stand.ts'

/** Least cost by objective, in Um and points; `layout` as stands. */
export type StageAnswer =
  | { readonly status: 'optimal'; readonly value: number; readonly layout: readonly (Stand | undefined)[] }
  | { readonly status: 'infeasible' }
  | { readonly status: 'unknown' }

const SPAN = 4_000_000

export class CpOracle {
  private readonly w = new CpWriter()
  private readonly items: CpItem[] = []
  private readonly lengths: number[] = []
  private readonly covered: number[] = []
  private readonly p: Problem

  constructor(p: Problem) {
    this.p = p
    const rel = new Relations(this.w)
    const plug = (i: number): boolean => p.items[i]!.footprint.mount.kind === 'plug-in'
    p.items.forEach((_, i) => {
      if (!plug(i)) this.items[i] = standing(this.w, p, i)
    })
    p.items.forEach((_, i) => {
      if (plug(i))
        this.items[i] = plugged(
          this.w,
          rel,
          p,
          i,
          this.items.map((it, k) => (plug(k) ? undefined : it)),
        )
    })
    for (let i = 0; i < p.items.length; i++)
      for (let j = i + 1; j < p.items.length; j++) {
        if (!plug(i) && !plug(j)) this.twoStanding(rel, i, j)
        else if (plug(i) && plug(j)) this.twoPlugs(rel, i, j)
        else this.plugAnd(rel, plug(i) ? i : j, plug(i) ? j : i)
      }
    this.places()
    this.ties()
    this.wires()
  }

  private twoStanding(rel: Relations, i: number, j: number): void {
    const [a, b] = [this.items[i]!, this.items[j]!]
    for (const m of a.modes)
      for (const n of b.modes) {
        const dx = differences(m.xs, n.xs)
        const dy = differences(m.ys, n.ys)
        rel.keepOut(a, b, dx, dy, clashTable(this.p, m.sample, n.sample, dx, dy), [m.literal, n.literal])
      }
  }

  /** A plug-in part against a body that is not its host: positions of the part follow its host's. */
  private plugAnd(rel: Relations, i: number, j: number): void {
    const body = this.items[j]!
    for (const m of this.items[i]!.modes) {
      if (m.seat!.host === j) continue
      const host = this.items[m.seat!.host]!
      for (const n of body.modes) {
        const dx = differences(m.xs, n.xs)
        const dy = differences(m.ys, n.ys)
        const apart = (d: readonly number[], by: number): number[] => d.map((v) => v - by)
        const bad = clashTable(this.p, m.sample, n.sample, apart(dx, m.seat!.dx), apart(dy, m.seat!.dy))
        rel.keepOut(host, body, dx, dy, bad, [m.literal, n.literal])
      }
    }
  }

  private twoPlugs(rel: Relations, i: number, j: number): void {
    const [a, b] = [this.items[i]!, this.items[j]!]
    for (const m of a.modes)
      for (const n of b.modes) {
        if (m.seat!.host !== n.seat!.host) continue
        // A pin and another part's pin or body on one contact.
        const hits = (u: Mode, v: Mode): boolean => u.seat!.pins.some((k) => v.seat!.covered.includes(k))
        if (hits(m, n) || hits(n, m)) this.w.clause([not(m.literal), not(n.literal)])
      }
    const kinds = (it: CpItem): Map<string, Mode[]> => {
      const out = new Map<string, Mode[]>()
      for (const m of it.modes) {
        const key = `${m.sample.deck}|${m.sample.turn}|${m.sample.under}`
        out.set(key, [...(out.get(key) ?? []), m])
      }
      return out
    }
    for (const ms of kinds(a).values())
      for (const ns of kinds(b).values()) {
        const when = [this.w.any(ms.map((m) => m.literal)), this.w.any(ns.map((n) => n.literal))]
        for (const k of boxClashes(this.p, ms[0]!.sample, ns[0]!.sample)) {
          this.w.clause([
            ...when.map(not),
            rel.atMost(a.x, b.x, k.x[0]),
            rel.atLeast(a.x, b.x, k.x[1]),
            rel.atMost(a.y, b.y, k.y[0]),
            rel.atLeast(a.y, b.y, k.y[1]),
          ])
        }
      }
  }

  private widths(i: number, f: (m: Mode) => number): Term[] {
    return this.items[i]!.modes.map((m) => [m.literal, f(m)] as const)
  }

  /** near, beyond and host. */
  private places(): void {
    const { w, p } = this
    p.items.forEach((item, i) => {
      const me = this.items[i]!
      for (const e of item.place) {
        if (e.kind !== 'near' && e.kind !== 'beyond' && e.kind !== 'host') continue
        const ways = e.item.items
          .filter((j) => j !== i)
          .map((j) => {
            const its = this.items[j]!
            const l = w.bool()
            w.clause([not(l), its.present])
            if (e.kind === 'host') {
              w.clause([not(l), ...me.modes.filter((m) => m.seat?.host === j).map((m) => m.literal)])
              return l
            }
            const across = (factor: number): Term[] => [
              [me.x, 2 * factor],
              [its.x, -2 * factor],
              ...this.widths(i, (m) => factor * m.sample.box.w),
              ...this.widths(j, (m) => -factor * m.sample.box.w),
            ]
            const along = (factor: number): Term[] => [
              [me.y, 2 * factor],
              [its.y, -2 * factor],
              ...this.widths(i, (m) => factor * m.sample.box.h),
              ...this.widths(j, (m) => -factor * m.sample.box.h),
            ]
            if (e.kind === 'near') {
              for (const a of [1, -1])
                for (const b of [1, -1])
                  w.linear([...across(a), ...along(b)], Number.NEGATIVE_INFINITY, 2 * e.within, [l, me.present])
              return l
            }
            const far = Number.POSITIVE_INFINITY
            const h = (k: number, f: number): Term[] => this.widths(k, (m) => f * m.sample.box.h)
            const v = (k: number, f: number): Term[] => this.widths(k, (m) => f * m.sample.box.w)
            if (e.side === 'front') w.linear([[me.y, 1], [its.y, -1], ...h(j, -1)], 0, far, [l, me.present])
            if (e.side === 'back') w.linear([[its.y, 1], [me.y, -1], ...h(i, -1)], 0, far, [l, me.present])
            if (e.side === 'left') w.linear([[its.x, 1], [me.x, -1], ...v(i, -1)], 0, far, [l, me.present])
            if (e.side === 'right') w.linear([[me.x, 1], [its.x, -1], ...v(j, -1)], 0, far, [l, me.present])
            return l
          })
        w.clause([not(me.present), ...ways])
      }
    })
  }

  private ties(): void {
    const seats = new Map<string, number[]>()
    for (const it of this.items)
      for (const m of it.modes)
        for (const k of m.seat?.covered ?? []) {
          const key = `${m.seat!.host}|${k}`
          seats.set(key, [...(seats.get(key) ?? []), m.literal])
        }
    for (const literals of seats.values()) this.covered.push(this.w.any(literals))
  }

  private endsOf(e: WireEnd): { when: number[]; deck: number; x: Term[]; y: Term[]; bx: number; by: number }[] {
    if (e.kind === 'exit') {
      const at = this.p.exits[e.exit]!
      return [{ when: [], deck: at.deck, x: [], y: [], bx: at.at.x, by: at.at.y }]
    }
    return e.ref.items.flatMap((j) => {
      const it = this.items[j]!
      const f = this.p.items[j]!.footprint
      const decks = [...new Set(it.modes.map((m) => m.sample.deck))]
      return decks.map((deck) => {
        const off = (axis: 0 | 1): Term[] =>
          this.widths(j, (m) => turned(e.at.x, e.at.y, f.width, f.depth, m.sample.turn)[axis])
        const here = this.w.any(it.modes.filter((m) => m.sample.deck === deck).map((m) => m.literal))
        return {
          when: [here],
          deck,
          x: [[it.x, 1], ...off(0)] as Term[],
          y: [[it.y, 1], ...off(1)] as Term[],
          bx: 0,
          by: 0,
        }
      })
    })
  }

  /** Every way a wire may run: which copies, which first and last pass. The solver picks one, so that it is the shortest. */
  private wires(): void {
    const { w, p } = this
    for (const wire of p.wires) {
      const length = w.range(0, SPAN)
      this.lengths.push(length)
      const there = (e: WireEnd): number =>
        e.kind === 'exit' ? w.yes : w.any(e.ref.items.map((j) => this.items[j]!.present))
      const counts = w.bool()
      const both = [there(wire.from), there(wire.to)]
      w.clause([counts, ...both.map(not)])
      for (const l of both) w.clause([not(counts), l])
      const ways: number[] = []
      for (const a of this.endsOf(wire.from))
        for (const b of this.endsOf(wire.to)) {
          const dz = Math.abs(p.decks[a.deck]!.z - p.decks[b.deck]!.z)
          for (const via of this.routes(a.deck, b.deck)) {
            const l = w.bool()
            ways.push(l)
            for (const k of [...a.when, ...b.when]) w.clause([not(l), k])
            // |from − leave| + between + |arrive − to| + dz ≤ length, one line for each choice of signs.
            for (let s = 0; s < (via ? 16 : 4); s++) {
              const g = (k: number): number => ((s >> k) & 1 ? 1 : -1)
              const t = (terms: Term[], f: number): Term[] => terms.map(([v, c]) => [v, c * f] as const)
              const terms: Term[] = via
                ? [...t(a.x, g(0)), ...t(a.y, g(1)), ...t(b.x, g(2)), ...t(b.y, g(3))]
                : [...t(a.x, g(0)), ...t(a.y, g(1)), ...t(b.x, -g(0)), ...t(b.y, -g(1))]
              const base = via
                ? g(0) * (a.bx - via.leave[0]) +
                  g(1) * (a.by - via.leave[1]) +
                  g(2) * (b.bx - via.arrive[0]) +
                  g(3) * (b.by - via.arrive[1]) +
                  via.between
                : g(0) * (a.bx - b.bx) + g(1) * (a.by - b.by)
              w.linear([...terms, [length, -1]], Number.NEGATIVE_INFINITY, -base - dz, [l])
            }
          }
        }
      w.clause([not(counts), ...ways])
      for (const m of [
        wire.maxLength,
        ...[wire.from, wire.to].map((e) => (e.kind === 'exit' ? p.exits[e.exit]!.free : undefined)),
      ])
        if (m !== undefined) w.linear([[length, 1]], Number.NEGATIVE_INFINITY, m - wire.loop, [counts])
    }
  }

  /** Straight on one deck; over every first and last pass from deck to deck. */
  private routes(
    a: number,
    b: number,
  ): ({ leave: [number, number]; arrive: [number, number]; between: number } | undefined)[] {
    if (a === b) return [undefined]
    const { passes } = this.p
    return passes.flatMap((first) =>
      passes.flatMap((last) => {
        if (!first.decks.includes(a) || !last.decks.includes(b)) return []
        const leave: [number, number] = [first.at.x, first.at.y]
        const arrive: [number, number] = [last.at.x, last.at.y]
        // A chain that begins with `first` and ends with `last`: from the first's point on this deck to the last's on that one.
        const between = viaPasses(this.p, [a, ...leave], [b, ...arrive])
        return between === Number.POSITIVE_INFINITY ? [] : [{ leave, arrive, between }]
      }),
    )
  }

  /** Objective `k` made least with earlier costs no worse than given; `k` = number of objectives: any legal layout. */
  async least(k: number, atMost: readonly number[], seconds = 60): Promise<StageAnswer> {
    const names = objectivesOf(this.p)
    const used = names.slice(0, k + 1)
    let best: StageAnswer = { status: 'infeasible' }
    for (const masses of used.includes('balance') ? this.massPatterns() : [undefined]) {
      const w = this.w.copy()
      if (masses)
        for (const [i, here] of masses) w.clause([here ? this.items[i]!.present : not(this.items[i]!.present)])
      const terms = used.map((name) => this.termsOf(w, name, masses))
      const total = this.totalMass(masses)
      const toCost = (name: string, v: number): number =>
        name === 'balance' ? (total === 0 ? 0 : Math.sqrt(v) / (2 * total)) : v
      used.slice(0, k).forEach((name, n) => {
        const most = atMost[n]!
        const bound = name === 'balance' ? Math.floor((most * 2 * total) ** 2 * (1 + 1e-12) + 1) : most
        w.linear(terms[n]!, Number.NEGATIVE_INFINITY, bound)
      })
      const answer = await w.solve(terms[k] ?? [], seconds)
      if (answer.status === 'unknown') return answer
      if (answer.status === 'infeasible') continue
      const value = names[k] ? toCost(names[k], answer.value) : 0
      if (best.status !== 'optimal' || value < best.value)
        best = { status: 'optimal', value, layout: this.layout(answer.values) }
    }
    return best
  }

  private termsOf(w: CpWriter, name: ObjectiveName, masses: ReadonlyMap<number, boolean> | undefined): Term[] {
    const { items } = this.p
    switch (name) {
      case 'new-holes':
        throw new Error('not asked of CP-SAT')
      case 'free-tie-points': {
        const points = this.items.map((it, i): Term => [it.present, -tiesOf(items[i]!).length])
        return [...points, ...this.covered.map((l): Term => [l, 1])]
      }
      case 'optional-value':
        return this.items.map((it, i): Term => [it.present, items[i]!.required ? 0 : -items[i]!.value])
      case 'wire-length':
        return this.lengths.map((l, i): Term => [l, this.p.wires[i]!.conductors])
      case 'balance':
        return this.squares(w, masses!).map((s): Term => [s, 1])
    }
  }

  /** Which of the optional items with a mass are there: the centre of gravity divides by their sum. */
  private massPatterns(): Map<number, boolean>[] {
    const doubtful = this.p.items.flatMap((it, i) => (!it.required && !it.later && it.footprint.mass > 0 ? [i] : []))
    return Array.from(
      { length: 2 ** doubtful.length },
      (_, s) => new Map(doubtful.map((i, k) => [i, ((s >> k) & 1) === 1])),
    )
  }

  private heavy(masses: ReadonlyMap<number, boolean> | undefined): number[] {
    return this.p.items.flatMap((it, i) =>
      it.footprint.mass > 0 && !it.later && (masses?.get(i) ?? it.required) ? [i] : [],
    )
  }

  private totalMass(masses: ReadonlyMap<number, boolean> | undefined): number {
    return this.heavy(masses).reduce((s, i) => s + this.p.items[i]!.footprint.mass, this.p.chassis?.mass ?? 0)
  }

  /** Squares of 2·(Σ m·r − M·centroid) along x and y. */
  private squares(w: CpWriter, masses: ReadonlyMap<number, boolean>): [number, number] {
    const c = this.p.chassis!
    const total = this.totalMass(masses)
    const [gx, gy] = centroid(c.contact).map(Math.round) as [number, number]
    const one = (axis: 'x' | 'y', g: number): number => {
      const terms = this.heavy(masses).flatMap((i): Term[] => {
        const m = this.p.items[i]!.footprint.mass
        return [
          [this.items[i]![axis], 2 * m],
          ...this.widths(i, (k) => m * (axis === 'x' ? k.sample.box.w : k.sample.box.h)),
        ]
      })
      return w.square(terms, 2 * c.mass * c.centre[axis] - 2 * total * g, 2 * total * 100_000 + 1)
    }
    return [one('x', gx), one('y', gy)]
  }

  private layout(values: readonly number[]): (Stand | undefined)[] {
    return this.items.map((it, item) => {
      const m = it.modes.find((k) => values[k.literal] === 1)
      if (!m) return undefined
      const { deck, turn } = m.sample
      return stand(this.p, {
        item,
        deck,
        turn: turn as 0,
        x: values[it.x]!,
        y: values[it.y]!,
        ...(m.seat ? { host: m.seat.host } : {}),
      })
    })
  }
}

/** The whole order of objectives, one after the other. */
export async function cpSat(
  p: Problem,
  seconds = 60,
): Promise<{ status: 'optimal' | 'infeasible' | 'unknown'; costs: number[]; layout: readonly (Stand | undefined)[] }> {
  const oracle = new CpOracle(p)
  const costs: number[] = []
  let layout: readonly (Stand | undefined)[] = []
  const n = objectivesOf(p).length
  for (let k = 0; k < Math.max(n, 1); k++) {
    const a = await oracle.least(k, costs, seconds)
    if (a.status !== 'optimal') return { status: a.status, costs, layout }
    if (n > 0) costs.push(a.value)
    layout = a.layout
  }
  return { status: 'optimal', costs, layout }
}
