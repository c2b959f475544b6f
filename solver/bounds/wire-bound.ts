/** The least wire length that the relations and bounds fixed so far allow: one circulation an axis, and its reasons. */

import { Flow } from '../search/flow.ts'
import type { Body, Link, Model } from '../search/model.ts'
import { type End, extreme, firstAtLeast, type Relation, whyExtreme } from '../search/relation.ts'
import { type Candidate, chainsOf, riseBetween, type WireEnds, whyDecks } from '../search/wire-ends.ts'
import { type AxisName, only, pickKey, WirePicks } from './wire-picks.ts'

const AXES = ['x', 'y'] as const

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

/** What an arc stands for. */
const LOW = 0
const HIGH = 1
const ORDER = 2
const SEAT_LOW = 3
const SEAT_HIGH = 4
const THERE = 5
const BACK = 6

/** The circulation along one axis, and what each of its arcs stands for. */
class Along {
  readonly flow = new Flow()
  readonly relations: readonly Relation[]
  /** Of their literals, which are positive; and the bodies that they join. */
  readonly vars: Int32Array
  readonly tails: Int32Array
  readonly heads: Int32Array
  kind = new Uint8Array(256)
  ref = new Int32Array(256)
  /** Of the stretches: the wire, and its arcs one after the other. */
  stretches: { readonly s: Stretch; readonly wire: number; readonly key: number }[] = []
  value = 0
  /** Where bodies were best, and by kind what each arc carried, when last solved: mostly nearly so now. */
  readonly was: Float64Array
  private readonly carried: readonly Float64Array[]

  constructor(
    bodies: number,
    relations: readonly Relation[],
    links: number,
    wires: number,
    nodeOf: (v: number) => number,
  ) {
    this.relations = relations
    this.vars = Int32Array.from(relations, (r) => r.v)
    this.tails = Int32Array.from(relations, (r) => nodeOf(r.a.axis.v))
    this.heads = Int32Array.from(relations, (r) => nodeOf(r.b.axis.v))
    this.was = new Float64Array(bodies)
    const sizes = [bodies, bodies, relations.length, links, links, 2 * wires, 2 * wires]
    this.carried = sizes.map((n) => new Float64Array(n))
  }

  /** Keeps what was found for the next time. */
  keep(): void {
    const { flow, kind, ref, carried, was, stretches } = this
    const root = was.length
    for (let i = 0; i < root; i++) was[i] = flow.at(i) - flow.at(root)
    for (const list of carried) list.fill(0)
    for (let a = 0; a < flow.count; a++) {
      const k = kind[a]!
      carried[k]![k >= THERE ? stretches[ref[a]!]!.key : ref[a]!] = flow.flow[a]!
    }
  }

  add(kind: number, ref: number, tail: number, head: number, gain: number, cap: number): void {
    const a = this.flow.count
    if (a === this.kind.length) {
      const [kinds, refs] = [this.kind, this.ref]
      this.kind = new Uint8Array(2 * a)
      this.ref = new Int32Array(2 * a)
      this.kind.set(kinds)
      this.ref.set(refs)
    }
    this.kind[a] = kind
    this.ref[a] = ref
    const key = kind >= THERE ? this.stretches[ref]!.key : ref
    this.flow.add(tail, head, gain, cap, this.carried[kind]![key]!)
  }
}

export class WireBound {
  private readonly model: Model
  private readonly wires: readonly WireEnds[]
  private readonly along: Readonly<Record<AxisName, Along>>
  /** By variable: the body. */
  private readonly nodes = new Map<number, number>()
  private plans: Plan[] = []
  /** Wires measured by boxes alone. */
  private boxed: number[] = []
  private rest = 0
  readonly picks: WirePicks['chains']
  readonly ends: WirePicks['ends']
  readonly choices: WirePicks['choices']

  constructor(model: Model, wires: readonly WireEnds[]) {
    this.model = model
    this.wires = wires
    for (const b of model.bodies) {
      this.nodes.set(b.x.v, b.index)
      this.nodes.set(b.y.v, b.index)
    }
    const along = (from: number) =>
      new Along(
        model.bodies.length,
        model.relations.flatMap((g) => g.four.slice(from, from + 2)),
        model.links.length,
        wires.length,
        (v) => this.nodes.get(v)!,
      )
    this.along = { x: along(0), y: along(2) }
    const { chains, ends, choices } = new WirePicks(model, wires, (b, axis) => this.wanted(b, axis))
    this.picks = chains
    this.ends = ends
    this.choices = choices
  }

