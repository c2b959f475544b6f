/**
 * Which contour lies in which, and whether any cross. Pieces of all contours are laid into strips along y, so that only near ones
 * are compared; the work is counted, and a drawing that asks for too much is refused in words.
 */
import { outlineOf } from '../../solver/shapes.ts'
import { along, cuts, type Piece, piecesOf, pointToPiece, xAt } from '../../solver/shapes-pieces.ts'
import { um } from '../../solver/units.ts'
import { Refused, type Vertex } from './contours.ts'
import type { Contour } from './contours-join.ts'
import { drawing } from './words-drawings.ts'

export interface Nested {
  readonly contour: Contour
  /** How many contours are around this one. */
  readonly depth: number
  /** Index of the outermost one around it, its own where there is none. */
  readonly outline: number
}

/** Nearer than this (µm) two lines touch. */
const NEAR = 0.5
const MOST_COMPARED = 40_000_000

interface Laid {
  readonly piece: Piece
  readonly contour: number
  /** Index of the segment in its contour. */
  readonly edge: number
}

/** Depths of all contours. Throws Refused, naming the place, where one meets itself or another. */
export function nest(contours: readonly Contour[]): Nested[] {
  const own = contours.map((c, contour) => pieces(c.points, contour).sort(byLeft))
  const laid = own.flat().sort(byLeft)
  const work = { left: MOST_COMPARED }
  refuseMeetings(laid, new Strips(laid.map((l) => l.piece)), contours, work)
  const finder = new Finder(own, work)
  const around = contours.map((c, i) => finder.around(c, i))
  return contours.map((contour, i) => ({
    contour,
    depth: around[i]!.length,
    outline: around[i]!.find((k) => around[k]!.length === 0) ?? i,
  }))
}

const byLeft = (a: Laid, b: Laid): number => a.piece.minX - b.piece.minX

/** Lines and quarter arcs in µm, each knowing its segment. */
function pieces(points: readonly Vertex[], contour: number): Laid[] {
  const edges = points.map((a, i) => {
    const b = points[(i + 1) % points.length]!
    const two = [
      { x: um(a.x * 1000), y: um(a.y * 1000), bulge: a.bulge },
      { x: um(b.x * 1000), y: um(b.y * 1000), bulge: 0 },
    ]
    return outlineOf({ kind: 'polygon', points: two }).slice(0, 1)
  })
  return edges.flatMap((edge, i) => piecesOf(edge).map((piece) => ({ piece, contour, edge: i })))
}

interface Spread {
  readonly minX: number
  readonly minY: number
  readonly maxX: number
  readonly maxY: number
}

/** Bands of equal height; each lists by index what reaches into it, in the order given. */
class Strips {
  readonly lists: readonly (readonly number[])[]
  readonly #from: number
  readonly #height: number

  constructor(laid: readonly Spread[]) {
    const low = laid.reduce((v, l) => Math.min(v, l.minY), Number.POSITIVE_INFINITY)
    const high = laid.reduce((v, l) => Math.max(v, l.maxY), Number.NEGATIVE_INFINITY)
    this.#from = low
    let count = Math.max(1, Math.min(2000, Math.ceil(Math.sqrt(laid.length))))
    const reach = (n: number): number =>
      laid.reduce((sum, l) => sum + 1 + ((l.maxY - l.minY) * n) / Math.max(1, high - low), 0)
    // Tall pieces stand in many strips; not more in all than there is room for.
    while (count > 1 && reach(count) > 4 * laid.length + 100_000) count = Math.ceil(count / 2)
    this.#height = Math.max(1, (high - low) / count)
    const lists: number[][] = Array.from({ length: count }, () => [])
    laid.forEach((l, k) => {
      const top = this.of(l.maxY + NEAR, count)
      for (let s = this.of(l.minY - NEAR, count); s <= top; s++) lists[s]!.push(k)
    })
    this.lists = lists
  }

