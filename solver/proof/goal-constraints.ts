/** What thresholds of wire length and balance say, and whether a deduction follows: by boxes, and by what relations add to them. */
import { type Arc, earn } from './circulation.ts'
import {
  type Asked,
  type Axes,
  apart,
  axisOf,
  type Box,
  type Chain,
  type End,
  exactly,
  fails,
  holds,
  type Judge,
  type Lit,
  open,
  range,
  reach,
  readChain,
  readEnd,
  type Words,
} from './constraints.ts'

/** The judge of a goal's constraint; undefined = none of these. */
export function goalJudgeOf(kind: string, w: Words, axes: Axes, asked: Asked): Judge | undefined {
  if (kind === 'balance') return balance(w, axes, asked)
  if (kind === 'wires') return new Wires(w, axes, asked).judge
  return undefined
}

function readMass(w: Words): number {
  const mass = w.number()
  if (mass < 0) throw new Error(`not a mass: ${mass}`)
  return mass
}

/** The mass-weighted sum of distances lies in a box; the nearest it comes to the aim, over the greatest mass, is a lower bound. */
function balance(w: Words, axes: Axes, asked: Asked): Judge {
  const [mass0, cx, cy] = [readMass(w), w.number(), w.number()]
  const weights = w.list(() => ({
    present: w.lit(),
    mass: readMass(w),
    // ends of the doubled centre
    ends: [readEnd(w, axes), readEnd(w, axes)],
    aim: [w.number(), w.number()],
  }))
  return (box) => {
    const most = asked(box, 'balance')
    if (most === undefined) return false
    let mass = mass0
    const lo = [mass0 * cx, mass0 * cy]
    const hi = [...lo]
    let size = mass0 * (Math.abs(cx) + Math.abs(cy))
    for (const b of weights) {
      if (fails(box, b.present)) continue
      mass += b.mass
      const sure = holds(box, b.present)
      b.ends.forEach((end, i) => {
        const r = reach(box, end, 2)
        // left out, it adds nothing; present all the same, nothing is known of it
        if (!r && !sure) return
        const [first, last] = r ?? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY]
        const least = b.mass * (first / 2 - b.aim[i]!)
        const greatest = b.mass * (last / 2 - b.aim[i]!)
        lo[i] = lo[i]! + (sure ? least : Math.min(0, least))
        hi[i] = hi[i]! + (sure ? greatest : Math.max(0, greatest))
        size += b.mass * (Math.max(Math.abs(first), Math.abs(last)) / 2 + Math.abs(b.aim[i]!))
      })
    }
    const [dx, dy] = [0, 1].map((i) => Math.max(0, lo[i]!, -hi[i]!)) as [number, number]
    // each term and each sum is rounded: what that may have added refutes nothing
    const hair = (weights.length + 8) * 2 ** -52 * size
    // without any mass there is nothing to balance
    return (mass > 0 ? (Math.hypot(dx, dy) - hair) / mass : 0) > most
  }
}

/** What a wire's end can be: its point, and the decks it may be on with the literal that says so (none: always). */
interface Candidate {
  /** True where the wire's length counts from here. */
  readonly pick: Lit
  readonly lit: Lit
  readonly x: End
  readonly y: End
  readonly decks: readonly { readonly deck: number; readonly modes: readonly { readonly lit: Lit }[] }[]
}

interface Wire {
  readonly conductors: number
  readonly from: readonly Candidate[]
  readonly to: readonly Candidate[]
}

/** Goals that wires, or stand-ins for them, are the measure of. */
const LESS_IS_BETTER = ['wire-length', 'distance']

class Wires {
  private readonly asked: Asked
  private readonly goal: string
  private readonly wires: readonly Wire[]
  private readonly relations: readonly { readonly lit: Lit; readonly a: End; readonly b: End }[]
  private readonly links: readonly {
    readonly when: readonly Lit[]
    readonly ends: readonly [body: number, host: number, on: number]
    readonly sign: number
    readonly offset: number
    readonly values: readonly number[]
  }[]
  private readonly ways = new Map<string, { readonly rise: number; readonly chains: readonly Chain[] }>()
  private readonly picks = new Map<string, readonly Lit[]>()
  private readonly axes: Axes