  /** Σ over wires; `boxes` gives the simple bound of a wire that no circulation can hold yet. */
  least(boxes: (wire: number) => number, sure: (wire: number) => boolean): number {
    this.plans = []
    this.boxed = []
    this.rest = 0
    for (let i = 0; i < this.wires.length; i++) {
      if (!sure(i)) continue
      const plan = this.planOf(i)
      if (plan) {
        this.plans.push(plan)
        this.rest += plan.constant
      } else if (boxes(i) > 0) {
        this.boxed.push(i)
        this.rest += boxes(i)
      }
    }
    return this.rest + this.solve('x') + this.solve('y')
  }

  /** Names enough of what the last `least` read for it to be more than `most`; `whyBoxes` names a wire measured by boxes. */
  why(boxes: (wire: number) => number, whyBoxes: (wire: number) => void, most: number): void {
    const { x, y } = this.along
    const spare = () => this.rest + x.value + y.value - most
    for (const i of this.boxed) {
      if (boxes(i) < spare()) this.rest -= boxes(i)
      else whyBoxes(i)
    }
    let left = spare() - 1
    for (const p of this.plans) if (this.counts(p)) this.whyPlan(p.wire)
    for (const axis of AXES) {
      const { flow, kind } = this.along[axis]
      for (let a = 0; a < flow.count; a++) {
        if (flow.flow[a]! <= 0) continue
        if (kind[a]! > HIGH) this.whyArc(axis, a)
        else left = this.whyBound(axis, a, left)
      }
    }
  }

  private counts(p: Plan): boolean {
    if (p.constant > 0) return true
    for (const axis of AXES) {
      const { flow, kind, ref, stretches } = this.along[axis]
      for (let a = 0; a < flow.count; a++)
        if (kind[a]! >= THERE && flow.flow[a]! > 0 && stretches[ref[a]!]!.wire === p.wire) return true
    }
    return false
  }

  /** A body's bound, as weak as what is left over allows; returns what is left then. */
  private whyBound(axis: AxisName, a: number, left: number): number {
    const { e, bodies } = this.model
    const { flow, kind, ref } = this.along[axis]
    const { v, values } = bodies[ref[a]!]![axis]
    const f = flow.flow[a]!
    const gain = flow.gain[a]!
    const give = Math.floor(left / f)
    if (kind[a] === LOW) {
      const k = firstAtLeast(values, gain - give)
      const used = Math.min(gain, values[k]!)
      e.why(e.ge(v, k))
      return left - f * (gain - used)
    }
    let k = firstAtLeast(values, -gain + give)
    if (k === values.length || values[k]! > -gain + give) k--
    e.why(e.lt(v, k + 1))
    return left - f * (values[k]! + gain)
  }

  private whyArc(axis: AxisName, a: number): void {
    const { e, links } = this.model
    const { kind, ref, relations, stretches } = this.along[axis]
    const i = ref[a]!
    switch (kind[a]) {
      case ORDER: {
        const r = relations[i]!
        e.why(r.lit)
        whyExtreme(e, r.a, 1, extreme(e, r.a, 1))
        whyExtreme(e, r.b, -1, extreme(e, r.b, -1))
        break
      }
      case SEAT_LOW:
      case SEAT_HIGH: {
        const l = links[i]!
        for (const k of l.when) e.why(k)
        e.why((kind[a] === SEAT_LOW) === (l.sign === 1) ? e.lbLit(l.on.v) : e.ubLit(l.on.v))
        break
      }
      default: {
        const { s } = stretches[i]!
        const sign = kind[a] === THERE ? 1 : -1
        whyExtreme(e, s.a, sign, extreme(e, s.a, sign))
        if (s.b) whyExtreme(e, s.b, sign === 1 ? -1 : 1, extreme(e, s.b, sign === 1 ? -1 : 1))
      }
    }
  }

  /** Where a body would stand for the least wire, as far as the last `least` could tell (µm). */
  wanted(body: Body, axis: AxisName): number {
    return this.along[axis].flow.at(body.index) - this.along[axis].flow.at(this.model.bodies.length)
  }

