/**
 * Flattening and path reading against exact evaluation that shares nothing with them: Bernstein polynomials, the basis functions
 * of Cox (1972) and de Boor (1972), the ellipse's own equation, and for path data and transforms another package's reader.
 */
import svgpath from 'svgpath'
import { describe, expect, it } from 'vitest'
import { outlineOf } from '../../solver/shapes.ts'
import { type Piece, piecesOf, pointToPiece } from '../../solver/shapes-pieces.ts'
import { um } from '../../solver/units.ts'
import { Draft, type Run } from '../../src/bring-in/contours.ts'
import { bezierOf, type Matrix, Pen } from '../../src/bring-in/flatten.ts'
import { transformOf } from '../../src/bring-in/svg-attributes.ts'
import { drawPath } from '../../src/bring-in/svg-path.ts'
import { LONG, random, taken } from './deck-kit.ts'

const where = { line: 1, what: 'test', layers: [] }
const SAME: Matrix = [1, 0, 0, 1, 0, 0]
type Xy = readonly [number, number]

/** Lines and arcs of a run, in µm. */
function piecesOfRun(run: Run): Piece[] {
  const count = run.points.length
  return run.points.slice(0, run.closed ? count : count - 1).flatMap((a, i) => {
    const b = run.points[(i + 1) % count]!
    const two = [a, { ...b, bulge: 0 }].map((p) => ({ x: um(p.x * 1000), y: um(p.y * 1000), bulge: p.bulge }))
    return piecesOf(outlineOf({ kind: 'polygon', points: two }).slice(0, 1))
  })
}

/** Largest distance of the points from the runs, and of the runs' corners from the points' polyline, mm. */
function off(points: readonly Xy[], runs: readonly Run[]): { curve: number; corners: number } {
  const pieces = runs.flatMap(piecesOfRun)
  const curve = points.reduce(
    (most, [x, y]) =>
      Math.max(
        most,
        pieces.reduce((d, p) => Math.min(d, pointToPiece(p, x * 1000, y * 1000)), Infinity),
      ),
    0,
  )
  const near = (x: number, y: number): number =>
    points.reduce((d, p, i) => {
      const q = points[i + 1] ?? p
      const [dx, dy] = [q[0] - p[0], q[1] - p[1]]
      const t = Math.min(1, Math.max(0, ((x - p[0]) * dx + (y - p[1]) * dy) / (dx * dx + dy * dy || 1)))
      return Math.min(d, Math.hypot(x - p[0] - t * dx, y - p[1] - t * dy))
    }, Infinity)
  const corners = runs.flatMap((r) => r.points).reduce((most, v) => Math.max(most, near(v.x, v.y)), 0)
  return { curve: curve / 1000, corners }
}

const choose = (n: number, k: number): number => (k === 0 ? 1 : (choose(n, k - 1) * (n - k + 1)) / k)

function bernstein(points: readonly Xy[], weights: readonly number[], t: number): Xy {
  const n = points.length - 1
  let [x, y, w] = [0, 0, 0]
  points.forEach((p, i) => {
    const b = choose(n, i) * t ** i * (1 - t) ** (n - i) * weights[i]!
    x += b * p[0]
    y += b * p[1]
    w += b
  })
  return [x / w, y / w]
}

const dense = (at: (t: number) => Xy, from = 0, to = 1, n = 400): Xy[] =>
  Array.from({ length: n + 1 }, (_, i) => at(from + ((to - from) * i) / n))

