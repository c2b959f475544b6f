/** The least wire length that the relations and bounds fixed so far allow: one circulation an axis, and its reasons. */
import { Flow } from '../search/flow.ts'
import type { Body, Model } from '../search/model.ts'
import { type End, extreme, type Relation, whyExtreme } from '../search/relation.ts'
import { type Candidate, chainsOf, type WireEnds } from '../search/wire-ends.ts'

/** A stretch of a wire along one axis: from one end to another, or to a span of fixed points (deck passes). */
interface Stretch {
  readonly a: End
  readonly b: End | undefined
  readonly lo: number
  readonly hi: number
  readonly weight: number
}

interface Plan {
  readonly wire: number
  readonly x: readonly Stretch[]
  readonly y: readonly Stretch[]
  readonly constant: number
  /** Literals of the chains of passes, one of which is taken. */
  readonly picks?: readonly number[]
}

const pickKey = (wire: number, from: number, to: number): string => `${wire}:${from}:${to}`

type Why = () => void

export class WireBound {
  private readonly model: Model
  private readonly wires: readonly WireEnds[]
  private readonly flow = { x: new Flow(), y: new Flow() }
  private readonly whys = { x: [] as (Why | undefined)[], y: [] as (Why | undefined)[] }
  private readonly nodes = new Map<number, number>()
  private readonly relations: { readonly x: Relation[]; readonly y: Relation[] } = { x: [], y: [] }
  private plans: Plan[] = []
  readonly picks = new Map<string, readonly number[]>()
  /** Literals of the candidates of an end, one of which is picked; by wire and side. */
  readonly ends = new Map<string, readonly number[]>()

  constructor(model: Model, wires: readonly WireEnds[]) {
    this.model = model
    this.wires = wires
    for (const b of model.bodies) {
      this.nodes.set(b.x.v, this.nodes.size / 2)
      this.nodes.set(b.y.v, (this.nodes.size - 1) / 2)
    }
    for (const g of model.relations)
      g.four.forEach((r, i) => {
        this.relations[i < 2 ? 'x' : 'y'].push(r)
      })
    this.pickChains()
    this.pickEnds()
  }

  /** Σ over wires; `fallback` gives the simple bound of a wire that no circulation can hold yet. */
  least(fallback: (wire: number) => number, sure: (wire: number) => boolean): number {
    const plans: Plan[] = []
    let sum = 0
    for (let i = 0; i < this.wires.length; i++) {
      if (!sure(i)) continue
      const plan = this.planOf(i)
      if (plan) {
        plans.push(plan)
        sum += plan.constant
      } else sum += fallback(i)
    }
    this.plans = plans
    return sum + this.along('x') + this.along('y')
  }

  /** Names everything that the last `least` read; `fallback` does so for the wires that it asked about. */
  why(fallback: (wire: number) => void, sure: (wire: number) => boolean): void {
    for (let i = 0; i < this.wires.length; i++) {
      if (!sure(i)) continue
      if (this.plans.some((p) => p.wire === i)) this.whyPlan(i)
      else fallback(i)
    }
    for (const axis of ['x', 'y'] as const) {
      const f = this.flow[axis]
      for (let a = 0; a < f.count; a++) if (f.flow[a]! > 0) this.whys[axis][a]?.()
    }
  }

