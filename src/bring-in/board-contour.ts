/**
 * Outlines of boards in mm, as doubles until they become a footprint: lines and arcs, chained to closed contours.
 * y points up, as in all three file formats.
 */
export interface Pt {
  readonly x: number
  readonly y: number
}

/** `bulge` = tan(sweep/4), positive anticlockwise, 0 a line; a full circle is two halves. `line`: of the file. */
export interface Segment {
  readonly from: Pt
  readonly to: Pt
  readonly bulge: number
  readonly line: number
}

export type Contour = readonly Segment[]

export interface Box {
  readonly x0: number
  readonly y0: number
  readonly x1: number
  readonly y1: number
}

/** Ends up to this far apart are joined, and the gap is reported. mm */
export const GAP = 0.1
/** Ends this near are the same point. mm */
const SAME = 0.001
/** Comparisons that joining may cost: some seconds. */
const MOST_COMPARED = 20_000_000

export const distance = (a: Pt, b: Pt): number => Math.hypot(a.x - b.x, a.y - b.y)
const reversed = (s: Segment): Segment => ({ from: s.to, to: s.from, bulge: -s.bulge, line: s.line })

/** The arc's centre and radius (bulge not 0): the centre lies on the left of the chord by d(1−b²)/4b. */
function arcCentre(s: Segment): { centre: Pt; radius: number } {
  const dx = s.to.x - s.from.x
  const dy = s.to.y - s.from.y
  const k = (1 - s.bulge * s.bulge) / (4 * s.bulge)
  const centre = { x: (s.from.x + s.to.x) / 2 - dy * k, y: (s.from.y + s.to.y) / 2 + dx * k }
  return { centre, radius: (Math.hypot(dx, dy) * (1 + s.bulge * s.bulge)) / (4 * Math.abs(s.bulge)) }
}

/** The two halves of a circle, anticlockwise from its rightmost point. */
export function circle(centre: Pt, radius: number, line: number): Segment[] {
  const right = { x: centre.x + radius, y: centre.y }
  const left = { x: centre.x - radius, y: centre.y }
  return [
    { from: right, to: left, bulge: 1, line },
    { from: left, to: right, bulge: 1, line },
  ]
}

export function boxOf(segments: Iterable<Segment>): Box {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity]
  const take = (x: number, y: number): void => {
    x0 = Math.min(x0, x)
    x1 = Math.max(x1, x)
    y0 = Math.min(y0, y)
    y1 = Math.max(y1, y)
  }
  for (const s of segments) {
    take(s.from.x, s.from.y)
    take(s.to.x, s.to.y)
    // Flatter than a nanometre's bow: the ends say it all, and the centre would be lost in rounding.
    if (Math.abs(s.bulge) * distance(s.from, s.to) < 1e-6) continue
    const { centre, radius } = arcCentre(s)
    const start = Math.atan2(s.from.y - centre.y, s.from.x - centre.x)
    const sweep = 4 * Math.atan(s.bulge)
    for (let quarter = 0; quarter < 4; quarter++) {
      const ahead = ((quarter * Math.PI) / 2 - start) * Math.sign(sweep)
      const turned = ahead - Math.floor(ahead / (2 * Math.PI)) * 2 * Math.PI
      if (turned > Math.abs(sweep)) continue
      const dx = [1, 0, -1, 0][quarter]!
      const dy = [0, 1, 0, -1][quarter]!
      take(centre.x + radius * dx, centre.y + radius * dy)
    }
  }
  return { x0, y0, x1, y1 }
}

/** Area inside a simple closed contour, mm², not negative. */
export function areaOf(contour: Contour): number {
  let twice = 0
  const o = contour[0]?.from ?? { x: 0, y: 0 }
  for (const s of contour) {
    twice += (s.from.x - o.x) * (s.to.y - o.y) - (s.to.x - o.x) * (s.from.y - o.y)
    if (s.bulge === 0) continue
    const sweep = 4 * Math.atan(s.bulge)
    const { radius } = arcCentre(s)
    twice += radius * radius * (sweep - Math.sin(sweep))
  }
  return Math.abs(twice) / 2
}

/** Centre and diameter of a contour that is one circle; undefined for others. */
export function roundOf(contour: Contour): { at: Pt; diameter: number } | undefined {
  const first = contour[0]
  if (first === undefined || contour.some((s) => s.bulge === 0)) return undefined
  const { centre, radius } = arcCentre(first)
  const like = (s: Segment): boolean => {
    const a = arcCentre(s)
    return distance(a.centre, centre) < 0.01 && Math.abs(a.radius - radius) < 0.01
  }
  return contour.every(like) ? { at: centre, diameter: 2 * radius } : undefined
}

export interface Chained {
  readonly closed: readonly Contour[]
  readonly open: readonly Contour[]
  /** Widths of the gaps that were joined, mm. */
  readonly gaps: readonly number[]
  /** Segments that stood there twice. */
  readonly twice: number
  /** The joining was given up: too many ends beside one another. */
  readonly tangled: boolean
}

/** Numbers by grid cell, as linked lists, which are far lighter than a list for every cell. */
class Cells {
  private readonly heads = new Map<number, number>()
  private readonly next: Int32Array

  constructor(
    private readonly step: number,
    size: number,
  ) {
    this.next = new Int32Array(size)
  }

  cell(p: Pt): readonly [number, number] {
    return [Math.round(p.x / this.step), Math.round(p.y / this.step)]
  }