describe('flattened curves', () => {
  it('stay within the tolerance of Bézier curves of degree 2 to 6, rational ones too', () => {
    const r = random(11)
    for (let k = 0; k < (LONG ? 1000 : 24); k++) {
      const tolerance = [0.002, 0.01, 0.05][k % 3]!
      const n = 3 + (k % 5)
      const points = Array.from({ length: n }, (): Xy => [r(-60, 60), r(-60, 60)])
      const weights = points.map(() => (k % 2 === 0 ? 1 : r(0.2, 5)))
      const draft = new Draft(tolerance)
      const pen = new Pen(draft, SAME, where)
      pen.moveTo(...points[0]!)
      pen.curveTo(points, weights)
      pen.end(false)
      const d = off(
        dense((t) => bernstein(points, weights, t)),
        draft.runs,
      )
      expect(d.curve, `curve ${k}`).toBeLessThanOrEqual(tolerance)
      expect(draft.runs[0]!.flat).toBe(1)
      // Not by burying it in lines either: at least a line in four is needed.
      const coarse = new Draft(tolerance * 16)
      const again = new Pen(coarse, SAME, where)
      again.moveTo(...points[0]!)
      again.curveTo(points, weights)
      again.end(false)
      expect(coarse.runs[0]!.points.length).toBeLessThan(draft.runs[0]!.points.length)
    }
  })

  it('stay within the tolerance of ellipses, turned, sheared and cut', () => {
    const r = random(12)
    for (let k = 0; k < (LONG ? 1000 : 24); k++) {
      const tolerance = [0.002, 0.01, 0.05][k % 3]!
      const [c, u, v] = [0, 1, 2].map((): Xy => [r(-40, 40), r(-40, 40)]) as [Xy, Xy, Xy]
      const [t0, span] = [r(-4, 4), r(0.1, 6.2)]
      const m: Matrix = [r(-2, 2), r(-2, 2), r(-2, 2), r(-2, 2), r(-9, 9), r(-9, 9)]
      const at = (t: number): Xy => {
        const [x, y] = [c[0] + u[0] * Math.cos(t) + v[0] * Math.sin(t), c[1] + u[1] * Math.cos(t) + v[1] * Math.sin(t)]
        return [m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]]
      }
      const draft = new Draft(tolerance)
      const pen = new Pen(draft, m, where)
      pen.moveTo(c[0] + u[0] * Math.cos(t0) + v[0] * Math.sin(t0), c[1] + u[1] * Math.cos(t0) + v[1] * Math.sin(t0))
      pen.ellipseTo(c, u, v, t0, t0 + span)
      pen.end(false)
      const d = off(dense(at, t0, t0 + span), draft.runs)
      expect(d.curve, `ellipse ${k}`).toBeLessThanOrEqual(tolerance)
    }
  })

  it('keep what is round as true arcs, mirrored and turned', () => {
    const draft = new Draft(0.01)
    const turn = Math.PI / 7
    const m: Matrix = [-2 * Math.cos(turn), -2 * Math.sin(turn), -2 * Math.sin(turn), 2 * Math.cos(turn), 5, 6]
    const pen = new Pen(draft, m, where)
    pen.moveTo(10, 0)
    pen.ellipseTo([0, 0], [10, 0], [0, 10], 0, 4)
    pen.end(false)
    expect(draft.runs[0]!.flat).toBe(0)
    expect(draft.runs[0]!.points).toHaveLength(3)
    for (let t = 0; t <= 4; t += 0.1) {
      const [x, y] = [10 * Math.cos(t), 10 * Math.sin(t)]
      expect(off([[m[0] * x + m[2] * y + 5, m[1] * x + m[3] * y + 6]], draft.runs).curve).toBeLessThan(1e-6)
    }
  })

  it('take splines apart into the curve that the basis functions give', () => {
    const r = random(13)
    for (let k = 0; k < (LONG ? 500 : 40); k++) {
      const degree = 1 + (k % 5)
      const points = Array.from({ length: degree + 1 + (k % 6) }, (): Xy => [r(-50, 50), r(-50, 50)])
      const weights = points.map(() => (k % 2 === 0 ? 1 : r(0.3, 4)))
      // Clamped and not, with knots that repeat.
      const knots: number[] = []
      let now = 0
      for (let i = 0; i < points.length + degree + 1; i++) {
        const clamped = k % 3 !== 0 && (i <= degree || i > points.length)
        if (!clamped || i === points.length + 1) now += r(0, 1) < 0.2 && i > degree ? 0 : r(0.1, 2)
        knots.push(now)
      }
      if (k % 3 !== 0) for (let i = points.length; i < knots.length; i++) knots[i] = now + 1
      const pieces = [...bezierOf({ degree, knots, points, weights })]
      const spans = knots
        .slice(degree, points.length + 1)
        .map((t, i, all) => [t, all[i + 1]] as const)
        .filter(([a, b]) => b !== undefined && a < b)
      expect(pieces).toHaveLength(spans.length)
      pieces.forEach((piece, i) => {
        const [a, b] = spans[i]! as [number, number]
        for (let j = 0; j <= 10; j++) {
          const t = Math.min(a + ((b - a) * j) / 10, b - 1e-9)
          const want = coxDeBoor(degree, knots, points, weights, t)
          const got = bernstein(piece.points, piece.weights, (t - a) / (b - a))
          expect(Math.hypot(want[0] - got[0], want[1] - got[1]), `spline ${k}`).toBeLessThan(1e-6)
        }
      })
    }
  })
})

