/** Where a plug-in part can sit on a breadboard: pins on tie points, no two on one strip. Pure geometry, found once a pair of footprints. */
import type { Footprint } from '../problem.ts'
import { type Point, type Turn, turnedSize, um } from '../units.ts'
import { at, onTurnedHost, tiePoints } from './parts.ts'

export interface Seat {
  /** Turn against the host. */
  readonly turn: Turn
  /** Lower-left corner of the turned body in the host's frame. */
  readonly u: number
  readonly v: number
  /** Tie points (indices into `tiePoints`) under the pins. */
  readonly pins: readonly number[]
  /** Tie points under the body, its edge included, or under a pin. */
  readonly covered: readonly number[]
}

/** How far a pin, but the first, may be from its tie point (contract R6). */
export const TOLERANCE = 10

const known = new WeakMap<Footprint, WeakMap<Footprint, readonly Seat[]>>()

export function seatsOn(part: Footprint, host: Footprint): readonly Seat[] {
  let byHost = known.get(part)
  if (!byHost) {
    byHost = new WeakMap()
    known.set(part, byHost)
  }
  let seats = byHost.get(host)
  if (!seats) {
    seats = find(part, host)
    byHost.set(host, seats)
  }
  return seats
}

/** Where the part's corner is against its host's, as the host is turned on the deck. */
export function cornerOn(part: Footprint, host: Footprint, { turn, u, v }: Seat, hostTurn: Turn): Point {
  const size = turnedSize(part.width, part.depth, turn)
  return onTurnedHost(host, u, v, size.w, size.h, hostTurn)
}

function find(part: Footprint, host: Footprint): Seat[] {
  const pins = part.plug?.pins ?? []
  if (!host.breadboard || pins.length === 0) return []
  const ties = tiePoints(host.breadboard)
  const grid = new Map<string, number[]>()
  ties.forEach((t, i) => {
    const key = `${Math.floor(t.x / 1000)},${Math.floor(t.y / 1000)}`
    const list = grid.get(key)
    if (list) list.push(i)
    else grid.set(key, [i])
  })
  /** Of several contacts at one place a pin is on the first, for the checker too. */
  const contactAt = (x: number, y: number): number | undefined => {
    let first: number | undefined
    for (let i = Math.floor((x - TOLERANCE) / 1000); i <= Math.floor((x + TOLERANCE) / 1000); i++)
      for (let j = Math.floor((y - TOLERANCE) / 1000); j <= Math.floor((y + TOLERANCE) / 1000); j++)
        for (const k of grid.get(`${i},${j}`) ?? [])
          if (k < (first ?? ties.length) && (ties[k]!.x - x) ** 2 + (ties[k]!.y - y) ** 2 <= TOLERANCE ** 2) first = k
    return first
  }
  const places = new Map<string, number>()
  ties.forEach(({ x, y }, i) => {
    if (!places.has(`${x},${y}`)) places.set(`${x},${y}`, i)
  })
  /** The first pin on a contact, the others where the turned part has them; none where a pin meets nothing, or two meet one strip. */
  const pinned = (firstIndex: number, u: number, v: number, others: readonly Point[]): number[] | undefined => {
    const on = [firstIndex]
    const strips = new Set([ties[firstIndex]!.strip])
    for (const p of others) {
      const hit = contactAt(u + p.x, v + p.y)
      if (hit === undefined || strips.has(ties[hit]!.strip)) return undefined
      on.push(hit)
      strips.add(ties[hit]!.strip)
    }
    return on
  }
  const seats: Seat[] = []
  for (const turn of [0, 1, 2, 3] as const) {
    const points = pins.map((p) => at(part, p.at, turn))
    const size = turnedSize(part.width, part.depth, turn)
    for (const firstIndex of places.values()) {
      const first = ties[firstIndex]!
      const u = first.x - points[0]!.x
      const v = first.y - points[0]!.y
      const on = pinned(firstIndex, u, v, points.slice(1))
      if (!on) continue
      const covered: number[] = []
      ties.forEach((t, i) => {
        if ((t.x >= u && t.x <= u + size.w && t.y >= v && t.y <= v + size.h) || on.includes(i)) covered.push(i)
      })
      seats.push({ turn, u: um(u), v: um(v), pins: on, covered })
    }
  }
  return seats
}
