/**
 * Loose lines and arcs to closed contours. Ends that are one point are joined; then ends that are at most a gap apart, the
 * nearest first; what stays open, or where more than two lines meet, is listed. A line that is there twice is used once.
 */
import { lengthOf, pointOn, type Run, type Unused, type Vertex, type Where } from './contours.ts'
import { Nodes, nearPairs } from './contours-ends.ts'
import type { Box } from './contours-shape.ts'
import { whereText } from './words.ts'
import { drawing } from './words-drawings.ts'

export interface Gap {
  /** mm in the drawing, between the two ends. */
  readonly at: readonly [number, number]
  /** mm. */
  readonly width: number
  readonly where: string
}

export interface Contour {
  readonly points: readonly Vertex[]
  readonly where: Where
}

type Lost = Unused & {
  readonly layers: readonly string[]
  /** Around the open lines, mm. */
  readonly box?: Box
}

export interface Joined {
  readonly contours: readonly Contour[]
  readonly gaps: readonly Gap[]
  readonly unused: readonly Lost[]
  /** Lines that were there before. */
  readonly twice: readonly { readonly what: string; readonly where: string }[]
  /** Segments without length. */
  readonly tiny: number
}

/** Segments shorter than this (mm) are none. */
const TINY = 0.001

/** Closed contours out of all runs; `gap` in mm. Throws Refused on hopeless heaps of ends. */
export function join(runs: readonly Run[], gap: number): Joined {
  return new Joiner(runs, gap).result()
}

class Joiner {
  readonly #nodes = new Nodes()
  readonly #contours: Contour[] = []
  readonly #gaps: Gap[] = []
  readonly #unused: Lost[] = []
  readonly #twice: { what: string; where: string }[] = []
  #tiny = 0
  // Open segments; half-edge 2s is the start of s, 2s+1 its end.
  readonly #from: Vertex[] = []
  readonly #to: Vertex[] = []
  readonly #where: Where[] = []
  readonly #node: number[] = []
  /** First half-edge of a node, and the next one of the same node. */
  readonly #head: number[] = []
  readonly #next: number[] = []
  readonly #degree: number[] = []
  /** The node across a closed gap. */
  readonly #across = new Map<number, number>()
  readonly #gone: boolean[] = []

  constructor(
    readonly runs: readonly Run[],
    readonly gap: number,
  ) {}

  result(): Joined {
    const seen = this.#closedRuns()
    for (const run of this.runs) if (!run.closed) this.#explode(run, seen)
    this.#closeGaps()
    this.#cutLooseEnds()
    this.#listMeetings()
    this.#trace()
    const { contours, gaps, unused, twice, tiny } = {
      contours: this.#contours,
      gaps: this.#gaps,
      unused: this.#unused,
      twice: this.#twice,
      tiny: this.#tiny,
    }
    return { contours, gaps, unused, twice, tiny }
  }

  /** Closed runs are contours already, each once; their segments are remembered. */
  #closedRuns(): Set<number | string> {
    const seen = new Set<number | string>()
    const whole = new Set<string>()
    // With one run alone there is nothing that could be there twice.
    const compared = this.runs.length > 1
    for (const run of this.runs) {
      if (!run.closed) continue
      const points = this.#clean(run.points, true)
      if (points.length < 2) {
        this.#lose(run.where, drawing.hasNoSize)
        continue
      }
      const keys = compared ? points.map((a, i) => this.#key(a, points[(i + 1) % points.length]!)) : []
      const key = sameWhole(keys)
      if (compared && whole.has(key)) this.#twice.push({ what: run.where.what, where: whereText(run.where) })
      else this.#contours.push({ points, where: run.where })
      whole.add(key)
      for (const k of keys) seen.add(k)
    }
    return seen
  }