  put(p: Pt, value: number): void {
    const [i, j] = this.cell(p)
    const key = keyOf(i, j)
    this.next[value] = this.heads.get(key) ?? -1
    this.heads.set(key, value)
  }

  first(i: number, j: number): number {
    return this.heads.get(keyOf(i, j)) ?? -1
  }

  after(value: number): number {
    return this.next[value]!
  }

  drop(i: number, j: number, value: number): void {
    this.heads.set(keyOf(i, j), this.next[value]!)
  }
}

/** Cells 2²⁶ steps apart share a key, so whoever looks compares the points too. */
const WRAP = 2 ** 26
const keyOf = (i: number, j: number): number => (((i % WRAP) + WRAP) % WRAP) * WRAP + (((j % WRAP) + WRAP) % WRAP)

/** Ends of segments that are not used yet, found by place; end 2i is where segment i begins, 2i + 1 where it ends. */
class Ends {
  readonly used: Uint8Array
  private readonly exact: Cells
  private readonly near: Cells
  compared = 0

  constructor(readonly segments: readonly Segment[]) {
    this.used = new Uint8Array(segments.length)
    this.exact = new Cells(SAME, 2 * segments.length)
    this.near = new Cells(GAP, 2 * segments.length)
    for (let end = 0; end < 2 * segments.length; end++) {
      this.exact.put(this.point(end), end)
      this.near.put(this.point(end), end)
    }
  }

  point(end: number): Pt {
    const s = this.segments[end >> 1]!
    return end % 2 === 0 ? s.from : s.to
  }

  /** The nearest free end, at most `GAP` away; of equals the segment after the last one, in the file's order. */
  nearest(p: Pt, last: number): number | undefined {
    const after = this.segments[last + 1]
    if (after !== undefined && this.used[last + 1] === 0 && distance(p, after.from) < 1e-9) return 2 * (last + 1)
    const [x, y] = this.exact.cell(p)
    for (let end = this.exact.first(x, y); end >= 0; end = this.exact.first(x, y)) {
      if (this.used[end >> 1] === 0) {
        if (distance(p, this.point(end)) <= 2 * SAME) return end
        break
      }
      this.exact.drop(x, y, end)
    }
    return this.around(p)
  }

  private around(p: Pt): number | undefined {
    let best: number | undefined
    let least = GAP
    const [cx, cy] = this.near.cell(p)
    for (let k = 0; k < 9; k++) {
      const [i, j] = [cx + (k % 3) - 1, cy + Math.floor(k / 3) - 1]
      for (let end = this.near.first(i, j); end >= 0; end = this.near.after(end)) {
        if (++this.compared > MOST_COMPARED) return undefined
        const d = this.used[end >> 1] === 0 ? distance(p, this.point(end)) : Infinity
        if (d > least || (d === least && best !== undefined)) continue
        least = d
        best = end
      }
    }
    return best
  }
}

const same = (a: Segment, b: Segment): boolean =>
  distance(a.from, b.from) < SAME && distance(a.to, b.to) < SAME && Math.abs(a.bulge - b.bulge) < 1e-4

/** Without those of no length, and each once, whichever way it runs. */
function eachOnce(all: readonly Segment[]): Segment[] {
  const seen = new Map<number, Segment>()
  return all.filter((s) => {
    if (distance(s.from, s.to) < SAME / 10) return false
    const sum = (a: number, b: number): number => Math.round((a + b) / SAME)
    const key = keyOf(sum(s.from.x, s.to.x), sum(s.from.y, s.to.y))
    const before = seen.get(key)
    if (before !== undefined && (same(before, s) || same(before, reversed(s)))) return false
    seen.set(key, s)
    return true
  })
}

/** Segments in any order and direction to contours. A segment that stands there twice counts once. */
export function chain(all: readonly Segment[]): Chained {
  const segments = eachOnce(all)
  const ends = new Ends(segments)
  const closed: Contour[] = []
  const open: Contour[] = []
  const gaps: number[] = []
  for (let i = 0; i < segments.length; i++) {
    if (ends.used[i] === 1) continue
    ends.used[i] = 1
    let path: Segment[] = [segments[i]!]
    if (!grow(path, i, ends, gaps)) {
      path = path.reverse().map(reversed)
      if (!grow(path, i, ends, gaps)) {
        open.push(path)
        continue
      }
    }
    closed.push(path)
  }
  return { closed, open, gaps, twice: all.length - segments.length, tangled: ends.compared > MOST_COMPARED }
}

/** Adds segments at the path's end until it meets its start (true) or finds none (false). */
function grow(path: Segment[], start: number, ends: Ends, gaps: number[]): boolean {
  let last = start
  for (;;) {
    const tip = path[path.length - 1]!.to
    const home = path[0]!.from
    const toHome = distance(tip, home)
    const next = toHome < SAME ? undefined : ends.nearest(tip, last)
    const toNext = next === undefined ? Infinity : distance(tip, ends.point(next))
    const round = path.length > 1 || path[0]!.bulge !== 0
    if (round && toHome <= GAP && toHome <= toNext) {
      if (toHome >= SAME) gaps.push(toHome)
      path[path.length - 1] = { ...path[path.length - 1]!, to: home }
      return true
    }
    if (next === undefined) return false
    const s = ends.segments[next >> 1]!
    const onward = next % 2 === 0 ? s : reversed(s)
    last = next >> 1
    ends.used[last] = 1
    if (toNext >= SAME) gaps.push(toNext)
    path.push({ ...onward, from: tip })
  }
}