  private planOf(i: number): Plan | undefined {
    const { e, problem } = this.model
    const w = this.wires[i]!
    const weight = w.wire.conductors
    const p = this.ended(w.from, this.ends.get(`${i}<`))
    const q = this.ended(w.to, this.ends.get(`${i}>`))
    if (!p || !q || weight === 0) return undefined
    const dp = this.deckOf(p)
    const dq = this.deckOf(q)
    if (dp === undefined || dq === undefined) return undefined
    if (dp === dq) {
      const stretch = (a: End, b: End): Stretch => ({ a, b, lo: 0, hi: 0, weight })
      return { wire: i, x: [stretch(p.tip.x, q.tip.x)], y: [stretch(p.tip.y, q.tip.y)], constant: 0 }
    }
    const picks = this.picks.get(pickKey(i, dp, dq))
    const list = chainsOf(this.model, dp, dq).filter((_, k) => !picks || !e.isFalse(picks[k]!))
    if (list.length === 0) return undefined
    const rise = Math.abs(problem.decks[dp]!.z - problem.decks[dq]!.z)
    const between = Math.min(...list.map((c) => c.between))
    const to = (a: End, at: readonly number[]): Stretch => ({
      a,
      b: undefined,
      lo: Math.min(...at),
      hi: Math.max(...at),
      weight,
    })
    return {
      wire: i,
      x: [
        to(
          p.tip.x,
          list.map((c) => c.x0),
        ),
        to(
          q.tip.x,
          list.map((c) => c.x1),
        ),
      ],
      y: [
        to(
          p.tip.y,
          list.map((c) => c.y0),
        ),
        to(
          q.tip.y,
          list.map((c) => c.y1),
        ),
      ],
      constant: weight * (between + rise),
      ...(picks ? { picks } : {}),
    }
  }

  /** Where several chains of passes lead from deck to deck, one is picked: a sum of runs can be bounded, a least of sums hardly. */
  private pickChains(): void {
    const { e, problem } = this.model
    this.wires.forEach((w, i) => {
      const p = only(w.from)
      const q = only(w.to)
      if (!p || !q) return
      for (const dp of p.decks)
        for (const dq of q.decks) {
          if (dp.deck === dq.deck || problem.passes.length < 2) continue
          const list = chainsOf(this.model, dp.deck, dq.deck)
          if (list.length < 2) continue
          const picks = list.map(() => e.newBool())
          for (const l of picks) e.order.allow(e.varOf(l), 100)
          e.addClause([...[p.lit, q.lit, dp.lit, dq.lit].map((l) => e.not(l)), ...picks])
          for (let a = 0; a < picks.length; a++)
            for (let b = a + 1; b < picks.length; b++) e.addClause([e.not(picks[a]!), e.not(picks[b]!)])
          this.picks.set(pickKey(i, dp.deck, dq.deck), picks)
        }
    })
  }

  /** The one thing that an end stands for: the picked one, or the only one left. */
  private ended(list: readonly Candidate[], picks: readonly number[] | undefined): Candidate | undefined {
    const { e } = this.model
    const picked = picks ? list.find((_, k) => e.isTrue(picks[k]!)) : undefined
    return picked ?? only(list.filter((c) => !e.isFalse(c.lit)))
  }

  /** Of several copies that an end may stand for, one is picked; the nearest is never worse, so no layout is lost. */
  private pickEnds(): void {
    const { e } = this.model
    this.wires.forEach((w, i) => {
      for (const [side, list] of [
        ['<', w.from],
        ['>', w.to],
      ] as const) {
        if (list.length < 2) continue
        const picks = list.map(() => e.newBool())
        list.forEach((c, k) => {
          e.order.allow(e.varOf(picks[k]!), 100)
          e.addClause([e.not(picks[k]!), c.lit])
          e.addClause([e.not(c.lit), ...picks])
          for (let o = 0; o < k; o++) e.addClause([e.not(picks[k]!), e.not(picks[o]!)])
        })
        this.ends.set(`${i}${side}`, picks)
      }
    })
  }

  private deckOf(c: Candidate): number | undefined {
    if (!c.body || c.decks.length === 1) return c.decks[0]?.deck
    let deck: number | undefined
    for (const m of c.body.modes) {
      if (this.model.e.isFalse(m.lit)) continue
      if (deck !== undefined && deck !== m.deck) return undefined
      deck = m.deck
    }
    return deck
  }

