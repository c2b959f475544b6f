/** LWPOLYLINE, and POLYLINE with its VERTEX entities. */
import { type Draft, Refused, type Where } from './contours.ts'
import { type Entity, first, need, numberOf } from './dxf-groups.ts'
import { type Matrix, Pen } from './flatten.ts'
import { dxf } from './words-drawings.ts'

interface Corner {
  readonly x: number
  readonly y: number
  readonly bulge: number
}

/** Draws one polyline, or lists it. Throws Refused where its numbers are not whole. */
export function drawPolyline(
  e: Entity,
  parts: readonly Entity[],
  draft: Draft,
  matrix: Matrix,
  where: Where,
): undefined {
  const flags = first(e, 70, 0)
  const light = e.type === 'LWPOLYLINE'
  if (!light && (flags & (16 | 64)) !== 0) return draft.cannot(where, dxf.mesh)
  const corners = light ? lightCorners(e) : parts.flatMap((v) => vertex(v, parts[0]!, draft, where))
  if (corners === undefined || corners.includes(TILTED)) return draft.cannot(where, dxf.tiltedCorners)
  if (corners.length < 2) return draft.cannot(where, dxf.fewCorners(corners.length))
  const pen = new Pen(draft, matrix, where)
  const start = corners[0]!
  pen.moveTo(start.x, start.y)
  corners.forEach((a, i) => {
    const b = corners[i + 1] ?? start
    if (i + 1 < corners.length || (flags & 1) !== 0) pen.bulgeTo(b.x, b.y, a.bulge, [a.x, a.y])
  })
  pen.end((flags & 1) !== 0)
}

const TILTED: Corner = { x: 0, y: 0, bulge: 0 }

function vertex(v: Entity, top: Entity, draft: Draft, where: Where): Corner[] {
  if (v.type !== 'VERTEX') {
    draft.cannot({ ...where, line: v.line, what: v.type }, dxf.stranger)
    return []
  }
  // Control points of a fitted curve stand beside the corners that the fit came to.
  if ((first(v, 70, 0) & 16) !== 0) return []
  if (Math.abs(first(v, 30, 0) - first(top, 30, 0)) > 1e-6) return [TILTED]
  return [{ x: need(v, 10), y: need(v, 20), bulge: first(v, 42, 0) }]
}

function lightCorners(e: Entity): Corner[] {
  const corners: { x: number; y: number | undefined; bulge: number }[] = []
  for (const g of e.groups) {
    if (g.code === 10) corners.push({ x: numberOf(g, e.type), y: undefined, bulge: 0 })
    const last = corners.at(-1)
    if (last && g.code === 20) last.y = numberOf(g, e.type)
    if (last && g.code === 42) last.bulge = numberOf(g, e.type)
  }
  const said = first(e, 90, corners.length)
  if (said !== corners.length) {
    throw new Refused(dxf.cornersFound(corners.length), dxf.cornersSaid(said), e.line)
  }
  return corners.map((c) => {
    if (c.y === undefined) throw new Refused(dxf.cornerWithoutY, dxf.xAndYEach, e.line)
    return { x: c.x, y: c.y, bulge: c.bulge }
  })
}
