/**
 * Where the parts of placed items are: body rectangles, heights, corridors, sweeps, holes, pins, tie points, all in the
 * decks' common frame. Plain arithmetic on the contract's §1–§4, for the checker, the drawings and the page.
 */
import type { Corridor, Footprint, Item, MountHole, Placement, Problem, Shape } from '../problem.ts'
import { moveShape, sectorSweep, turnShape } from '../shapes.ts'
import { type Point, type Rect, type Turn, turnedSize, turnPoint, turnRect, type Um, um } from '../units.ts'

/** One placed item. Heights are over the ground. */
export interface Body {
  readonly index: number
  readonly item: Item
  readonly placement: Placement
  /** Index of the deck the body counts on (a plug-in part: its host's). */
  readonly deck: number
  readonly rect: Rect
  readonly bottom: Um
  readonly top: Um
  /** `top` plus the item's `stack`. */
  readonly reach: Um
  /** Index of the host item of a plug-in part, where there is one. */
  readonly host?: number
}

type Where = Pick<Placement, 'at' | 'turn'>

const shift = (p: Point, by: Point): Point => ({ x: um(p.x + by.x), y: um(p.y + by.y) })

/** A point of the footprint in the deck's frame. */
export const pointOn = (f: Footprint, w: Where, p: Point): Point => shift(turnPoint(p, f.width, f.depth, w.turn), w.at)

/** A rectangle of the footprint in the deck's frame. */
export function rectOn(f: Footprint, w: Where, r: Rect): Rect {
  const t = turnRect(r, f.width, f.depth, w.turn)
  return { x: um(t.x + w.at.x), y: um(t.y + w.at.y), w: t.w, h: t.h }
}

/** A shape of the footprint in the deck's frame. */
export const shapeOn = (f: Footprint, w: Where, s: Shape): Shape =>
  moveShape(turnShape(s, f.width, f.depth, w.turn), w.at.x, w.at.y)

/** The body in plan. */
export const bodyRect = (f: Footprint, w: Where): Rect => ({
  x: w.at.x,
  y: w.at.y,
  ...turnedSize(f.width, f.depth, w.turn),
})

/** Height of the body's underside over its deck's top face; for a plug-in part over its host's top. */
export function undersideOver(f: Footprint): Um {
  switch (f.mount.kind) {
    case 'screw':
      return f.mount.standoff
    case 'drop-in':
      return um(-f.mount.below)
    case 'adhesive':
    case 'strap':
    case 'plug-in':
      return um(0)
  }
}

/** Mounting holes with their centres in the deck's frame. */
export function holesOn(f: Footprint, w: Where): { readonly hole: MountHole; readonly at: Point }[] {
  if (f.mount.kind !== 'screw' && f.mount.kind !== 'drop-in') return []
  return f.mount.holes.map((hole) => ({ hole, at: pointOn(f, w, hole.at) }))
}

/** Strap slots in the deck's frame. */
export const slotsOn = (f: Footprint, w: Where): Rect[] =>
  f.mount.kind === 'strap' ? f.mount.slots.map((s) => rectOn(f, w, s)) : []

/** The cut-out of a drop-in part in the deck's frame. */
export const cutoutOn = (f: Footprint, w: Where): Rect | undefined =>
  f.mount.kind === 'drop-in' ? rectOn(f, w, f.mount.cutout) : undefined

/** Pins of a plug-in part in the deck's frame, in their order. */
export const pinsOn = (f: Footprint, w: Where): Point[] => f.plug?.pins.map((p) => pointOn(f, w, p.at)) ?? []

/** A breadboard contact; points with the same `strip` are one conductor. */
export interface TiePoint {
  readonly at: Point
  readonly strip: string
}

/** Tie points of a breadboard in the deck's frame; none for anything else. */
export function tiePointsOn(f: Footprint, w: Where): TiePoint[] {
  const points: TiePoint[] = []
  f.breadboard?.blocks.forEach((block, b) => {
    const { pitch } = f.breadboard!
    for (let i = 0; i < block.columns; i++) {
      for (let j = 0; j < block.rows; j++) {
        const at = { x: um(block.at.x + i * pitch), y: um(block.at.y + j * pitch) }
        points.push({ at: pointOn(f, w, at), strip: block.strip === 'column' ? `${b} column ${i}` : `${b} row ${j}` })
      }
    }
  })
  return points
}

