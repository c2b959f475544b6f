/**
 * Curves to lines and arcs. What is round stays an arc; anything else becomes chords that are proven to stay within the
 * tolerance: for ellipses by the bound on the second derivative, for Bézier curves and splines, rational ones too, because a
 * curve lies in the convex hull of its control points.
 *
 * Sources: the error of a chord, h²/8 · max|p″| (interpolation error, any text on numerical analysis); de Casteljau's
 * subdivision and the blossom of a spline's segment (Ramshaw 1989). From memory.
 */
import { type Draft, Refused, type Vertex, type Where } from './contours.ts'
import { drawing } from './words-drawings.ts'

/** x' = a·x + c·y + e, y' = b·x + d·y + f. */
export type Matrix = readonly [number, number, number, number, number, number]

/** What `inner` does first and `outer` after it. */
export const after = (outer: Matrix, inner: Matrix): Matrix => [
  outer[0] * inner[0] + outer[2] * inner[1],
  outer[1] * inner[0] + outer[3] * inner[1],
  outer[0] * inner[2] + outer[2] * inner[3],
  outer[1] * inner[2] + outer[3] * inner[3],
  outer[0] * inner[4] + outer[2] * inner[5] + outer[4],
  outer[1] * inner[4] + outer[3] * inner[5] + outer[5],
]

/** How far a round curve may be from a circle and still be taken for one, mm. */
const ROUND = 1e-4
const TAU = 2 * Math.PI
const DEEPEST = 20

/** A point with its weight, x and y already times the weight. */
type Weighted = readonly [number, number, number]

/** Draws one line after another in the file's coordinates; `matrix` takes them to mm, y to the front. */
export class Pen {
  #points: Vertex[] = []
  #start: readonly [number, number] = [0, 0]
  #drawn = false
  #curves = 0
  readonly #flat: number

  constructor(
    readonly draft: Draft,
    readonly matrix: Matrix,
    readonly where: Where,
  ) {
    // Rounding to whole micrometres takes its part of the tolerance.
    this.#flat = Math.max(draft.tolerance - 0.001, draft.tolerance / 2)
  }

  /** Ends what was drawn and starts anew. */
  moveTo(x: number, y: number): undefined {
    this.end(false)
    this.#start = [x, y]
    this.#put(this.#map(x, y), 0)
  }

  lineTo(x: number, y: number): undefined {
    this.#drawn = true
    this.#put(this.#map(x, y), 0)
  }

  /** An arc as DXF and the contract write it: `bulge` in the file's own coordinates. */
  bulgeTo(x: number, y: number, bulge: number, from: readonly [number, number]): undefined {
    if (bulge === 0 || Math.hypot(x - from[0], y - from[1]) === 0) {
      this.lineTo(x, y)
      return
    }
    const f = (1 - bulge * bulge) / (4 * bulge)
    const cx = (from[0] + x) / 2 - (y - from[1]) * f
    const cy = (from[1] + y) / 2 + (x - from[0]) * f
    const r = Math.hypot(from[0] - cx, from[1] - cy)
    const t0 = Math.atan2(from[1] - cy, from[0] - cx)
    this.ellipseTo([cx, cy], [r, 0], [0, r], t0, t0 + 4 * Math.atan(bulge), [x, y])
  }