  private whyPlan(i: number): void {
    const { e } = this.model
    const w = this.wires[i]!
    for (const l of this.plans.find((p) => p.wire === i)?.picks ?? []) if (e.isFalse(l)) e.why(e.not(l))
    for (const [side, list] of [
      ['<', w.from],
      ['>', w.to],
    ] as const) {
      const ends = this.ends.get(`${i}${side}`)
      const picked = ends ? list.findIndex((_, k) => e.isTrue(ends[k]!)) : -1
      if (picked >= 0) e.why(ends![picked]!)
      for (const [k, c] of list.entries()) {
        if (picked >= 0 && k !== picked) continue
        if (e.isFalse(c.lit)) e.why(e.not(c.lit))
        else {
          e.why(c.lit)
          if (c.body && c.decks.length > 1) for (const m of c.body.modes) if (e.isFalse(m.lit)) e.why(e.not(m.lit))
        }
      }
    }
  }

  private along(axis: 'x' | 'y'): number {
    const { e, bodies } = this.model
    const f = this.flow[axis]
    const root = bodies.length
    f.reset(root + 1)
    f.start(root, 0)
    const whys: (Why | undefined)[] = []
    const arc = (tail: number, head: number, gain: number, cap: number, why: Why) => {
      whys.push(why)
      f.add(tail, head, gain, cap)
    }
    const open = Number.POSITIVE_INFINITY
    bodies.forEach((b: Body, i) => {
      const { v, values } = b[axis]
      f.start(i, values[e.lb[v]!] ?? 0)
      if (e.isFalse(b.present) || values.length === 0) return
      arc(root, i, values[e.lb[v]!]!, open, () => e.why(e.lbLit(v)))
      arc(i, root, -values[e.ub[v]!]!, open, () => e.why(e.ubLit(v)))
    })
    for (const r of this.relations[axis]) {
      if (!e.isTrue(r.lit)) continue
      const ao = extreme(e, r.a, 1)
      const bo = extreme(e, r.b, -1)
      if (Number.isNaN(ao + bo)) continue
      arc(this.nodes.get(r.a.axis.v)!, this.nodes.get(r.b.axis.v)!, ao - bo, open, () => {
        e.why(r.lit)
        whyExtreme(e, r.a, 1, ao)
        whyExtreme(e, r.b, -1, bo)
      })
    }
    for (const l of this.model.links) {
      if (l.axis !== axis || !l.when.every((k) => e.isTrue(k))) continue
      const values = l.on.values
      const [lo, hi] = [values[e.lb[l.on.v]!]!, values[e.ub[l.on.v]!]!]
      const least = l.offset + (l.sign === 1 ? lo : -hi)
      const most = l.offset + (l.sign === 1 ? hi : -lo)
      const why = (low: boolean) => {
        for (const k of l.when) e.why(k)
        e.why(low === (l.sign === 1) ? e.lbLit(l.on.v) : e.ubLit(l.on.v))
      }
      arc(l.host.index, l.body.index, least, open, () => why(true))
      arc(l.body.index, l.host.index, -most, open, () => why(false))
    }
    for (const plan of this.plans)
      for (const s of plan[axis]) {
        const tail = this.nodes.get(s.a.axis.v) ?? root
        const head = s.b ? (this.nodes.get(s.b.axis.v) ?? root) : root
        if (tail === head) continue
        const still = (end: End) => (this.nodes.has(end.axis.v) ? 0 : end.axis.values[0]!)
        const aLo = extreme(e, s.a, 1) + still(s.a)
        const aHi = extreme(e, s.a, -1) + still(s.a)
        const bLo = s.b ? extreme(e, s.b, 1) + still(s.b) : s.lo
        const bHi = s.b ? extreme(e, s.b, -1) + still(s.b) : s.hi
        arc(tail, head, aLo - bHi, s.weight, () => {
          whyExtreme(e, s.a, 1, extreme(e, s.a, 1))
          if (s.b) whyExtreme(e, s.b, -1, extreme(e, s.b, -1))
        })
        arc(head, tail, bLo - aHi, s.weight, () => {
          whyExtreme(e, s.a, -1, extreme(e, s.a, -1))
          if (s.b) whyExtreme(e, s.b, 1, extreme(e, s.b, 1))
        })
      }
    this.whys[axis] = whys
    return Math.max(0, f.solve())
  }
}

const only = <T>(list: readonly T[]): T | undefined => (list.length === 1 ? list[0] : undefined)