/** N(i,p) by its recursion. */
function coxDeBoor(p: number, t: readonly number[], points: readonly Xy[], weights: readonly number[], at: number): Xy {
  const basis = (i: number, q: number): number => {
    if (q === 0) return t[i]! <= at && at < t[i + 1]! ? 1 : 0
    const left = t[i + q]! > t[i]! ? ((at - t[i]!) / (t[i + q]! - t[i]!)) * basis(i, q - 1) : 0
    const right =
      t[i + q + 1]! > t[i + 1]! ? ((t[i + q + 1]! - at) / (t[i + q + 1]! - t[i + 1]!)) * basis(i + 1, q - 1) : 0
    return left + right
  }
  let [x, y, w] = [0, 0, 0]
  points.forEach((point, i) => {
    const b = basis(i, p) * weights[i]!
    x += b * point[0]
    y += b * point[1]
    w += b
  })
  return [x / w, y / w]
}

describe('path data', () => {
  const COMMANDS = 'MmLlHhVvCcSsQqTtAaZz'
  const counts: Record<string, number> = { m: 2, l: 2, h: 1, v: 1, c: 6, s: 4, q: 4, t: 2, z: 0 }

  it('of all commands and any transform draws what another reader draws', () => {
    const r = random(14)
    for (let k = 0; k < (LONG ? 1500 : 80); k++) {
      let d = `M${r(-30, 30)} ${r(-30, 30)}`
      for (let i = 0; i < 8; i++) {
        const c = COMMANDS[Math.floor(r(0, COMMANDS.length - 0.01))]!
        if (c.toLowerCase() === 'a') {
          d += `${c}${r(1, 30)} ${r(1, 30)} ${r(-180, 180)} ${Math.round(r(0, 1))}${Math.round(r(0, 1))}${r(-30, 30)},${r(-30, 30)}`
        } else d += c + Array.from({ length: counts[c.toLowerCase()]! }, () => r(-30, 30)).join(' ')
      }
      const transform = [
        `translate(${r(-9, 9)},${r(-9, 9)})`,
        `rotate(${r(-180, 180)} ${r(-9, 9)} ${r(-9, 9)}) scale(${r(0.3, 2)} ${r(-2, -0.3)})`,
        `matrix(${r(0.5, 2)} ${r(-1, 1)} ${r(-1, 1)} ${r(0.5, 2)} ${r(-9, 9)} ${r(-9, 9)})`,
        `skewX(${r(-40, 40)}),skewY(${r(-20, 20)})`,
      ][k % 4]!
      const node = { name: 'path', attributes: new Map([['transform', transform]]), children: [], line: 1, text: '' }
      const draft = new Draft(0.01)
      drawPath(d, draft, transformOf(node), where)
      // Its arcs become cubic curves that are off by up to 3e-4 of the radius, here some 600 mm where radii had to grow.
      expect(off(sampled(d, transform), draft.runs).curve, `${d} ${transform}`).toBeLessThan(0.25)
    }
  })

  it('reads numbers as the grammar has them', () => {
    const draft = new Draft(0.01)
    drawPath('M.5.5-1-1L1e1,09 +2.e0-.5', draft, SAME, where)
    expect(draft.runs[0]!.points.map((p) => [p.x, p.y])).toEqual([
      [0.5, 0.5],
      [-1, -1],
      [10, 9],
      [2, -0.5],
    ])
  })

  it('goes on from where a closed line began', () => {
    const draft = new Draft(0.01)
    drawPath('M10 10h5v5z l-5 0', draft, SAME, where)
    expect(draft.runs.map((r) => r.points.length)).toEqual([3, 2])
    expect(draft.runs[1]!.points[0]).toMatchObject({ x: 10, y: 10 })
  })
})