  constructor(w: Words, axes: Axes, asked: Asked) {
    this.asked = asked
    this.axes = axes
    this.goal = w.next()
    if (!LESS_IS_BETTER.includes(this.goal)) throw new Error(`no goal of wires: ${this.goal}`)
    const candidate = (): Candidate => ({
      pick: w.lit(),
      lit: w.lit(),
      x: readEnd(w, axes),
      y: readEnd(w, axes),
      decks: w.list(() => ({ deck: w.whole(), modes: w.list(() => ({ lit: w.lit() })) })),
    })
    this.wires = w.list(() => ({ conductors: w.count(), from: w.list(candidate), to: w.list(candidate) }))
    this.relations = w.list(() => ({ lit: w.lit(), a: readEnd(w, axes), b: readEnd(w, axes) }))
    this.links = w.list(() => {
      const when = w.list(() => w.lit())
      const ends = [w.whole(), w.whole(), w.whole()] as const
      return { when, ends, sign: w.sign(), offset: w.whole(), values: axisOf(axes, ends[2]) }
    })
    w.list(() => {
      const key = `${w.whole()} ${w.whole()}`
      if (this.ways.has(key)) throw new Error(`ways from deck to deck are given twice: ${key}`)
      this.ways.set(key, { rise: w.count(), chains: w.list(() => readChain(w)) })
    })
    w.list(() => {
      const wire = w.whole()
      const way = `${w.whole()} ${w.whole()}`
      const lits = w.list(() => w.lit())
      if (lits.length !== this.ways.get(way)?.chains.length) throw new Error(`not a pick for each chain: ${way}`)
      if (this.picks.has(`${wire} ${way}`)) throw new Error(`picks are given twice: ${wire} ${way}`)
      this.picks.set(`${wire} ${way}`, lits)
    })
  }

  readonly judge: Judge = (box) => {
    const most = this.asked(box, this.goal)
    if (most === undefined) return false
    const least = this.wires.map((_, i) => this.apartBy(box, i))
    if (exactly(least.reduce((a, b) => a + b, 0)) > most) return true
    return this.together(box, least, most)
  }

  private sure(box: Box, w: Wire): boolean {
    return w.from.some((c) => holds(box, c.lit)) && w.to.some((c) => holds(box, c.lit))
  }

  private decksOf(box: Box, c: Candidate): number[] {
    const all = c.decks.flatMap((d) => d.modes)
    const left = new Set(open(box, all))
    return c.decks.filter((d) => d.modes.length === 0 || d.modes.some((m) => left.has(m))).map((d) => d.deck)
  }

  /** What an end may still stand for: the picked one, else all that may be picked. */
  private left(box: Box, list: readonly Candidate[]): readonly Candidate[] {
    const picked = list.filter((c) => holds(box, c.pick))
    return picked.length > 0 ? picked : list.filter((c) => !fails(box, c.lit) && !fails(box, c.pick))
  }

  /** One wire by the boxes of its ends alone. */
  private apartBy(box: Box, i: number): number {
    const w = this.wires[i]!
    if (!this.sure(box, w)) return 0
    let least = Number.POSITIVE_INFINITY
    for (const p of this.left(box, w.from))
      for (const q of this.left(box, w.to)) least = Math.min(least, this.between(box, p, q))
    return Number.isFinite(least) ? w.conductors * least : 0
  }

  private between(box: Box, p: Candidate, q: Candidate): number {
    const [px, py, qx, qy] = [p.x, p.y, q.x, q.y].map((end) => reach(box, end, 1))
    if (!px || !py || !qx || !qy) return 0
    let least = Number.POSITIVE_INFINITY
    for (const dp of this.decksOf(box, p))
      for (const dq of this.decksOf(box, q)) {
        if (dp === dq) least = Math.min(least, apart(px, qx) + apart(py, qy))
        else {
          const way = this.ways.get(`${dp} ${dq}`)
          for (const [x0, y0, x1, y1, run] of way?.chains ?? []) {
            const there = apart(px, [x0, x0]) + apart(py, [y0, y0]) + apart(qx, [x1, x1]) + apart(qy, [y1, y1])
            least = Math.min(least, way!.rise + run + there)
          }
        }
      }
    return least
  }

