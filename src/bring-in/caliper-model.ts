/**
 * What a caliper measures on a plate, as equations. The plate is a rectangle, its left edge x = 0, its back edge y = 0 (y runs to
 * the front, as everywhere); unknown are its width, its depth, and each hole's x, y and, where it is not given, diameter. Lengths in mm.
 */
import { measured } from './words-caliper.ts'
export const EDGES = ['left', 'right', 'front', 'back'] as const
export const CORNERS = ['front-left', 'front-right', 'back-left', 'back-right'] as const
export type Edge = (typeof EDGES)[number]
export type Corner = (typeof CORNERS)[number]

/**
 * Where the jaws touch the holes. To an edge or corner: `near` and `far` side, or `centre`. Between two holes: `inner` sides (the
 * web), `outer` sides, or `centre`. Only a hole's diameter has none.
 */
export type Jaws = 'centre' | 'near' | 'far' | 'inner' | 'outer'

export interface CaliperHole {
  readonly id: string
  /** Known beforehand; else it is fitted. */
  readonly diameter?: number | undefined
  /** About where it is: tells mirrored answers apart. */
  readonly near?: readonly [number, number] | undefined
}

export interface CaliperMeasure {
  /** Hole id, edge or corner; `to` missing: the hole's diameter. */
  readonly from: string
  readonly to?: string | undefined
  readonly jaws?: Jaws | undefined
  /** One or more readings of the same distance. */
  readonly readings: readonly number[]
}

export interface CaliperMeasures {
  readonly holes: readonly CaliperHole[]
  readonly measures: readonly CaliperMeasure[]
  /** Standard uncertainty of one reading, mm: how far repeated readings scatter. */
  readonly reading?: number | undefined
  /** Standard uncertainty that repeating does not lessen, mm: the instrument's own. */
  readonly instrument?: number | undefined
}

/** One unknown: which point it belongs to, and which figure of it. */
export interface Unknown {
  readonly point: string
  readonly what: 'width' | 'depth' | 'x' | 'y' | 'diameter'
}

/** The value at `x`, and its derivatives by the unknowns that it depends on. */
export interface Equation {
  readonly on: readonly number[]
  readonly at: (x: readonly number[], gradient: number[]) => number
}

export interface Model {
  readonly unknowns: readonly Unknown[]
  readonly equations: readonly Equation[]
  /** Indices of x, y and, where it is fitted, diameter, by hole. */
  readonly holes: readonly {
    readonly id: string
    readonly x: number
    readonly y: number
    readonly d: number | undefined
  }[]
}

export const WIDTH = 0
export const DEPTH = 1

export const isEdge = (name: string): name is Edge => (EDGES as readonly string[]).includes(name)
export const isCorner = (name: string): name is Corner => (CORNERS as readonly string[]).includes(name)
export const isHorizontal = (edge: Edge): boolean => edge === 'front' || edge === 'back'

/** What is wrong with a measure's ends and jaws, in words; undefined where nothing is. Holes are known by now. */
export function faultOf(m: CaliperMeasure): { field: 'from' | 'to' | 'jaws'; expected: string } | undefined {
  const { from, to, jaws } = m
  const hole = (name: string): boolean => !isEdge(name) && !isCorner(name)
  if (to === undefined) {
    if (!hole(from)) return { field: 'to', expected: measured.otherEnd }
    return jaws === undefined ? undefined : { field: 'jaws', expected: measured.noJawsDiameter }
  }
  if (from === to) return { field: 'to', expected: measured.differentEnd }
  const holes = [from, to].filter(hole).length
  const edges = [from, to].filter(isEdge)
  if (edges.length === 2 && isHorizontal(edges[0]!) !== isHorizontal(edges[1]!)) {
    return { field: 'to', expected: measured.oppositeEdge }
  }
  if (edges.length === 1 && holes === 0) return { field: 'to', expected: measured.holeOrEdge }
  const right: readonly Jaws[] =
    holes === 2 ? ['centre', 'inner', 'outer'] : holes === 1 ? ['centre', 'near', 'far'] : []
  if (jaws !== undefined && !right.includes(jaws)) {
    return { field: 'jaws', expected: right.length === 0 ? measured.noJaws : measured.oneOf(right) }
  }
  return undefined
}