/** Corridors of a body in the deck's frame, with heights over the ground. */
export function corridorsOf(
  body: Body,
): { readonly corridor: Corridor; readonly shape: Shape; readonly z: readonly [Um, Um] }[] {
  return body.item.footprint.corridors.map((corridor) => ({
    corridor,
    shape: shapeOn(body.item.footprint, body.placement, corridor.shape),
    z: [um(body.bottom + corridor.z[0]), um(body.bottom + corridor.z[1])],
  }))
}

/** The two shapes a head sweeps, in the deck's frame; pan 0° looks along +v, which is 90° from +x. */
export function sweepShapes(f: Footprint, w: Where): Shape[] {
  if (!f.head) return []
  const { pivot, pan, reach, tail } = f.head
  const c = pointOn(f, w, pivot)
  const from = pan[0] + 90 + 90 * w.turn
  return [
    { kind: 'sector', cx: c.x, cy: c.y, r: reach, from, to: from + sectorSweep(pan[0], pan[1]) },
    { kind: 'circle', cx: c.x, cy: c.y, r: tail },
  ]
}

/** A head's swept volume, heights over the ground. */
export function sweepOf(
  problem: Problem,
  body: Body,
): { readonly shapes: readonly Shape[]; readonly z: readonly [Um, Um] } | undefined {
  const head = body.item.footprint.head
  if (!head) return undefined
  const z = problem.decks[body.deck]!.z
  return {
    shapes: sweepShapes(body.item.footprint, body.placement),
    z: [um(z + head.z[0]), um(z + head.z[1])],
  }
}

/** Whether a placement says enough to have a body: a known item and deck, a quarter turn, whole coordinates. */
export const isPlaceable = (problem: Problem, p: Placement): boolean =>
  problem.items[p.item] !== undefined &&
  problem.decks[p.deck] !== undefined &&
  ([0, 1, 2, 3] as Turn[]).includes(p.turn) &&
  Number.isSafeInteger(p.at.x) &&
  Number.isSafeInteger(p.at.y)

/** Whether plug-in parts can sit on an item. */
export const isHost = (item: Item): boolean =>
  item.footprint.breadboard !== undefined && item.footprint.mount.kind !== 'plug-in'

/** Um: how far a pin may be from its tie point (contract R6), the first pin listed not at all. */
export const pinReach = (first: boolean): number => (first ? 0 : 10)

export const isOnTiePoint = (pin: Point, tie: Point, first = false): boolean =>
  Math.hypot(tie.x - pin.x, tie.y - pin.y) <= pinReach(first)

/** Index of the tie point that a pin is on, or −1. */
export const tiePointAt = (points: readonly TiePoint[], pin: Point, first: boolean): number =>
  points.findIndex(({ at }) => isOnTiePoint(pin, at, first))

/**
 * Bodies of all placements that have one; of an item placed twice the first. A plug-in part whose placement names no host
 * takes the first placed breadboard on which all its pins fit.
 */
export function bodiesOf(problem: Problem, placements: readonly Placement[]): Body[] {
  const seen = new Set<number>()
  const placed = placements.filter((p) => {
    if (!isPlaceable(problem, p) || seen.has(p.item)) return false
    seen.add(p.item)
    return true
  })
  const hosts = placed.filter((p) => isHost(problem.items[p.item]!))
  return placed.map((p) => {
    const item = problem.items[p.item]!
    const f = item.footprint
    let deck = p.deck
    let base: number = problem.decks[deck]!.z
    let host: Placement | undefined
    if (f.mount.kind === 'plug-in') {
      host = p.host === undefined ? hosts.find((h) => pinsFit(problem, h, p)) : hosts.find((h) => h.item === p.host)
      if (host) {
        const h = problem.items[host.item]!.footprint
        deck = host.deck
        base = problem.decks[deck]!.z + undersideOver(h) + h.height
      }
    }
    const bottom = um(base + undersideOver(f))
    const top = um(bottom + f.height)
    const body: Body = {
      index: p.item,
      item,
      placement: p,
      deck,
      rect: bodyRect(f, p),
      bottom,
      top,
      reach: um(top + item.stack),
    }
    return host ? { ...body, host: host.item } : body
  })
}

function pinsFit(problem: Problem, host: Placement, part: Placement): boolean {
  const points = tiePointsOn(problem.items[host.item]!.footprint, host)
  return pinsOn(problem.items[part.item]!.footprint, part).every((pin, i) => tiePointAt(points, pin, i === 0) >= 0)
}