  /** All wires at once, with the relations and seats that hold: what a circulation earns. */
  private together(box: Box, least: readonly number[], most: number): boolean {
    const nodes = new Map<number, number>()
    const node = (v: number): number => {
      const known = nodes.get(v)
      if (known !== undefined) return known
      nodes.set(v, nodes.size + 1)
      return nodes.size
    }
    const arcs: Arc[] = []
    const uncapped = Number.POSITIVE_INFINITY
    const offsets = (end: End): [number, number] | undefined => {
      const list = end.values.length === 0 ? [] : open(box, end.modes).map((m) => m.offset)
      return list.length === 0 ? undefined : [Math.min(...list), Math.max(...list)]
    }
    let fixed = 0
    /** A stretch from an end to another, or to somewhere in [lo, hi]. */
    const stretch = (a: End, b: End | readonly [number, number], weight: number): void => {
      const ao = offsets(a)
      const bo = 'v' in b ? offsets(b) : b
      if (!ao || !bo) return
      const [tail, head] = [node(a.v), 'v' in b ? node(b.v) : 0]
      arcs.push(
        { tail, head, gain: ao[0] - bo[1], cap: weight },
        { tail: head, head: tail, gain: bo[0] - ao[1], cap: weight },
      )
    }
    this.wires.forEach((w, i) => {
      const p = only(this.left(box, w.from))
      const q = only(this.left(box, w.to))
      const dp = p && only(this.decksOf(box, p))
      const dq = q && only(this.decksOf(box, q))
      if (!this.sure(box, w) || w.conductors === 0) return
      if (!p || !q || dp === undefined || dq === undefined) fixed += least[i]!
      else if (dp === dq) {
        stretch(p.x, q.x, w.conductors)
        stretch(p.y, q.y, w.conductors)
      } else {
        const picks = this.picks.get(`${i} ${dp} ${dq}`)
        const way = this.ways.get(`${dp} ${dq}`)
        const chains = way?.chains.filter((_, k) => !picks || !fails(box, picks[k]!)) ?? []
        if (chains.length === 0) {
          fixed += least[i]!
          return
        }
        const over = (k: 0 | 1 | 2 | 3): [number, number] => [
          Math.min(...chains.map((c) => c[k])),
          Math.max(...chains.map((c) => c[k])),
        ]
        fixed += w.conductors * (way!.rise + Math.min(...chains.map((c) => c[4])))
        stretch(p.x, over(0), w.conductors)
        stretch(p.y, over(1), w.conductors)
        stretch(q.x, over(2), w.conductors)
        stretch(q.y, over(3), w.conductors)
      }
    })
    for (const r of this.relations) {
      const ao = offsets(r.a)
      const bo = offsets(r.b)
      if (holds(box, r.lit) && ao && bo)
        arcs.push({ tail: node(r.a.v), head: node(r.b.v), gain: ao[0] - bo[1], cap: uncapped })
    }
    for (const l of this.links) {
      if (!l.when.every((k) => holds(box, k))) continue
      const [i, j] = range(box, l.ends[2], l.values.length)
      if (i > j) return l.values.length > 0
      const [lo, hi] = l.sign === 1 ? [l.values[i]!, l.values[j]!] : [-l.values[j]!, -l.values[i]!]
      const [body, host] = [node(l.ends[0]), node(l.ends[1])]
      arcs.push({ tail: host, head: body, gain: l.offset + lo, cap: uncapped })
      arcs.push({ tail: body, head: host, gain: -l.offset - hi, cap: uncapped })
    }
    for (const [v, n] of nodes) {
      const values = axisOf(this.axes, v)
      const [i, j] = range(box, v, values.length)
      if (i > j) return values.length > 0
      arcs.push(
        { tail: 0, head: n, gain: values[i]!, cap: uncapped },
        { tail: n, head: 0, gain: -values[j]!, cap: uncapped },
      )
    }
    const earned = earn(nodes.size + 1, arcs, most - fixed)
    return earned === uncapped || exactly(fixed + earned) > most
  }
}

const only = <T>(list: readonly T[]): T | undefined => (list.length === 1 ? list[0] : undefined)