/** Points of the path by the other package, all curves as cubics; arcs first, since it mirrors arcs wrongly. */
function sampled(d: string, transform: string): Xy[] {
  const out: Xy[] = []
  let start: Xy = [0, 0]
  svgpath(d)
    .abs()
    .unshort()
    .unarc()
    .transform(transform)
    .iterate((s, _, x, y) => {
      const n = s.slice(1) as number[]
      if (s[0] === 'M') start = [n[0]!, n[1]!]
      if (s[0] === 'L') out.push(...dense((t) => [x + (n[0]! - x) * t, y + (n[1]! - y) * t], 0, 1, 10))
      if (s[0] === 'H') out.push(...dense((t) => [x + (n[0]! - x) * t, y], 0, 1, 10))
      if (s[0] === 'V') out.push(...dense((t) => [x, y + (n[0]! - y) * t], 0, 1, 10))
      if ((s[0] === 'Z' || s[0] === 'z') && (x !== start[0] || y !== start[1])) {
        out.push(...dense((t) => [x + (start[0] - x) * t, y + (start[1] - y) * t], 0, 1, 10))
      }
      if (s[0] !== 'C' && s[0] !== 'Q') return
      const points: Xy[] = [[x, y]]
      for (let i = 0; i < n.length; i += 2) points.push([n[i]!, n[i + 1]!])
      out.push(
        ...dense(
          (t) =>
            bernstein(
              points,
              points.map(() => 1),
              t,
            ),
          0,
          1,
          40,
        ),
      )
    })
  return out
}

describe('a flattened opening', () => {
  it('is within 0.01 mm of the ellipse, rounding to whole micrometres included', () => {
    const svg =
      '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60"><rect width="100" height="60"/><ellipse cx="50" cy="30" rx="30" ry="11.7" transform="rotate(20 50 30)"/></svg>'
    const { decks, report } = taken(svg, 'e.svg')
    const shape = decks[0]!.openings![0]!.shape
    if (!('polygon' in shape)) throw new Error('no polygon')
    const run: Run = { points: shape.polygon.map(([x, y]) => ({ x, y, bulge: 0 })), closed: true, where, flat: 1 }
    const turn = (-20 * Math.PI) / 180
    const at = (t: number): Xy => {
      const [x, y] = [30 * Math.cos(t), 11.7 * Math.sin(t)]
      return [50 + x * Math.cos(turn) - y * Math.sin(turn), 30 + x * Math.sin(turn) + y * Math.cos(turn)]
    }
    const d = off(dense(at, 0, 2 * Math.PI, 4000), [run])
    expect(d.curve).toBeLessThanOrEqual(0.01)
    expect(d.curve).toBeGreaterThan(0.003)
    expect(d.corners).toBeLessThan(0.001)
    expect(report.flattened).toEqual({ count: 1, tolerance: 0.01 })
  })
})
