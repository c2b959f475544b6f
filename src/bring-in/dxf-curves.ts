/** LINE, CIRCLE, ARC, ELLIPSE and SPLINE. */
import { type Draft, Refused, type Where } from './contours.ts'
import { all, type Entity, first, need } from './dxf-groups.ts'
import { bezierOf, ellipse, type Matrix, Pen } from './flatten.ts'
import { dxf } from './words-drawings.ts'

const TAU = 2 * Math.PI
const HIGHEST_DEGREE = 25

/** Draws one curve, or lists it. Throws Refused where numbers are missing or none. */
export function drawCurve(e: Entity, draft: Draft, matrix: Matrix, where: Where): undefined {
  switch (e.type) {
    case 'LINE': {
      if (Math.abs(first(e, 30, 0) - first(e, 31, 0)) > 1e-6) return draft.cannot(where, dxf.tiltedLine)
      const pen = new Pen(draft, matrix, where)
      pen.moveTo(need(e, 10), need(e, 20))
      pen.lineTo(need(e, 11), need(e, 21))
      return pen.end(false)
    }
    case 'CIRCLE':
    case 'ARC':
      return circle(e, draft, matrix, where)
    case 'ELLIPSE':
      return ellipseOf(e, draft, matrix, where)
    default:
      return spline(e, draft, matrix, where)
  }
}

function circle(e: Entity, draft: Draft, matrix: Matrix, where: Where): undefined {
  const c = [need(e, 10), need(e, 20)] as const
  const r = need(e, 40)
  if (!(r > 0)) return draft.cannot(where, dxf.radius(r))
  if (e.type === 'CIRCLE') return ellipse(draft, matrix, where, c, [r, 0], [0, r])
  arc(draft, matrix, where, c, [r, 0], [0, r], (need(e, 50) * Math.PI) / 180, (need(e, 51) * Math.PI) / 180)
}

/** Anticlockwise from t0 to t1; a whole turn where both are the same direction and not the same number. */
function arc(
  draft: Draft,
  matrix: Matrix,
  where: Where,
  c: readonly [number, number],
  u: readonly [number, number],
  v: readonly [number, number],
  t0: number,
  t1: number,
): undefined {
  const raw = t1 - t0
  const turns = Math.abs(raw) / TAU
  if (Math.abs(turns - Math.round(turns)) < 1e-9) {
    if (Math.round(turns) === 0) return draft.cannot(where, dxf.sameAngle)
    return ellipse(draft, matrix, where, c, u, v)
  }
  const span = ((raw % TAU) + TAU) % TAU
  const pen = new Pen(draft, matrix, where)
  pen.moveTo(c[0] + u[0] * Math.cos(t0) + v[0] * Math.sin(t0), c[1] + u[1] * Math.cos(t0) + v[1] * Math.sin(t0))
  pen.ellipseTo(c, u, v, t0, t0 + span)
  pen.end(false)
}

function ellipseOf(e: Entity, draft: Draft, matrix: Matrix, where: Where): undefined {
  const c = [need(e, 10), need(e, 20)] as const
  const u = [need(e, 11), need(e, 21)] as const
  const ratio = need(e, 40)
  if (!(ratio > 0) || Math.hypot(...u) === 0) return draft.cannot(where, dxf.noAxis)
  // The minor axis is the major one turned by a quarter about the extrusion direction, which may point down.
  const side = first(e, 230, 1) < 0 ? -1 : 1
  const v = [-u[1] * ratio * side, u[0] * ratio * side] as const
  arc(draft, matrix, where, c, u, v, first(e, 41, 0), first(e, 42, TAU))
}

function spline(e: Entity, draft: Draft, matrix: Matrix, where: Where): undefined {
  const [xs, ys] = [all(e, 10), all(e, 20)]
  if (xs.length === 0) return draft.cannot(where, dxf.fitPoints)
  const degree = need(e, 71)
  const knots = all(e, 40)
  const weights = all(e, 41)
  const bad = (found: string, expected: string): never => {
    throw new Refused(found, expected, e.line)
  }
  if (!(Number.isInteger(degree) && degree >= 1 && degree <= HIGHEST_DEGREE)) {
    bad(dxf.degree(degree), dxf.degreeUpTo(HIGHEST_DEGREE))
  }
  if (xs.length !== ys.length) bad(dxf.xAndY(xs.length, ys.length), dxf.asMany)
  if (xs.length <= degree) bad(dxf.controlPoints(xs.length), dxf.atLeastPoints(degree + 1, degree))
  if (knots.length !== xs.length + degree + 1) bad(dxf.knots(knots.length), `${xs.length + degree + 1}`)
  if (knots.some((k, i) => i > 0 && k < knots[i - 1]!)) bad(dxf.fallingKnots, dxf.risingKnots)
  if (weights.length > 0 && weights.length !== xs.length) bad(dxf.weights(weights.length), dxf.orNone(xs.length))
  if (weights.some((w) => !(w > 0))) return draft.cannot(where, dxf.weight)
  const points = xs.map((x, i) => [x, ys[i]!] as const)
  // What is straight stays straight.
  const pen = new Pen(draft, matrix, where)
  let begun = false
  for (const piece of bezierOf({ degree, knots, points, weights })) {
    if (!begun) pen.moveTo(...piece.points[0]!)
    begun = true
    if (degree === 1) pen.lineTo(...piece.points[1]!)
    else pen.curveTo(piece.points, piece.weights)
  }
  if (!begun) return draft.cannot(where, dxf.noCurve)
  pen.end(false)
}
