/** Where a part can be plugged into a board: the contacts under its pins and its body at each seat, in the board's own frame. */
import {
  coveredPoints,
  type Footprint,
  layoutOf,
  mm,
  type Placement,
  type Problem,
  pinsOn,
  type Seated,
  type Turn,
  tiePointAt,
  tiePointsOn,
  um,
} from '../../solver/index.ts'
import { boardsOf } from './strips-boards.ts'

export interface Seat {
  /** Lower-left corner of the turned body, Um. */
  readonly u: number
  readonly v: number
  /** Tie points, in the order of `tiePointsOn`, under the pins; and under them or the body. */
  readonly pins: readonly number[]
  readonly covered: ReadonlySet<number>
}

export interface Seats {
  /** All of them at one turn against the board, by `u v`. */
  readonly at: ReadonlyMap<string, Seat>
  readonly us: readonly number[]
  readonly vs: readonly number[]
  /** Of each tie point: which strip it is of, and of each strip its tie points. */
  readonly stripOf: readonly number[]
  readonly strips: readonly (readonly number[])[]
}

const known = new WeakMap<Footprint, WeakMap<Footprint, Map<Turn, Seats>>>()

/** Found once for a part, a board and a turn of the one against the other. `part`, `host`: indices of items. */
export function seatsOf(problem: Problem, part: number, host: number, turn: Turn): Seats {
  const [own, its] = [problem.items[part]!.footprint, problem.items[host]!.footprint]
  const byHost = known.get(own) ?? new WeakMap<Footprint, Map<Turn, Seats>>()
  known.set(own, byHost)
  const byTurn = byHost.get(its) ?? new Map<Turn, Seats>()
  byHost.set(its, byTurn)
  const seats = byTurn.get(turn) ?? find(problem, part, host, turn)
  byTurn.set(turn, seats)
  return seats
}

function find(problem: Problem, part: number, host: number, turn: Turn): Seats {
  const board: Placement = { item: host, deck: 0, at: { x: mm(0), y: mm(0) }, turn: 0 }
  const points = tiePointsOn(problem.items[host]!.footprint, board)
  const { strips, contactsOf } = boardsOf(layoutOf({ ...problem, wires: [] }, [board]))
  const footprint = problem.items[part]!.footprint
  const first = pinsOn(footprint, { at: board.at, turn })[0]
  const at = new Map<string, Seat>()
  for (const { at: p } of first ? points : []) {
    const [u, v] = [um(p.x - first!.x), um(p.y - first!.y)]
    const where = { at: { x: u, y: v }, turn }
    const pins = pinsOn(footprint, where).map((pin, i) => tiePointAt(points, pin, i === 0))
    // no seat: off the contacts, or two pins on one strip (R6)
    if (pins.includes(-1) || new Set(pins.map((k) => points[k]!.strip)).size < pins.length) continue
    const laid = layoutOf(problem, [board, { item: part, deck: 0, ...where, host }])
    at.set(`${u} ${v}`, { u, v, pins, covered: new Set(coveredPoints(laid.bodyOf.get(part)!, points)) })
  }
  const sorted = (axis: 'u' | 'v') => [...new Set([...at.values()].map((s) => s[axis]))].sort((a, b) => a - b)
  const index = new Map(strips.map((s, i) => [s, i]))
  const stripOf = contactsOf(host).map((c) => index.get(c.strip)!)
  const members = strips.map((_, s) => stripOf.flatMap((of, tie) => (of === s ? [tie] : [])))
  return { at, us: sorted('u'), vs: sorted('v'), stripOf, strips: members }
}

/**
 * The widest rectangle of seats round one in which `holds` does of every seat. Between two seats there is none, so it goes up to the
 * next that does not hold; without end where there is no such.
 */
export function rangeOf(seats: Seats, from: Seat, holds: (seat: Seat) => boolean): Pick<Seated, 'u' | 'v'> {
  const { us, vs, at } = seats
  const [i, k] = [us.indexOf(from.u), vs.indexOf(from.v)]
  const bad = new Map<Seat, boolean>()
  const ok = (a: number, b: number): boolean => {
    const seat = at.get(`${us[a]} ${vs[b]}`)
    if (!seat) return true
    const said = bad.get(seat) ?? holds(seat)
    bad.set(seat, said)
    return said
  }
  const grown = (uFirst: boolean) => {
    const r = { a0: i, a1: i, b0: k, b1: k }
    const all = (as: readonly number[], bs: readonly number[]) => as.every((a) => bs.every((b) => ok(a, b)))
    const span = (lo: number, hi: number) => Array.from({ length: hi - lo + 1 }, (_, n) => lo + n)
    const alongU = () => {
      while (r.a0 > 0 && all([r.a0 - 1], span(r.b0, r.b1))) r.a0--
      while (r.a1 < us.length - 1 && all([r.a1 + 1], span(r.b0, r.b1))) r.a1++
    }
    const alongV = () => {
      while (r.b0 > 0 && all(span(r.a0, r.a1), [r.b0 - 1])) r.b0--
      while (r.b1 < vs.length - 1 && all(span(r.a0, r.a1), [r.b1 + 1])) r.b1++
    }
    if (uFirst) alongU()
    alongV()
    if (!uFirst) alongU()
    return { r, size: (r.a1 - r.a0 + 1) * (r.b1 - r.b0 + 1) }
  }
  const [one, two] = [grown(true), grown(false)]
  const { r } = one.size >= two.size ? one : two
  const ends = (list: readonly number[], lo: number, hi: number): [number, number] => [
    lo === 0 ? Number.NEGATIVE_INFINITY : list[lo - 1]! + 1,
    hi === list.length - 1 ? Number.POSITIVE_INFINITY : list[hi + 1]! - 1,
  ]
  return { u: ends(us, r.a0, r.a1), v: ends(vs, r.b0, r.b1) }
}
