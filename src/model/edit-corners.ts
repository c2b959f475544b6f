/**
 * Outlines, openings and zones edited corner by corner. Pure; lengths mm, in the decks' frame. What an edit comes to may be no
 * shape: `faultOf` says so, in numbers of corners, before anyone takes it.
 */
import type { ShapeFile } from '../../footprints/fields.ts'
import { sectorSweep } from '../../solver/shapes.ts'
import { simple } from '../../solver/shapes-simple.ts'
import { mm, toMm } from '../../solver/units.ts'
import { partsOf, setDeck, setPart } from './edit-deck.ts'
import { moveRounded, placeOf, turnBetween } from './edit-rounded.ts'
import type { Project } from './schema.ts'

/** `[x, y, bulge]`: the bulge is that of the edge to the next corner, tan of a quarter of its sweep, positive = anticlockwise. */
export type Corner = readonly [x: number, y: number, bulge: number]

/** Where a shape stands: a deck's outline, or one of its openings or zones. */
export type ShapeAt = { readonly part: 'outline' } | { readonly part: 'openings' | 'zones'; readonly id: string }

export const sameShapeAt = (a: ShapeAt | undefined, b: ShapeAt): boolean =>
  a?.part === b.part && (a.part === 'outline' || (b.part !== 'outline' && a.id === b.id))

/** Undefined where there is none any more. */
export function shapeAt(project: Project, deck: string, at: ShapeAt): ShapeFile | undefined {
  if (at.part === 'outline') return project.decks.find((d) => d.id === deck)?.outline
  return partsOf(project, at.part, deck).find((p) => p.id === at.id)?.shape
}

export const withShapeAt = (project: Project, deck: string, at: ShapeAt, shape: ShapeFile): Project =>
  at.part === 'outline' ? setDeck(project, deck, { outline: shape }) : setPart(project, deck, at.part, at.id, { shape })

const round = (value: number): number => toMm(mm(value))
/** Bulges are kept to a billionth, which is a nanometre on a metre. */
const roundBulge = (bulge: number): number => Math.round(bulge * 1e9) / 1e9
/** mm: nearer than this, two corners are one; flatter than this, an edge is straight. */
const SAME = 0.0011

/** A polygon's corners; undefined for other shapes. */
export const cornersOf = (shape: ShapeFile | undefined): readonly Corner[] | undefined =>
  shape && 'polygon' in shape ? shape.polygon.map(([x, y, bulge]) => [x, y, bulge ?? 0]) : undefined

export const polygonOf = (corners: readonly Corner[]): ShapeFile => ({
  polygon: corners.map(([x, y, bulge]) => {
    const b = roundBulge(bulge)
    return b === 0 ? [round(x), round(y)] : [round(x), round(y), b]
  }),
})

const nextOf = (corners: readonly Corner[], at: number): Corner => corners[(at + 1) % corners.length]!
const chordOf = (corners: readonly Corner[], at: number): number => {
  const [[x0, y0], [x1, y1]] = [corners[at]!, nextOf(corners, at)]
  return Math.hypot(x1 - x0, y1 - y0)
}
const tidy = (corners: readonly Corner[]): Corner[] =>
  corners.filter((c, i) => c[2] !== 0 || chordOf(corners, i) > SAME)

const QUARTER = Math.tan(Math.PI / 8)

/** The same outline as corners to be edited; a polygon as it is. */
export function asPolygon(shape: ShapeFile): ShapeFile {
  if ('polygon' in shape) return shape
  if ('circle' in shape) return polygonOf(around(shape.circle[0], shape.circle[1], shape.circle[2], 0, 360, 4))
  if ('sector' in shape) {
    const [cx, cy, r, from, to] = shape.sector
    const sweep = sectorSweep(from, to)
    if (sweep === 360) return asPolygon({ circle: [cx, cy, r] })
    const pieces = Math.ceil(sweep / 90)
    return polygonOf([[cx, cy, 0], ...around(cx, cy, r, from, sweep, pieces), along(cx, cy, r, from + sweep, 0)])
  }
  const [x, y, w, h] = shape.rect
  const [X, Y] = [x + w, y + h]
  const r = Math.min(shape.radius ?? 0, w / 2, h / 2)
  if (r <= 0) return polygonOf([x, X, X, x].map((a, i): Corner => [a, i < 2 ? y : Y, 0]))
  return polygonOf(
    tidy([
      [x + r, y, 0],
      [X - r, y, QUARTER],
      [X, y + r, 0],
      [X, Y - r, QUARTER],
      [X - r, Y, 0],
      [x + r, Y, QUARTER],
      [x, Y - r, 0],
      [x, y + r, QUARTER],
    ]),
  )
}