  private planOf(i: number): Plan | undefined {
    const { e } = this.model
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
    const rise = riseBetween(this.model, dp, dq)
    const between = Math.min(...list.map((c) => c.between))
    const to = (a: End, at: readonly number[]): Stretch => ({
      a,
      b: undefined,
      lo: Math.min(...at),
      hi: Math.max(...at),
      weight,
    })
    const over = (of: 'x0' | 'y0' | 'x1' | 'y1') => list.map((c) => c[of])
    return {
      wire: i,
      x: [to(p.tip.x, over('x0')), to(q.tip.x, over('x1'))],
      y: [to(p.tip.y, over('y0')), to(q.tip.y, over('y1'))],
      constant: weight * (between + rise),
      ...(picks ? { picks } : {}),
    }
  }

  /** The one thing that an end stands for: the picked one, or the only one left. */
  private ended(list: readonly Candidate[], picks: readonly number[] | undefined): Candidate | undefined {
    const { e } = this.model
    const picked = picks ? list.find((_, k) => e.isTrue(picks[k]!)) : undefined
    return picked ?? only(list.filter((c) => !e.isFalse(c.lit)))
  }

  private deckOf(c: Candidate): number | undefined {
    if (c.decks.length === 1) return c.decks[0]!.deck
    return c.decks.find((d) => this.model.e.isTrue(d.lit))?.deck
  }

  /** That the wire counts, what its ends stand for, on which decks, and which chains of passes are left. */
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
          whyDecks(e, c)
        }
      }
    }
  }

  private solve(axis: AxisName): number {
    const { e, bodies, links } = this.model
    const it = this.along[axis]
    const f = it.flow
    const root = bodies.length
    f.reset(root + 1)
    f.start(root, 0)
    const open = Number.POSITIVE_INFINITY
    bodies.forEach((b: Body, i) => {
      const { v, values } = b[axis]
      f.start(i, values[e.lb[v]!] ?? 0, Math.min(it.was[i]!, values[e.ub[v]!] ?? 0))
      if (e.isFalse(b.present) || values.length === 0) return
      it.add(LOW, i, root, i, values[e.lb[v]!]!, open)
      it.add(HIGH, i, i, root, -values[e.ub[v]!]!, open)
    })
    const { relations, vars, tails, heads } = it
    for (let i = 0; i < vars.length; i++) {
      if (e.lb[vars[i]!] !== 1) continue
      const r = relations[i]!
      // what nobody asks for any more need not hold
      if (e.ub[r.need] !== 1) continue
      const gap = extreme(e, r.a, 1) - extreme(e, r.b, -1)
      if (!Number.isNaN(gap)) it.add(ORDER, i, tails[i]!, heads[i]!, gap, open)
    }
    links.forEach((l: Link, i) => {
      if (l.axis !== axis || !l.when.every((k) => e.isTrue(k))) return
      const values = l.on.values
      const [lo, hi] = [values[e.lb[l.on.v]!]!, values[e.ub[l.on.v]!]!]
      const least = l.offset + (l.sign === 1 ? lo : -hi)
      const most = l.offset + (l.sign === 1 ? hi : -lo)
      it.add(SEAT_LOW, i, l.host.index, l.body.index, least, open)
      it.add(SEAT_HIGH, i, l.body.index, l.host.index, -most, open)
    })
    it.stretches = []
    for (const plan of this.plans)
      for (const [part, s] of plan[axis].entries()) {
        const tail = this.nodes.get(s.a.axis.v) ?? root
        const head = s.b ? (this.nodes.get(s.b.axis.v) ?? root) : root
        if (tail === head) continue
        const still = (end: End) => (this.nodes.has(end.axis.v) ? 0 : end.axis.values[0]!)
        const aLo = extreme(e, s.a, 1) + still(s.a)
        const aHi = extreme(e, s.a, -1) + still(s.a)
        const bLo = s.b ? extreme(e, s.b, 1) + still(s.b) : s.lo
        const bHi = s.b ? extreme(e, s.b, -1) + still(s.b) : s.hi
        const i = it.stretches.push({ s, wire: plan.wire, key: 2 * plan.wire + part }) - 1
        it.add(THERE, i, tail, head, aLo - bHi, s.weight)
        it.add(BACK, i, head, tail, bLo - aHi, s.weight)
      }
    it.value = Math.max(0, f.solve())
    it.keep()
    return it.value
  }
}
