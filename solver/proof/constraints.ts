/**
 * What a logged constraint says, and whether a deduction follows from it: interval arithmetic in whole numbers, written
 * anew for the replayer. Meanings stand in README.md.
 */

/** The bounds that a deduction starts from: those of its reasons and of the opposite of its conclusion. */
export interface Box {
  low(v: number): number
  high(v: number): number
}

/** A literal as a variable and a threshold; `T` and `F` as true and false. */
export type Lit = boolean | { readonly v: number; readonly k: number; readonly less: boolean }

export type Axes = ReadonlyMap<number, readonly number[]>

export interface Cells {
  readonly x0: number
  readonly y0: number
  readonly nx: number
  readonly ny: number
  readonly legal: Uint8Array
}

/** True when no values within the box satisfy the constraint. */
export type Judge = (box: Box) => boolean

/** The best that the thresholds met in a box ask of a goal; undefined = none is met. */
export type Asked = (box: Box, goal: string) => number | undefined

/** In micrometres a thousand kilometres: sums of thousands of them are exact. */
const LARGEST = 2 ** 40
export const isWhole = (n: number): boolean => Number.isInteger(n) && Math.abs(n) <= LARGEST

/** Reads a line's words one by one. */
export class Words {
  private readonly words: readonly string[]
  private at: number
  constructor(words: readonly string[], at: number) {
    this.words = words
    this.at = at
  }
  next(): string {
    const w = this.words[this.at++]
    if (w === undefined) throw new Error(`a line ends early: ${this.words.slice(0, 6).join(' ')} …`)
    return w
  }
  get over(): boolean {
    return this.at >= this.words.length
  }
  end(): void {
    if (!this.over) throw new Error(`a line goes on after its end: ${this.words.slice(0, 6).join(' ')} …`)
  }
  /** A figure that a sum or a goal is made of. */
  number(): number {
    const w = this.next()
    const n = Number(w)
    // no word is read as 0, and Infinity as a number, only by `Number`
    if (!/^-?\d+(\.\d+)?(e[+-]\d+)?$/.test(w) || Math.abs(n) > Number.MAX_SAFE_INTEGER)
      throw new Error(`not a number: ${w}`)
    return n
  }
  /** A length, a place, or the number of something: whole, and small enough that sums of many are exact. */
  whole(): number {
    const n = this.number()
    if (!isWhole(n)) throw new Error(`not a whole number: ${n}`)
    return n
  }
  count(): number {
    const n = this.whole()
    if (n < 0) throw new Error(`not a count: ${n}`)
    return n
  }
  /** Whether something is added or taken away. */
  sign(): 1 | -1 {
    const n = this.whole()
    if (n !== 1 && n !== -1) throw new Error(`not a sign: ${n}`)
    return n
  }
  lit(): Lit {
    return readLit(this.next())
  }
  /** A count, and so many of something. */
  list<T>(one: () => T): T[] {
    return Array.from({ length: this.count() }, one)
  }
}

export function readLit(w: string): Lit {
  if (w === 'T' || w === 'F') return w === 'T'
  // more digits would be told apart by their text alone
  const m = /^(-?)(\d{1,15})(?:\.(\d{1,15}))?$/.exec(w)
  if (!m) throw new Error(`not a literal: ${w}`)
  return { v: Number(m[2]), k: Number(m[3] ?? 1), less: m[1] === '-' }
}

export const holds = (b: Box, l: Lit): boolean =>
  typeof l === 'boolean' ? l : l.less ? b.high(l.v) < l.k : b.low(l.v) >= l.k
export const fails = (b: Box, l: Lit): boolean =>
  typeof l === 'boolean' ? !l : l.less ? b.low(l.v) >= l.k : b.high(l.v) < l.k

/** A coordinate with an offset for each mode of a body; one of the modes is true where the body counts. */
export interface End {
  readonly values: readonly number[]
  readonly v: number
  readonly modes: readonly { readonly lit: Lit; readonly offset: number }[]
}

export function readEnd(w: Words, axes: Axes): End {
  const v = w.whole()
  const several = w.list(() => ({ lit: w.lit(), offset: w.whole() }))
  const modes = several.length > 0 ? several : [{ lit: true, offset: w.whole() }]
  return { values: axisOf(axes, v), v, modes }
}