const along = (cx: number, cy: number, r: number, deg: number, bulge: number): Corner => [
  cx + r * Math.cos((deg * Math.PI) / 180),
  cy + r * Math.sin((deg * Math.PI) / 180),
  bulge,
]
const around = (cx: number, cy: number, r: number, from: number, sweep: number, pieces: number): Corner[] =>
  Array.from({ length: pieces }, (_, k) =>
    along(cx, cy, r, from + (sweep * k) / pieces, Math.tan(((sweep / pieces) * Math.PI) / 180 / 4)),
  )

/** The corner elsewhere. What is rounded off there or beside it keeps its radius; edges that are arcs of their own keep their sweep. */
export const moveCorner = (corners: readonly Corner[], at: number, to: readonly [number, number]): readonly Corner[] =>
  moveRounded(corners, at, to) ?? corners.map((c, i): Corner => (i === at ? [to[0], to[1], c[2]] : c))

/** The middle of the edge that starts at a corner, on its arc where it is round. */
export function middleOf(corners: readonly Corner[], at: number): readonly [number, number] {
  const [[x0, y0, b], [x1, y1]] = [corners[at]!, nextOf(corners, at)]
  // The rise is bulge × half the chord, to the right of the way from start to end.
  return [(x0 + x1) / 2 + ((y1 - y0) * b) / 2, (y0 + y1) / 2 - ((x1 - x0) * b) / 2]
}

/** One more corner, in the middle of the edge that starts at `at`; the outline stays the same. It is the corner `at + 1`. */
export function addCorner(corners: readonly Corner[], at: number): readonly Corner[] {
  const [x, y, bulge] = corners[at]!
  const half = Math.tan(Math.atan(bulge) / 2)
  const [mx, my] = middleOf(corners, at)
  return corners.toSpliced(at, 1, [x, y, half], [round(mx), round(my), half])
}

/** One corner less. Two edges of one arc become that arc again; other edges become a straight one. */
export function removeCorner(corners: readonly Corner[], at: number): readonly Corner[] {
  const n = corners.length
  const before = (at + n - 1) % n
  const [a, b] = [corners[before]!, corners[at]!]
  const bulge = oneArc(corners, before, at) ? Math.tan(Math.atan(a[2]) + Math.atan(b[2])) : 0
  return corners.map((c, i): Corner => (i === before ? [a[0], a[1], bulge] : c)).toSpliced(at, 1)
}

function oneArc(corners: readonly Corner[], i: number, j: number): boolean {
  const [a, b] = [arcAt(corners, i), arcAt(corners, j)]
  if (!a || !b || Math.sign(a.sweep) !== Math.sign(b.sweep) || Math.abs(a.sweep + b.sweep) > 1.9 * Math.PI) return false
  // Corners stand on whole micrometres, which moves the centre of a flat arc by much more.
  const far = Math.hypot(a.x - b.x, a.y - b.y)
  return far * Math.min(1, chordOf(corners, i) / a.r, chordOf(corners, j) / b.r) < 0.01
}

function arcAt(corners: readonly Corner[], at: number) {
  const [[x0, y0, k], [x1, y1]] = [corners[at]!, nextOf(corners, at)]
  if (k === 0) return undefined
  const f = (1 - k * k) / (4 * k)
  const r = (chordOf(corners, at) * (1 + k * k)) / (4 * Math.abs(k))
  return { x: (x0 + x1) / 2 - (y1 - y0) * f, y: (y0 + y1) / 2 + (x1 - x0) * f, r, sweep: 4 * Math.atan(k) }
}

