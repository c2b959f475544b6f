/** Where one placed item's parts are: everything the oracle's rules ask about, worked out from the problem and one placement. */
import type { Deck, Hole, Item, MountHole, Placement, Problem, Shape } from '../../../solver/problem.ts'
import type { Rect } from '../../../solver/units.ts'
import { type Box, circleRegion, movedRegion, type Region, region, sectorRegion } from './geometry.ts'

export interface StandHole {
  readonly x: number
  readonly y: number
  readonly r: number
  readonly land: number
  /** Sits on a hole that is already there, so that nothing is drilled. */
  readonly reused: boolean
}

export interface Stand {
  readonly item: number
  readonly deck: number
  readonly x: number
  readonly y: number
  readonly turn: number
  readonly host: number | undefined
  readonly box: Box
  readonly under: number
  readonly top: number
  /** Top with the stack. */
  readonly high: number
  readonly holes: readonly StandHole[]
  /** Slots and cut-out; `reused`: it is an opening that is there already. */
  readonly cuts: readonly (Box & { readonly reused: boolean })[]
  /** The opening that the cut-out coincides with. */
  readonly reuses: number | undefined
  readonly corridors: readonly { readonly region: Region; readonly lo: number; readonly hi: number }[]
  readonly sweep: { readonly regions: readonly Region[]; readonly lo: number; readonly hi: number } | undefined
}

/** Contract §1: (u,v), (d−v,u), (w−u,d−v), (v,w−u). */
export function turned(u: number, v: number, w: number, d: number, turn: number): [number, number] {
  if (turn === 0) return [u, v]
  if (turn === 1) return [d - v, u]
  if (turn === 2) return [w - u, d - v]
  return [v, w - u]
}

export const sizeOf = (item: Item, turn: number): [number, number] =>
  turn % 2 === 0 ? [item.footprint.width, item.footprint.depth] : [item.footprint.depth, item.footprint.width]

/** Round openings of a deck: exits and passes with a diameter. */
export const roundsOf = (p: Problem, deck: number): { id: string; x: number; y: number; r: number }[] =>
  [
    ...p.exits.filter((e) => e.deck === deck && e.diameter !== undefined),
    ...p.passes.filter((e) => e.decks.includes(deck) && e.diameter !== undefined),
  ].map((e) => ({ id: e.id, x: e.at.x, y: e.at.y, r: e.diameter! / 2 }))

const holeIsThere = (h: { x: number; y: number; d: number }, old: Hole): boolean =>
  Math.hypot(h.x - old.at.x, h.y - old.at.y) <= 100 && old.diameter >= h.d && old.diameter <= h.d + 500

/** An opening whose four sides are within 0.1 mm of the cut-out's, at both ends, and its corners of their meeting; for a strap's slot, one that was cut for a strap. */
const cutIsThere = (c: Box, deck: Deck, slot: boolean): number | undefined => {
  const k = deck.openings.findIndex(({ shape: s, strap }) => {
    if (slot && strap !== true) return false
    if (s.kind === 'polygon' && s.points.length === 4 && s.points.every((q) => q.bulge === 0)) {
      const at = (x: number, y: number) => s.points.some((q) => Math.abs(q.x - x) <= 100 && Math.abs(q.y - y) <= 100)
      return at(c.x, c.y) && at(c.x + c.w, c.y) && at(c.x, c.y + c.h) && at(c.x + c.w, c.y + c.h)
    }
    // A rounded corner is this much nearer to the middle than a sharp one.
    if (s.kind !== 'rect' || Math.hypot(s.radius, s.radius) - s.radius > 100) return false
    const gaps = [s.x - c.x, s.y - c.y, s.x + s.w - c.x - c.w, s.y + s.h - c.y - c.h]
    return gaps.every((g) => Math.abs(g) <= 100)
  })
  return k < 0 ? undefined : k
}

/** A shape of a `w` × `d` footprint, turned, then moved by (x, y). */
function placedShape(s: Shape, w: number, d: number, turn: number, x: number, y: number): Region {
  const at = (u: number, v: number): [number, number] => {
    const [a, b] = turned(u, v, w, d, turn)
    return [a + x, b + y]
  }
  switch (s.kind) {
    case 'rect': {
      const b = boxFrom(at(s.x, s.y), at(s.x + s.w, s.y + s.h))
      return region({ ...s, ...b } as Shape)
    }
    case 'circle':
      return circleRegion(...at(s.cx, s.cy), s.r)
    case 'sector':
      return sectorRegion(...at(s.cx, s.cy), s.r, s.from + 90 * turn, s.to + 90 * turn)
    case 'polygon':
      return region({
        kind: 'polygon',
        points: s.points.map((p) => {
          const [a, b] = at(p.x, p.y)
          return { x: a, y: b, bulge: p.bulge }
        }),
      } as unknown as Shape)
  }
}

const boxFrom = (a: [number, number], b: [number, number]): Box => ({
  x: Math.min(a[0], b[0]),
  y: Math.min(a[1], b[1]),
  w: Math.abs(a[0] - b[0]),
  h: Math.abs(a[1] - b[1]),
})

/** Height of the underside of a body over the ground. A plug-in part without a host stands at its deck's top. */
export function undersideOf(p: Problem, item: number, deck: number, host: number | undefined): number {
  const z = p.decks[deck]!.z
  const { mount } = p.items[item]!.footprint
  if (mount.kind === 'screw') return z + mount.standoff
  if (mount.kind === 'drop-in') return z - mount.below
  if (mount.kind !== 'plug-in' || host === undefined) return z
  return undersideOf(p, host, deck, undefined) + p.items[host]!.footprint.height
}