  #explode(run: Run, seen: Set<number | string>): void {
    const points = this.#clean(run.points, false)
    for (let i = 0; i + 1 < points.length; i++) {
      const [a, b] = [points[i]!, points[i + 1]!]
      const key = this.#key(a, b)
      if (seen.has(key)) {
        this.#twice.push({ what: run.where.what, where: whereText(run.where) })
        continue
      }
      seen.add(key)
      const s = this.#from.length
      this.#from.push(a)
      this.#to.push(b)
      this.#where.push(run.where)
      this.#gone.push(false)
      for (const [half, p] of [
        [2 * s, a],
        [2 * s + 1, b],
      ] as const) {
        const n = this.#nodes.at(p.x, p.y)
        this.#node[half] = n
        this.#next[half] = this.#head[n] ?? -1
        this.#head[n] = half
        this.#degree[n] = (this.#degree[n] ?? 0) + 1
      }
    }
  }

  /** Without segments that have no length. */
  #clean(points: readonly Vertex[], closed: boolean): Vertex[] {
    const kept: Vertex[] = []
    points.forEach((p, i) => {
      const next = points[i + 1] ?? (closed ? points[0]! : undefined)
      if (next && lengthOf(p, next) < TINY) this.#tiny += 1
      else kept.push(p)
    })
    return kept
  }

  /** The same for a segment and its way back. */
  #key(a: Vertex, b: Vertex): number | string {
    const [m, n] = [this.#nodes.at(a.x, a.y), this.#nodes.at(b.x, b.y)]
    // Nodes are fewer than 2²², as segments are.
    const ends = Math.min(m, n) * 0x400000 + Math.max(m, n)
    return a.bulge === 0 ? ends : `${ends},${Math.round((m <= n ? a.bulge : -a.bulge) * 1e4)}`
  }

  #lose(where: Where, why: string, taken: readonly number[] = []): void {
    const lost = { what: where.what, where: whereText(where), why, layers: where.layers }
    this.#unused.push(taken.length === 0 ? lost : { ...lost, box: this.#boxAround(taken) })
  }

  #boxAround(taken: readonly number[]): Box {
    const box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity }
    for (const s of taken) {
      for (const p of [this.#from[s]!, this.#to[s]!]) {
        box.x0 = Math.min(box.x0, p.x)
        box.y0 = Math.min(box.y0, p.y)
        box.x1 = Math.max(box.x1, p.x)
        box.y1 = Math.max(box.y1, p.y)
      }
    }
    return box
  }

  #closeGaps(): void {
    const ends: number[] = []
    this.#degree.forEach((d, n) => {
      if (d === 1) ends.push(n)
    })
    for (const [m, n] of nearPairs(this.#nodes, ends, this.gap)) {
      if (this.#across.has(m) || this.#across.has(n)) continue
      const s = this.#head[m]! >> 1
      // A short line's own two ends are no gap.
      if (s === this.#head[n]! >> 1 && lengthOf(this.#from[s]!, this.#to[s]!) <= 2 * this.gap) continue
      this.#across.set(m, n)
      this.#across.set(n, m)
    }
  }

  #ways(n: number): number {
    return (this.#degree[n] ?? 0) + (this.#across.has(n) ? 1 : 0)
  }

  /** The first live half-edge of a node from `h` on, or -1. */
  #live(h: number): number {
    let now = h
    while (now >= 0 && this.#gone[now >> 1]) now = this.#next[now]!
    return now
  }

  #firstOf(n: number): number {
    // What is gone stays gone, so it need not be passed again.
    const h = this.#live(this.#head[n] ?? -1)
    this.#head[n] = h
    return h
  }

  #remove(s: number): void {
    this.#gone[s] = true
    for (const h of [2 * s, 2 * s + 1]) this.#degree[this.#node[h]!] = this.#degree[this.#node[h]!]! - 1
  }

  /** Takes away chains that end in nothing, so that a line too many does not spoil the contour it touches. */
  #cutLooseEnds(): void {
    const queue: number[] = []
    this.#degree.forEach((_, n) => {
      if (this.#ways(n) === 1) queue.push(n)
    })
    for (let start = queue.pop(); start !== undefined; start = queue.pop()) {
      if (this.#ways(start) !== 1) continue
      let n = start
      const taken: number[] = []
      for (;;) {
        const half = this.#firstOf(n)
        if (half < 0) {
          const other = this.#across.get(n)
          if (other === undefined) break
          this.#across.delete(n)
          this.#across.delete(other)
          n = other
        } else {
          taken.push(half >> 1)
          this.#remove(half >> 1)
          n = this.#node[half ^ 1]!
        }
        if (this.#ways(n) !== 1) break
      }
      if (taken.length === 0) continue
      this.#loseChain(taken, start, n)
    }
  }

  #loseChain(taken: readonly number[], start: number, end: number): void {
    const p = { x: this.#nodes.x[start]!, y: this.#nodes.y[start]! }
    const q = { x: this.#nodes.x[end]!, y: this.#nodes.y[end]! }
    const apart = Math.hypot(p.x - q.x, p.y - q.y)
    const why =
      this.#ways(end) > 0
        ? drawing.endsOnAnother(taken.length, p, q)
        : drawing.endsApart(taken.length, p, q, Number(apart.toPrecision(4)))
    this.#lose(this.#where[taken[0]!]!, why, taken)
  }

  /** Where three lines or more meet, nobody can say which contour goes which way: all that hangs together there is listed. */
  #listMeetings(): void {
    for (let n = 0; n < this.#degree.length; n++) {
      const ways = this.#ways(n)
      if (ways < 3) continue
      const stack = [n]
      const reached = new Set(stack)
      const taken: number[] = []
      for (let m = stack.pop(); m !== undefined; m = stack.pop()) {
        const others: number[] = []
        for (let h = this.#firstOf(m); h >= 0; h = this.#live(h)) {
          taken.push(h >> 1)
          this.#remove(h >> 1)
          others.push(this.#node[h ^ 1]!)
        }
        const across = this.#across.get(m)
        if (across !== undefined) others.push(across)
        for (const o of others) {
          if (!reached.has(o)) stack.push(o)
          reached.add(o)
        }
      }
      const p = { x: this.#nodes.x[n]!, y: this.#nodes.y[n]! }
      const why = drawing.meeting(taken.length, p, ways)
      if (taken.length > 0) this.#lose(this.#where[taken[0]!]!, why, taken)
    }
  }

  #trace(): void {
    for (let s = 0; s < this.#from.length; s++) {
      if (this.#gone[s]) continue
      const points: Vertex[] = []
      let half = 2 * s
      for (;;) {
        this.#gone[half >> 1] = true
        const [a, b] = this.#directed(half)
        points.push(a)
        const n = this.#node[half ^ 1]!
        const across = this.#across.get(n)
        const next = this.#firstOf(across ?? n)
        const follows = next < 0 ? 2 * s : next
        if (across !== undefined) this.#bridge(points, a, b, follows)
        if (next < 0) break
        half = next
      }
      this.#finish(points, s)
    }
  }

  /** A segment from the given half-edge to its other one. */
  #directed(half: number): [Vertex, Vertex] {
    const [a, b] = [this.#from[half >> 1]!, this.#to[half >> 1]!]
    if (half % 2 === 0) return [a, b]
    return [
      { ...b, bulge: a.bulge === 0 ? 0 : -a.bulge },
      { ...a, bulge: 0 },
    ]
  }

  /**
   * Closes the gap between `b`, where the segment from `a` ends, and the segment that follows: two straight lines at their corner
   * if that is near, else by a short line; where the lines run past one another, in the middle.
   */
  #bridge(points: Vertex[], a: Vertex, b: Vertex, follows: number): void {
    const [c, d] = this.#directed(follows)
    const width = Math.hypot(c.x - b.x, c.y - b.y)
    this.#gaps.push({
      at: [(b.x + c.x) / 2, (b.y + c.y) / 2],
      width,
      where: `${whereText(this.#where[follows >> 1]!)}`,
    })
    const corner = a.bulge === 0 && c.bulge === 0 ? cornerOf(a, b, c, d) : undefined
    const near = (p: { x: number; y: number }): boolean =>
      Math.hypot(p.x - b.x, p.y - b.y) <= this.gap && Math.hypot(p.x - c.x, p.y - c.y) <= this.gap
    const back = pointOn(a, b, 0.999)
    const past = (c.x - b.x) * (b.x - back.x) + (c.y - b.y) * (b.y - back.y) < 0
    const at = corner && near(corner) ? corner : past ? { x: (b.x + c.x) / 2, y: (b.y + c.y) / 2 } : undefined
    if (at) this.#moveStart(follows, at, points)
    else points.push({ x: b.x, y: b.y, bulge: 0 })
  }

  /** The next segment starts at `p`; if it is the first of this contour, it has been drawn already. */
  #moveStart(half: number, p: { readonly x: number; readonly y: number }, points: Vertex[]): void {
    const s = half >> 1
    if (this.#gone[s]) points[0] = { ...points[0]!, x: p.x, y: p.y }
    else if (half % 2 === 0) this.#from[s] = { ...this.#from[s]!, x: p.x, y: p.y }
    else this.#to[s] = { ...this.#to[s]!, x: p.x, y: p.y }
  }

  #finish(traced: readonly Vertex[], s: number): void {
    const points = this.#clean(traced, true)
    if (points.length < 2) this.#lose(this.#where[s]!, drawing.hasNoSize)
    else this.#contours.push({ points, where: this.#where[s]! })
  }
}