/** The radius of the edge that starts at a corner; undefined where it is straight. */
export const radiusAt = (corners: readonly Corner[], at: number): number | undefined => {
  const arc = arcAt(corners, at)
  return arc && round(arc.r)
}

/** 1 for an outline that runs anticlockwise, −1 for one that runs clockwise. */
function wayOf(corners: readonly Corner[]): 1 | -1 {
  const twice = corners.reduce((sum, [x, y], i) => {
    const [x1, y1] = nextOf(corners, i)
    const arc = arcAt(corners, i)
    return sum + x * y1 - x1 * y + (arc ? arc.r * arc.r * (arc.sweep - Math.sin(arc.sweep)) : 0)
  }, 0)
  return twice < 0 ? -1 : 1
}

/** How far the edge that starts at a corner bows out of the shape, mm; negative: into it. */
export const bowOf = (corners: readonly Corner[], at: number): number =>
  round((wayOf(corners) * corners[at]![2] * chordOf(corners, at)) / 2) || 0

/** The edge that starts at a corner bowed out by so much; 0 = straight. */
export function bowEdge(corners: readonly Corner[], at: number, bow: number): readonly Corner[] {
  const bulge = bow === 0 ? 0 : (wayOf(corners) * 2 * bow) / chordOf(corners, at)
  return corners.map((c, i): Corner => (i === at ? [c[0], c[1], bulge] : c))
}

/** The largest radius, mm, that a corner can be rounded with; undefined where it has none: beside a round edge, or on a straight line. */
export function mostRadius(corners: readonly Corner[], at: number): number | undefined {
  const turn = turnAt(corners, at)
  return turn && Math.floor(turn.room * turn.tan * 1000 + 0.01) / 1000
}

/** The corner rounded off: two corners and an arc between them. Undefined where it cannot be done. */
export function roundCorner(corners: readonly Corner[], at: number, radius: number): readonly Corner[] | undefined {
  const turn = turnAt(corners, at)
  if (!turn || radius > turn.room * turn.tan + SAME) return undefined
  const [x, y] = corners[at]!
  const off = Math.min(turn.room, radius / turn.tan)
  const [from, to] = [turn.back, turn.on].map(([dx, dy]): [number, number] => [
    round(x + dx * off),
    round(y + dy * off),
  ])
  return tidy(corners.toSpliced(at, 1, [...from!, turn.bulge], [...to!, 0]))
}

/** Between two straight edges; undefined where one of them is round, or both are one line. */
function turnAt(corners: readonly Corner[], at: number) {
  const n = corners.length
  const [p, c, q] = [corners[(at + n - 1) % n]!, corners[at]!, nextOf(corners, at)]
  if (n < 3 || p[2] !== 0 || c[2] !== 0) return undefined
  const turn = turnBetween(placeOf(p), placeOf(c), placeOf(q))
  return Math.abs(turn.cross) < 1e-6 ? undefined : turn
}

/** Why corners are no shape; corners and the edges that start at them counted from 0. */
export type CornerFault =
  | { readonly kind: 'few' }
  | { readonly kind: 'twice'; readonly corner: number }
  | { readonly kind: 'crosses'; readonly edges: readonly [number, number] }

/** Comparisons that one look may take; what is left is for the validation of the document. */
const PAIRS = 2_000_000

export function faultOf(corners: readonly Corner[]): CornerFault | undefined {
  if (corners.length < (corners.some((c) => c[2] !== 0) ? 2 : 3)) return { kind: 'few' }
  const found = simple(
    corners.map(([x, y, bulge]) => ({ x: mm(x), y: mm(y), bulge: roundBulge(bulge) })),
    { pairs: PAIRS },
  )
  if (found.kind === 'point-twice') return { kind: 'twice', corner: found.vertex }
  return found.kind === 'crosses' ? found : undefined
}
