/**
 * What a drawing comes to before it is a deck: runs of lines and arcs in millimetres, y to the back of the sheet turned to the
 * front, each knowing where in the file it stands; and the list of what could not be used.
 */
import { whereText } from './words.ts'
import { drawing } from './words-drawings.ts'

/** `bulge` = tan(sweep/4) of the segment that starts here, 0 for a straight one; positive = anticlockwise (contract §1). */
export interface Vertex {
  readonly x: number
  readonly y: number
  readonly bulge: number
}

export interface Where {
  /** Line of the file, from 1. */
  readonly line: number
  /** The kind of thing, in the file's own word: `LWPOLYLINE`, `<path>`. */
  readonly what: string
  /** Layer, or names of the groups around it, and its own. */
  readonly layers: readonly string[]
}

/** An open line, or a closed one whose last segment runs back to its first point. A full circle is two halves. */
export interface Run {
  readonly points: readonly Vertex[]
  readonly closed: boolean
  readonly where: Where
  /** Curves in it that became lines. */
  readonly flat: number
}

/** Something that is in the file and not in the deck. */
export interface Unused {
  readonly what: string
  /** `line 12`, and where it helps the place in the drawing. */
  readonly where: string
  readonly why: string
}

/** A file that cannot be used as a whole. Stays inside the folder: the door turns it into a problem. */
export class Refused extends Error {
  constructor(
    readonly found: string,
    readonly expected: string,
    readonly line?: number,
    readonly path = '',
  ) {
    super(drawing.refusal(found, expected))
  }
}

/** Segments that one file may come to. */
export const MOST_SEGMENTS = 1_000_000
/** Elements and commands looked at. */
const MOST_STEPS = 3_000_000
/** Elements brought in again by blocks and uses, each time counted. */
const MOST_REPEATED = 200_000
/** mm; what lies farther out is no part of a deck, whose coordinates end at 10 m. */
const FARTHEST = 100_000

/** Collects what a reader finds. Throws Refused where it becomes too much. */
export class Draft {
  readonly runs: Run[] = []
  readonly unused: (Unused & { readonly layers: readonly string[] })[] = []
  /** Layers and named groups of the drawing, those with nothing on them too. */
  readonly named = new Set<string>()
  #segments = 0
  #steps = 0
  #repeated = 0

  /** `tolerance`: mm that a flattened curve may be off. */
  constructor(readonly tolerance: number) {}

  /** To be called for every element or entity that is looked at; `again`: because a block or a use brings it in. */
  step(again = false): undefined {
    this.#steps += 1
    if (this.#steps > MOST_STEPS) throw new Refused(drawing.manySteps(MOST_STEPS), drawing.fewer)
    if (again) this.#repeated += 1
    if (this.#repeated > MOST_REPEATED) {
      throw new Refused(drawing.manyRepeated(MOST_REPEATED), drawing.fewer)
    }
  }

  /** Room for so many more segments. */
  count(segments: number): undefined {
    this.#segments += segments
    if (!(this.#segments <= MOST_SEGMENTS)) {
      throw new Refused(drawing.manySegments(MOST_SEGMENTS), drawing.fewerOrCoarser)
    }
  }

  add(points: readonly Vertex[], closed: boolean, where: Where, flat: number): undefined {
    const far = points.find(
      (p) => !(Math.abs(p.x) <= FARTHEST && Math.abs(p.y) <= FARTHEST && Number.isFinite(p.bulge)),
    )
    if (far) this.cannot(where, drawing.farOut(far, FARTHEST / 1000))
    else if (points.length < 2) this.cannot(where, drawing.singlePoint)
    else this.runs.push({ points, closed, where, flat })
  }

  cannot(where: Where, why: string): undefined {
    this.unused.push({ what: where.what, where: whereText(where), why, layers: where.layers })
  }
}

/** Centre, radius and signed sweep (radians) of the arc from `a` to `b`; undefined for a straight segment. */
export function arcOf(
  a: Vertex,
  b: { readonly x: number; readonly y: number },
): { readonly cx: number; readonly cy: number; readonly r: number; readonly sweep: number } | undefined {
  const k = a.bulge
  const [dx, dy] = [b.x - a.x, b.y - a.y]
  const chord = Math.hypot(dx, dy)
  // A sagitta under a nanometre is straight, and its centre would be noise.
  if ((Math.abs(k) * chord) / 2 < 1e-6) return undefined
  const f = (1 - k * k) / (4 * k)
  return {
    cx: (a.x + b.x) / 2 - dy * f,
    cy: (a.y + b.y) / 2 + dx * f,
    r: (chord * (1 + k * k)) / (4 * Math.abs(k)),
    sweep: 4 * Math.atan(k),
  }
}

/** The point at fraction `t` of the segment from `a` to `b`. */
export function pointOn(a: Vertex, b: { readonly x: number; readonly y: number }, t: number): { x: number; y: number } {
  const arc = arcOf(a, b)
  if (!arc) return { x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t }
  const angle = Math.atan2(a.y - arc.cy, a.x - arc.cx) + arc.sweep * t
  return { x: arc.cx + arc.r * Math.cos(angle), y: arc.cy + arc.r * Math.sin(angle) }
}

/** Length along the segment from `a` to `b`. */
export function lengthOf(a: Vertex, b: { readonly x: number; readonly y: number }): number {
  const arc = arcOf(a, b)
  return arc ? arc.r * Math.abs(arc.sweep) : Math.hypot(b.x - a.x, b.y - a.y)
}