/** The same for contours of the same segments, wherever they start; others agree by chance once in some 10¹⁵. */
function sameWhole(keys: readonly (number | string)[]): string {
  let [one, two] = [0, 0]
  for (const key of keys) {
    let h = 7
    const text = typeof key === 'string' ? key : undefined
    if (typeof key === 'number')
      h = (Math.imul(key % 0x400000, 0x9e3779b1) ^ Math.imul(key / 0x400000, 0x85ebca6b)) >>> 0
    if (text !== undefined)
      for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193) >>> 0
    h = Math.imul(h ^ (h >>> 15), 0x2c1b3c6d) >>> 0
    one += h
    two = (two ^ Math.imul(h ^ (h >>> 12), 0x297a2d39)) >>> 0
  }
  return `${keys.length} ${one} ${two}`
}

/** Where two straight lines would meet. */
function cornerOf(a: Vertex, b: Vertex, c: Vertex, d: Vertex): { x: number; y: number } | undefined {
  const [px, py, qx, qy] = [b.x - a.x, b.y - a.y, d.x - c.x, d.y - c.y]
  const cross = px * qy - py * qx
  if (Math.abs(cross) < 1e-9 * Math.hypot(px, py) * Math.hypot(qx, qy)) return undefined
  const k = ((c.x - a.x) * qy - (c.y - a.y) * qx) / cross
  return { x: a.x + k * px, y: a.y + k * py }
}