  /**
   * The curve c + u·cos t + v·sin t from t0 to t1 (radians), from where the pen stands. `to`: its end where the file gives it,
   * so that rounding does not open the line.
   */
  ellipseTo(
    c: readonly [number, number],
    u: readonly [number, number],
    v: readonly [number, number],
    t0: number,
    t1: number,
    to?: readonly [number, number],
  ): undefined {
    this.#drawn = true
    const [a, b, cc, d] = this.matrix
    const centre = this.#map(c[0], c[1])
    const U = { x: a * u[0] + cc * u[1], y: b * u[0] + d * u[1] }
    const V = { x: a * v[0] + cc * v[1], y: b * v[0] + d * v[1] }
    const at = (t: number): { x: number; y: number } => ({
      x: centre.x + U.x * Math.cos(t) + V.x * Math.sin(t),
      y: centre.y + U.y * Math.cos(t) + V.y * Math.sin(t),
    })
    const end = to ? this.#map(to[0], to[1]) : at(t1)
    const [lu, lv] = [Math.hypot(U.x, U.y), Math.hypot(V.x, V.y)]
    const span = t1 - t0
    if (!Number.isFinite(span + lu + lv)) throw new Refused(drawing.endlessArc, drawing.finiteNumbers, this.where.line)
    const round = Math.abs(lu - lv) <= ROUND && Math.abs(U.x * V.x + U.y * V.y) <= ROUND * Math.max(lu, lv)
    if (round) {
      const sweep = U.x * V.y - U.y * V.x < 0 ? -span : span
      // Arcs of over half a turn go in two: their ends may then be rounded without moving the rest.
      const n = Math.abs(sweep) > Math.PI * (1 + 1e-9) ? 2 : 1
      for (let k = 1; k <= n; k++) this.#arc(k === n ? end : at(t0 + (span * k) / n), Math.tan(sweep / n / 4))
      return
    }
    // Largest half-axis: the larger singular value of [U V].
    const sum = lu * lu + lv * lv
    const det = U.x * V.y - U.y * V.x
    const axis = Math.sqrt((sum + Math.sqrt(Math.max(0, sum * sum - 4 * det * det))) / 2)
    const n = Math.max(2, Math.ceil(Math.abs(span) * Math.sqrt(axis / (8 * this.#flat))))
    this.draft.count(n)
    this.#curves += 1
    for (let k = 1; k <= n; k++) this.#put(k === n ? end : at(t0 + (span * k) / n), 0, false)
  }

  /** A Bézier curve of any degree whose first control point is where the pen stands; `weights` for a rational one. */
  curveTo(points: readonly (readonly [number, number])[], weights?: readonly number[]): undefined {
    this.#drawn = true
    this.#curves += 1
    const hull = points.map(([x, y], i): Weighted => {
      const w = weights?.[i] ?? 1
      const p = this.#map(x, y)
      return [p.x * w, p.y * w, w]
    })
    this.#flatten(hull, 0)
  }

  /** Ends a closed line. */
  close(): undefined {
    this.end(true)
  }

  /** Ends what was drawn, closed or open; a mere point is nothing. */
  end(closed: boolean): undefined {
    const points = this.#points
    if (this.#drawn) {
      const [first, last] = [points[0]!, points.at(-1)!]
      const same = points.length > 1 && Math.hypot(first.x - last.x, first.y - last.y) < 1e-6
      if (closed && same) points.pop()
      this.draft.add(points, closed, this.where, this.#curves)
    }
    if (!this.#drawn && closed) this.draft.cannot(this.where, drawing.singlePoint)
    this.#points = []
    this.#drawn = false
    this.#curves = 0
    // As in a path: what follows a closed line begins where that line began.
    if (closed) this.#put(this.#map(...this.#start), 0, false)
  }

  #map(x: number, y: number): { x: number; y: number } {
    const [a, b, c, d, e, f] = this.matrix
    return { x: a * x + c * y + e, y: b * x + d * y + f }
  }

  #put(p: { readonly x: number; readonly y: number }, bulge: number, counted = true): undefined {
    if (counted) this.draft.count(1)
    this.#points.push({ x: p.x, y: p.y, bulge })
  }

  #arc(to: { readonly x: number; readonly y: number }, bulge: number): undefined {
    const last = this.#points.pop()!
    this.#points.push({ ...last, bulge })
    this.#put(to, 0)
  }

  #flatten(hull: readonly Weighted[], depth: number): undefined {
    const end = hull.at(-1)!
    if (depth >= DEEPEST || withinChord(hull, this.#flat)) {
      this.#put({ x: end[0] / end[2], y: end[1] / end[2] }, 0)
      return
    }
    const { left, right } = halves(hull)
    this.#flatten(left, depth + 1)
    this.#flatten(right, depth + 1)
  }
}

/** Whether every control point is within `flat` of the chord; then the curve is. */
function withinChord(hull: readonly Weighted[], flat: number): boolean {
  const a = hull[0]!
  const b = hull.at(-1)!
  const [ax, ay] = [a[0] / a[2], a[1] / a[2]]
  const [dx, dy] = [b[0] / b[2] - ax, b[1] / b[2] - ay]
  const square = dx * dx + dy * dy
  return hull.every(([x, y, w]) => {
    const [px, py] = [x / w - ax, y / w - ay]
    const t = square > 0 ? Math.min(1, Math.max(0, (px * dx + py * dy) / square)) : 0
    return Math.hypot(px - t * dx, py - t * dy) <= flat
  })
}

/** De Casteljau at the middle. */
function halves(hull: readonly Weighted[]): { left: Weighted[]; right: Weighted[] } {
  const left: Weighted[] = [hull[0]!]
  const right: Weighted[] = [hull.at(-1)!]
  let row = hull
  while (row.length > 1) {
    row = row.slice(1).map((q, i): Weighted => {
      const p = row[i]!
      return [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2, (p[2] + q[2]) / 2]
    })
    left.push(row[0]!)
    right.unshift(row.at(-1)!)
  }
  return { left, right }
}

export interface Spline {
  readonly degree: number
  readonly knots: readonly number[]
  readonly points: readonly (readonly [number, number])[]
  /** All above 0; none = 1 each. */
  readonly weights: readonly number[]
}

/** A spline's segments as Bézier curves: control points, weights. `knots` must not fall and must be points + degree + 1. */
export function* bezierOf(s: Spline): Generator<{ points: [number, number][]; weights: number[] }> {
  const p = s.degree
  const t = s.knots
  const lifted = s.points.map(([x, y], i): Weighted => {
    const w = s.weights[i] ?? 1
    return [x * w, y * w, w]
  })
  for (let k = p; k < s.points.length; k++) {
    const [lo, hi] = [t[k]!, t[k + 1]!]
    if (!(lo < hi)) continue
    const control: Weighted[] = []
    for (let j = 0; j <= p; j++) {
      // The blossom at p−j times the lower and j times the upper knot.
      const d = lifted.slice(k - p, k + 1)
      for (let r = 1; r <= p; r++) {
        const at = r <= p - j ? lo : hi
        for (let i = p; i >= r; i--) {
          const [from, to] = [t[k - p + i]!, t[k + 1 + i - r]!]
          const f = (at - from) / (to - from)
          const [a, b] = [d[i - 1]!, d[i]!]
          d[i] = [a[0] + f * (b[0] - a[0]), a[1] + f * (b[1] - a[1]), a[2] + f * (b[2] - a[2])]
        }
      }
      control.push(d[p]!)
    }
    yield {
      points: control.map(([x, y, w]): [number, number] => [x / w, y / w]),
      weights: control.map(([, , w]) => w),
    }
  }
}

/** A full ellipse or circle as one closed line. */
export function ellipse(
  draft: Draft,
  matrix: Matrix,
  where: Where,
  c: readonly [number, number],
  u: readonly [number, number],
  v: readonly [number, number],
): undefined {
  const pen = new Pen(draft, matrix, where)
  pen.moveTo(c[0] + u[0], c[1] + u[1])
  pen.ellipseTo(c, u, v, 0, TAU, [c[0] + u[0], c[1] + u[1]])
  pen.close()
}