/** Holes, slots and cut-out of a mount, whatever its kind. */
const madeBy = (item: Item): { holes: readonly MountHole[]; cuts: readonly Rect[]; cutout: boolean } => {
  const m = item.footprint.mount
  if (m.kind === 'screw') return { holes: m.holes, cuts: [], cutout: false }
  if (m.kind === 'strap') return { holes: [], cuts: m.slots, cutout: false }
  if (m.kind === 'drop-in') return { holes: m.holes, cuts: [m.cutout], cutout: true }
  return { holes: [], cuts: [], cutout: false }
}

/** A full placement's parts. */
export function stand(
  p: Problem,
  at: Pick<Placement, 'item' | 'deck' | 'host'> & { x: number; y: number; turn: number },
): Stand {
  const item = p.items[at.item]!
  const deck = p.decks[at.deck]!
  const f = item.footprint
  const [w, h] = sizeOf(item, at.turn)
  const under = undersideOf(p, at.item, at.deck, at.host)
  const here = (u: number, v: number): [number, number] => {
    const [a, b] = turned(u, v, f.width, f.depth, at.turn)
    return [a + at.x, b + at.y]
  }
  const made = madeBy(item)
  const holes = made.holes.map((m) => {
    const [x, y] = here(m.at.x, m.at.y)
    const reused = deck.holes.some((old) => holeIsThere({ x, y, d: m.diameter }, old))
    return { x, y, r: m.diameter / 2, land: m.land / 2, reused }
  })
  const boxes = made.cuts.map((c) => boxFrom(here(c.x, c.y), here(c.x + c.w, c.y + c.h)))
  const reuses = made.cutout ? cutIsThere(boxes[0]!, deck, false) : undefined
  const corridors = f.corridors.map((c) => ({
    region: placedShape(c.shape, f.width, f.depth, at.turn, at.x, at.y),
    lo: under + c.z[0],
    hi: under + c.z[1],
  }))
  const top = under + f.height
  return {
    item: at.item,
    deck: at.deck,
    x: at.x,
    y: at.y,
    turn: at.turn,
    host: at.host,
    box: { x: at.x, y: at.y, w, h },
    under,
    top,
    high: top + item.stack,
    holes,
    cuts: boxes.map((b) => ({ ...b, reused: cutIsThere(b, deck, !made.cutout) !== undefined })),
    reuses,
    corridors,
    sweep: sweepOf(item, at.turn, here, deck.z),
  }
}

function sweepOf(
  item: Item,
  turn: number,
  here: (u: number, v: number) => [number, number],
  z: number,
): Stand['sweep'] {
  const head = item.footprint.head
  if (!head) return undefined
  const [x, y] = here(head.pivot.x, head.pivot.y)
  const regions: Region[] = []
  // Reading 10: 0° looks along +v, so from +x the sector's angles are 90° more, and 90° more a quarter turn.
  if (head.reach > 0)
    regions.push(sectorRegion(x, y, head.reach, head.pan[0] + 90 + 90 * turn, head.pan[1] + 90 + 90 * turn))
  if (head.tail > 0) regions.push(circleRegion(x, y, head.tail))
  return { regions, lo: z + head.z[0], hi: z + head.z[1] }
}

/** Where a point (u,v) of a placed item's footprint is. */
export function pointOf(p: Problem, s: Stand, u: number, v: number): [number, number] {
  const f = p.items[s.item]!.footprint
  const [a, b] = turned(u, v, f.width, f.depth, s.turn)
  return [a + s.x, b + s.y]
}

export interface Tie {
  readonly x: number
  readonly y: number
  readonly strip: string
}

const ties = new WeakMap<Item['footprint'], readonly Tie[]>()

/** Tie points of a breadboard in its own frame; asked for at every step, so kept. */
export function tiesOf({ footprint }: Item): readonly Tie[] {
  const known = ties.get(footprint) ?? tiesIn(footprint)
  ties.set(footprint, known)
  return known
}

function tiesIn({ breadboard: b, mount }: Item['footprint']): Tie[] {
  if (!b || mount.kind === 'plug-in') return []
  return b.blocks.flatMap((k, n) =>
    Array.from({ length: k.columns * k.rows }, (_, i) => {
      const c = i % k.columns
      const r = Math.floor(i / k.columns)
      return {
        x: k.at.x + c * b.pitch,
        y: k.at.y + r * b.pitch,
        strip: k.strip === 'column' ? `${n}c${c}` : `${n}r${r}`,
      }
    }),
  )
}

/** The same stand elsewhere; what is reused stays reused. */
export function moved(s: Stand, dx: number, dy: number): Stand {
  const at = <T extends { readonly x: number; readonly y: number }>(o: T): T => ({ ...o, x: o.x + dx, y: o.y + dy })
  return {
    ...at(s),
    box: at(s.box),
    holes: s.holes.map(at),
    cuts: s.cuts.map(at),
    corridors: s.corridors.map((c) => ({ ...c, region: movedRegion(c.region, dx, dy) })),
    sweep: s.sweep && { ...s.sweep, regions: s.sweep.regions.map((r) => movedRegion(r, dx, dy)) },
  }
}