  of(y: number, count = this.lists.length): number {
    return Math.min(count - 1, Math.max(0, Math.floor((y - this.#from) / this.#height)))
  }
}

function spend(work: { left: number }): void {
  work.left -= 1
  if (work.left < 0) {
    throw new Refused(drawing.tangled, drawing.simpler)
  }
}

function refuseMeetings(
  laid: readonly Laid[],
  strips: Strips,
  contours: readonly Contour[],
  work: { left: number },
): void {
  for (const list of strips.lists) {
    for (let i = 0; i < list.length; i++) {
      const a = laid[list[i]!]!
      for (let j = i + 1; j < list.length; j++) {
        const b = laid[list[j]!]!
        if (b.piece.minX > a.piece.maxX + NEAR) break
        spend(work)
        if (b.piece.minY > a.piece.maxY + NEAR || a.piece.minY > b.piece.maxY + NEAR) continue
        const at = meeting(a, b, contours)
        if (at) refuse(a, b, contours, at)
      }
    }
  }
}

function refuse(a: Laid, b: Laid, contours: readonly Contour[], at: { x: number; y: number }): never {
  const [p, q] = [contours[a.contour]!.where, contours[b.contour]!.where]
  const place = { x: at.x / 1000, y: at.y / 1000 }
  if (a.contour === b.contour) {
    throw new Refused(drawing.crossesItself(p, place), drawing.plainContour, p.line)
  }
  throw new Refused(drawing.contoursMeet(p, q, place), drawing.contoursApart, Math.max(p.line, q.line))
}

/** A point that both share, other than a corner between neighbours. */
function meeting(a: Laid, b: Laid, contours: readonly Contour[]): { x: number; y: number } | undefined {
  const corners: { x: number; y: number }[] = []
  if (a.contour === b.contour) {
    const n = contours[a.contour]!.points.length
    const apart = Math.abs(a.edge - b.edge)
    if (apart <= 1 || apart === n - 1) {
      for (const p of ends(a.piece)) {
        for (const q of ends(b.piece)) if (Math.hypot(p.x - q.x, p.y - q.y) < 2 * NEAR) corners.push(p)
      }
    }
  }
  for (const t of [0, 1, ...cuts(a.piece, b.piece)]) {
    const p = along(a.piece, t)
    if (pointToPiece(b.piece, p.x, p.y) > NEAR) continue
    if (!corners.some((c) => Math.hypot(c.x - p.x, c.y - p.y) < 4 * NEAR)) return p
  }
  return undefined
}

const ends = (p: Piece): { x: number; y: number }[] => [
  { x: p.x0, y: p.y0 },
  { x: p.x1, y: p.y1 },
]

/** Finds the contours around a point: first by their boxes, then by a ray that leaves an odd number of times. */
class Finder {
  readonly #boxes: readonly (Spread & { readonly contour: number })[]
  readonly #strips: Strips
  /** Strips of the contours that were asked, so that a long outline can be asked often. */
  readonly #inner = new Map<number, Strips>()
  readonly #own: readonly (readonly Laid[])[]
  readonly #work: { left: number }

  constructor(own: readonly (readonly Laid[])[], work: { left: number }) {
    this.#own = own
    this.#work = work
    this.#boxes = own.map((l, contour) => ({ ...spreadOf(l), contour })).sort((a, b) => a.minX - b.minX)
    this.#strips = new Strips(this.#boxes)
  }

  around(contour: Contour, self: number): number[] {
    const x = contour.points[0]!.x * 1000
    const y = contour.points[0]!.y * 1000
    const found: number[] = []
    for (const k of this.#strips.lists[this.#strips.of(y)] ?? []) {
      const box = this.#boxes[k]!
      if (box.minX >= x) break
      spend(this.#work)
      if (box.contour === self || box.maxX <= x || box.minY >= y || box.maxY <= y) continue
      if (this.#holds(box.contour, x, y)) found.push(box.contour)
    }
    return found
  }

  #holds(contour: number, x: number, y: number): boolean {
    const own = this.#own[contour]!
    const strips = this.#inner.get(contour) ?? new Strips(own.map((l) => l.piece))
    this.#inner.set(contour, strips)
    let odd = false
    for (const k of strips.lists[strips.of(y)]!) {
      const { piece } = own[k]!
      spend(this.#work)
      if (piece.minY > y || y >= piece.maxY || piece.maxX <= x) continue
      if (piece.minX > x || xAt(piece, y) > x) odd = !odd
    }
    return odd
  }
}

function spreadOf(own: readonly Laid[]): Spread {
  const box = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity }
  for (const { piece } of own) {
    box.minX = Math.min(box.minX, piece.minX)
    box.minY = Math.min(box.minY, piece.minY)
    box.maxX = Math.max(box.maxX, piece.maxX)
    box.maxY = Math.max(box.maxY, piece.maxY)
  }
  return box
}