/** Passes that lead from one deck to another: the first and the last, and how far it is between them. */
export type Chain = readonly [x0: number, y0: number, x1: number, y1: number, run: number]
export const readChain = (w: Words): Chain => [w.whole(), w.whole(), w.whole(), w.whole(), w.count()]

/** A sum of whole numbers, where it is one: of what is too large to be exact nothing is more or less than anything. */
export const exactly = (sum: number): number => (Number.isSafeInteger(sum) ? sum : Number.NaN)

function cellsOf(bitmaps: ReadonlyMap<number, Cells>, n: number): Cells {
  const cells = bitmaps.get(n)
  if (!cells) throw new Error(`no bitmap ${n} is given`)
  return cells
}

export function axisOf(axes: Axes, v: number): readonly number[] {
  const values = axes.get(v)
  if (!values) throw new Error(`no values are given for variable ${v}`)
  return values
}

/** Modes that may still be the one: the one that holds, else all that do not fail. */
export function open<T extends { readonly lit: Lit }>(b: Box, modes: readonly T[]): readonly T[] {
  const sure = modes.filter((m) => holds(b, m.lit))
  return sure.length > 0 ? sure : modes.filter((m) => !fails(b, m.lit))
}

/** Index range of a variable within the box; empty = from > to, and no value is left. */
export const range = (b: Box, v: number, n: number): [number, number] => [
  Math.max(0, b.low(v)),
  Math.min(n - 1, b.high(v)),
]

/**
 * Where an end can be (`scale` times the value, and its offset): from +∞ to −∞ where the box has no value for it. Undefined = its body
 * is left out: no mode is left to it, or there never was a place.
 */