/** Equations of sound measures (`faultOf` says nothing, every hole is known). */
export function modelOf({ holes, measures }: CaliperMeasures): Model {
  const unknowns: Unknown[] = [
    { point: 'right', what: 'width' },
    { point: 'front', what: 'depth' },
  ]
  const places = holes.map((h) => {
    const x = unknowns.push({ point: h.id, what: 'x' }) - 1
    const y = unknowns.push({ point: h.id, what: 'y' }) - 1
    const d = h.diameter === undefined ? unknowns.push({ point: h.id, what: 'diameter' }) - 1 : undefined
    return { id: h.id, x, y, d, fixed: h.diameter ?? 0 }
  })
  const byId = new Map(places.map((p) => [p.id, p]))
  type Place = (typeof places)[number]
  /** ± half a diameter: its value, and its derivative where it is fitted. */
  const radius = (p: Place, sign: number, x: readonly number[], add: (on: number, by: number) => void): number => {
    if (p.d === undefined) return (sign * p.fixed) / 2
    add(p.d, sign / 2)
    return (sign * x[p.d]!) / 2
  }
  const equations = measures.map((m): Equation => {
    const sign = m.jaws === 'near' || m.jaws === 'inner' ? -1 : m.jaws === 'far' || m.jaws === 'outer' ? 1 : 0
    const [a, b] = [byId.get(m.from), byId.get(m.to ?? '')]
    const edge = [m.from, m.to ?? ''].find(isEdge)
    const touched = [a, b].filter((p) => p !== undefined)
    const on = [...new Set([WIDTH, DEPTH, ...touched.flatMap((p) => [p.x, p.y, ...(p.d === undefined ? [] : [p.d])])])]
    const at = (x: readonly number[], gradient: number[]): number => {
      gradient.length = on.length
      gradient.fill(0)
      const add = (unknown: number, by: number): void => {
        const k = on.indexOf(unknown)
        gradient[k] = gradient[k]! + by
      }
      if (m.to === undefined) {
        if (a!.d !== undefined) add(a!.d, 1)
        return a!.d === undefined ? a!.fixed : x[a!.d]!
      }
      if (edge !== undefined) {
        const flat = isHorizontal(edge)
        const size = flat ? DEPTH : WIDTH
        const hole = touched[0]
        if (hole === undefined) {
          add(size, 1)
          return x[size]!
        }
        const place = flat ? hole.y : hole.x
        const fromZero = edge === 'left' || edge === 'back'
        add(place, fromZero ? 1 : -1)
        if (!fromZero) add(size, 1)
        const reach = fromZero ? x[place]! : x[size]! - x[place]!
        return reach + radius(hole, sign, x, add)
      }
      const [from, to] = [a ?? corner(m.from as Corner), b ?? corner(m.to as Corner)]
      const dx = coordinate(to.x, x) - coordinate(from.x, x)
      const dy = coordinate(to.y, x) - coordinate(from.y, x)
      const length = Math.hypot(dx, dy)
      const [ux, uy] = length > 0 ? [dx / length, dy / length] : [0, 0]
      for (const [end, way] of [
        [to, 1],
        [from, -1],
      ] as const) {
        if (end.x >= 0) add(end.x, way * ux)
        if (end.y >= 0) add(end.y, way * uy)
      }
      return length + touched.reduce((sum, p) => sum + radius(p, sign, x, add), 0)
    }
    return { on, at }
  })
  return { unknowns, equations, holes: places }
}

/** Index of an unknown, or −1 for a coordinate that is 0. */
const corner = (name: Corner): { x: number; y: number } => ({
  x: name.endsWith('right') ? WIDTH : -1,
  y: name.startsWith('front') ? DEPTH : -1,
})
const coordinate = (index: number, x: readonly number[]): number => (index < 0 ? 0 : x[index]!)