export function reach(b: Box, end: End, scale: number): [number, number] | undefined {
  const [i, j] = range(b, end.v, end.values.length)
  const offsets = open(b, end.modes).map((m) => m.offset)
  if (end.values.length === 0 || offsets.length === 0) return undefined
  if (i > j) return [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
  return [scale * end.values[i]! + Math.min(...offsets), scale * end.values[j]! + Math.max(...offsets)]
}

export const apart = (a: readonly [number, number], b: readonly [number, number]): number =>
  Math.max(0, a[0] - b[1], b[0] - a[1])

/** The judge of a constraint; undefined = only the search can judge this kind. */
export function judgeOf(kind: string, w: Words, axes: Axes, bitmaps: ReadonlyMap<number, Cells>): Judge | undefined {
  switch (kind) {
    case 'relation': {
      const lit = w.lit()
      const a = readEnd(w, axes)
      const c = readEnd(w, axes)
      return (box) => {
        const ra = reach(box, a, 1)
        const rc = reach(box, c, 1)
        return holds(box, lit) && !!ra && !!rc && ra[0] > rc[1]
      }
    }
    case 'map': {
      const guard = w.lit()
      const present = w.lit()
      const x = w.whole()
      const y = w.whole()
      const nx = axisOf(axes, x).length
      const ny = axisOf(axes, y).length
      const modes = w.list(() => ({ lit: w.lit(), cells: cellsOf(bitmaps, w.whole()) }))
      return (box) => {
        const ways = open(box, modes)
        if (!holds(box, guard)) return false
        // a mode that is sure makes the body present
        if (!holds(box, present) && !ways.some((m) => holds(box, m.lit))) return false
        const [xl, xu] = range(box, x, nx)
        const [yl, yu] = range(box, y, ny)
        return ways.every((m) => noneIn(m.cells, xl, xu, yl, yu))
      }
    }
    case 'linear': {
      const guard = w.lit()
      const least = w.number()
      const terms = w.list(() => ({ lit: w.lit(), coef: w.number() }))
      const minus = w.list(() => w.whole())
      return (box) => {
        let most = 0
        for (const t of terms) if (t.coef < 0 ? holds(box, t.lit) : !fails(box, t.lit)) most = exactly(most + t.coef)
        for (const v of minus) {
          const values = axisOf(axes, v)
          if (values.length === 0) return false
          const value = values[box.low(v)]
          if (value === undefined) return holds(box, guard)
          most = exactly(most - value)
        }
        return holds(box, guard) && most < least
      }
    }
    case 'sum': {
      const when = w.list(() => w.lit())
      const ends = [w.whole(), w.whole(), w.whole()].map((v): End => {
        return { v, values: axisOf(axes, v), modes: [{ lit: true, offset: 0 }] }
      })
      const sign = w.sign()
      const offset = w.whole()
      return (box) => {
        if (!when.every((l) => holds(box, l))) return false
        const [a, b, c] = ends.map((n) => reach(box, n, 1))
        if (!a || !b || !c) return false
        const [lo, hi] = sign === 1 ? c : [-c[1], -c[0]]
        return a[0] > b[1] + hi + offset || a[1] < b[0] + lo + offset
      }
    }
    case 'within': {
      const when = w.list(() => w.lit())
      const scale = w.whole()
      if (scale !== 1 && scale !== 2) throw new Error(`lengths are not measured in parts of ${scale}`)
      const limit = w.whole()
      const [ax, ay, bx, by] = [readEnd(w, axes), readEnd(w, axes), readEnd(w, axes), readEnd(w, axes)] as const
      return (box) => {
        if (!when.every((l) => holds(box, l))) return false
        const [px, py, qx, qy] = [ax, ay, bx, by].map((n) => reach(box, n, scale))
        return !!px && !!py && !!qx && !!qy && apart(px, qx) + apart(py, qy) > limit
      }
    }
    case 'chain': {
      const when = w.list(() => w.lit())
      const limit = w.whole()
      const [ax, ay, bx, by] = [readEnd(w, axes), readEnd(w, axes), readEnd(w, axes), readEnd(w, axes)] as const
      const chains = w.list(() => readChain(w))
      return (box) => {
        if (!when.every((l) => holds(box, l))) return false
        const [px, py, qx, qy] = [ax, ay, bx, by].map((n) => reach(box, n, 1))
        if (!px || !py || !qx || !qy) return false
        return chains.every(
          ([x0, y0, x1, y1, run]) =>
            apart(px, [x0, x0]) + apart(py, [y0, y0]) + run + apart(qx, [x1, x1]) + apart(qy, [y1, y1]) > limit,
        )
      }
    }
    case 'strip': {
      const grid = w.whole()
      if (grid < 1) throw new Error(`not a grid: ${grid}`)
      const first = w.whole()
      const rooms = w.list(() => w.count())
      const parts = w.list(() => ({
        v: w.whole(),
        on: w.lit(),
        here: w.list(() => ({ lit: w.lit(), long: w.count(), wide: w.count() })),
      }))
      return (box) => overfull(box, grid, first, rooms, parts, axes)
    }
    default:
      return undefined
  }
}

interface StripPart {
  readonly v: number
  readonly on: Lit
  readonly here: readonly { readonly lit: Lit; readonly long: number; readonly wide: number }[]
}

/** Some strip, of all there are, must be covered by more than it has room for. */
function overfull(
  box: Box,
  grid: number,
  first: number,
  rooms: readonly number[],
  parts: readonly StripPart[],
  axes: Axes,
): boolean {
  const sure = parts.flatMap((p) => {
    if (!holds(box, p.on)) return []
    const values = axisOf(axes, p.v)
    const [i, j] = range(box, p.v, values.length)
    if (i > j) return []
    return [{ lo: Math.ceil(values[i]! / grid), hi: Math.ceil(values[j]! / grid), ways: open(box, p.here) }]
  })
  const most = sure.reduce((n, { ways }) => n + Math.min(...ways.map((w) => w.long * w.wide)), 0)
  for (let a = 0; a < rooms.length; a++) {
    let room = 0
    for (let b = a; b < rooms.length; b++) {
      room += rooms[b]!
      // nothing can be too much for this strip, nor for a wider one
      if (room >= most) break
      const [from, to] = [first + a, first + b + 1]
      let need = 0
      for (const { lo, hi, ways } of sure) {
        let least = Number.POSITIVE_INFINITY
        // as far left as it goes, or as far right: one of the two covers least
        for (const { long, wide } of ways) {
          const shared = (at: number) => Math.max(0, Math.min(at + long, to) - Math.max(at, from))
          least = Math.min(least, wide * Math.min(shared(lo), shared(hi)))
        }
        if (Number.isFinite(least)) need += least
      }
      if (exactly(need) > room) return true
    }
  }
  return false
}

function noneIn(c: Cells, xl: number, xu: number, yl: number, yu: number): boolean {
  for (let i = Math.max(0, xl - c.x0); i <= Math.min(c.nx - 1, xu - c.x0); i++)
    for (let j = Math.max(0, yl - c.y0); j <= Math.min(c.ny - 1, yu - c.y0); j++)
      if (c.legal[i * c.ny + j]) return false
  return true
}
