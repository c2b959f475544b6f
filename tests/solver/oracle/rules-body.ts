/** Rules that look at one body: R1, R4, R5 of itself, R8, R9 against plates, and the place entries that name no other item. */
import type { Place, Problem } from '../../../solver/problem.ts'
import {
  type Box,
  boxClear,
  boxDistance,
  boxesOverlap,
  boxInside,
  boxOverlaps,
  circleRegion,
  discClear,
  discInside,
  discToBox,
  type Region,
  region,
  regionsOverlap,
  TOL,
} from './geometry.ts'
import { roundsOf, type Stand } from './stand.ts'

/** Deck shapes as regions, made once a problem. */
interface DeckView {
  readonly outline: Region
  readonly openings: readonly {
    readonly region: Region
    readonly mayCover: boolean
    readonly index: number | undefined
  }[]
}
const views = new WeakMap<Problem, DeckView[]>()
export function deckViews(p: Problem): DeckView[] {
  let v = views.get(p)
  if (!v) {
    v = p.decks.map((d, k) => ({
      outline: region(d.outline),
      openings: [
        ...d.openings.map((o, i) => ({
          region: region(o.shape),
          mayCover: o.mayCover,
          index: i as number | undefined,
        })),
        ...roundsOf(p, k).map((e) => ({ region: circleRegion(e.x, e.y, e.r), mayCover: false, index: undefined })),
      ],
    }))
    views.set(p, v)
  }
  return v
}

/** An outline's bounding box. Reading: where an arc makes it fractional, its sides are rounded to whole micrometres. */
export function deckBox(p: Problem, k: number): { left: number; right: number; back: number; front: number } {
  const { x, y, w, h } = deckViews(p)[k]!.outline.box
  return { left: Math.round(x), right: Math.round(x + w), back: Math.round(y), front: Math.round(y + h) }
}

export const id = (p: Problem, s: Stand): string => p.items[s.item]!.id
export const heightsMeet = (alo: number, ahi: number, blo: number, bhi: number): boolean => alo < bhi && blo < ahi

/** R1, R4, R5 of one body, R8, R9 against plates, and the place entries that ask nothing of other items. */
export function broken1(p: Problem, s: Stand): string[] {
  const out: string[] = []
  const me = id(p, s)
  if (!insideDeck(p, s)) out.push(`R1|${me}`)
  for (const z of p.zones) if (z.deck === s.deck && breaksZone(p, s, z)) out.push(`R4|${me}|${z.id}`)
  if (!holesSound(p, s)) out.push(`R5|${me}`)
  p.decks.forEach((d, k) => {
    if (underPlate(p, s, k)) out.push(`R8|${me}|${d.id}`)
    if (k !== s.deck && s.sweep && heightsMeet(s.sweep.lo, s.sweep.hi, d.z - d.thickness, d.z)) {
      if (s.sweep.regions.some((r) => regionsOverlap(r, deckViews(p)[k]!.outline))) out.push(`R9|${me}|${d.id}`)
    }
  })
  p.items[s.item]!.place.forEach((e, k) => {
    if (!placeHolds1(p, s, e)) out.push(`R10|${me}|${k}`)
  })
  return out
}

function insideDeck(p: Problem, s: Stand): boolean {
  const item = p.items[s.item]!
  const view = deckViews(p)[s.deck]!
  const b = { x0: s.box.x, y0: s.box.y, x1: s.box.x + s.box.w, y1: s.box.y + s.box.h }
  const over = item.overhang
  const side = deckBox(p, s.deck)
  // Reading 3: no side is passed by more than the overhang there, whether or not anything of the body is left.
  if (b.x0 < side.left - over.left || b.x1 > side.right + over.right) return false
  if (b.y0 < side.back - over.back || b.y1 > side.front + over.front) return false
  if (over.left > 0) b.x0 = Math.max(b.x0, side.left + p.edgeClearance)
  if (over.right > 0) b.x1 = Math.min(b.x1, side.right - p.edgeClearance)
  if (over.back > 0) b.y0 = Math.max(b.y0, side.back + p.edgeClearance)
  if (over.front > 0) b.y1 = Math.min(b.y1, side.front - p.edgeClearance)
  if (b.x1 <= b.x0 || b.y1 <= b.y0) return true
  const cut: Box = { x: b.x0, y: b.y0, w: b.x1 - b.x0, h: b.y1 - b.y0 }
  if (!boxInside(view.outline, cut, p.edgeClearance)) return false
  const kind = item.footprint.mount.kind
  return view.openings.every((q) => {
    if (kind === 'plug-in') return q.index !== undefined || !boxOverlaps(q.region, cut)
    if (kind === 'drop-in' && q.index !== undefined && q.index === s.reuses) return true
    if (q.mayCover) return kind !== 'adhesive' || !boxOverlaps(q.region, cut)
    return boxClear(q.region, cut, p.edgeClearance)
  })
}

function breaksZone(p: Problem, s: Stand, z: Problem['zones'][number]): boolean {
  // Underside zones are asked of holes: R5 (reading 6).
  if (z.kind === 'underside') return false
  const base = p.decks[s.deck]!.z
  if (!boxOverlaps(region(z.shape), s.box)) return false
  if (z.kind === 'view') return s.high - base > (z.z?.[0] ?? 0)
  return !z.z || heightsMeet(s.under - base, s.high - base, z.z[0], z.z[1])
}

/** R5 of one body: its holes, slots and cut-out against the deck, against existing holes and against one another. */
function holesSound(p: Problem, s: Stand): boolean {
  const view = deckViews(p)[s.deck]!
  const deck = p.decks[s.deck]!
  const web = p.minWeb
  const under = p.zones.filter((z) => z.deck === s.deck && z.kind === 'underside').map((z) => region(z.shape))
  for (const [i, h] of s.holes.entries()) {
    if (under.some((r) => !discClear(r, h.x, h.y, h.r, 0))) return false
    if (h.land > 0) {
      if (!discInside(view.outline, h.x, h.y, h.land, 0)) return false
      if (view.openings.some((o) => !discClear(o.region, h.x, h.y, h.land, 0))) return false
      for (const g of s.holes.slice(i + 1))
        if (g.land > 0 && Math.hypot(g.x - h.x, g.y - h.y) < g.land + h.land - TOL) return false
    }
    if (h.reused) continue
    if (!discInside(view.outline, h.x, h.y, h.r, web)) return false
    if (view.openings.some((o) => !discClear(o.region, h.x, h.y, h.r, web))) return false
    if (deck.holes.some((o) => Math.hypot(o.at.x - h.x, o.at.y - h.y) - h.r - o.diameter / 2 < web - TOL)) return false
    for (const g of s.holes.slice(i + 1))
      if (!g.reused && Math.hypot(g.x - h.x, g.y - h.y) - g.r - h.r < web - TOL) return false
    if (s.cuts.some((c) => !c.reused && discToBox(c, h.x, h.y, h.r) < web - TOL)) return false
  }
  for (const [i, c] of s.cuts.entries()) {
    if (under.some((r) => boxOverlaps(r, c))) return false
    if (c.reused) continue
    if (!boxInside(view.outline, c, web)) return false
    if (view.openings.some((o) => !boxClear(o.region, c, web))) return false
    if (deck.holes.some((o) => discToBox(c, o.at.x, o.at.y, o.diameter / 2) < web - TOL)) return false
    for (const d of s.cuts.slice(i + 1)) if (boxDistance(c, d) < web - TOL || boxesOverlap(c, d)) return false
  }
  return true
}

/** R8 of one body and one deck. */
function underPlate(p: Problem, s: Stand, k: number): boolean {
  const deck = p.decks[k]!
  if (deck.z <= p.decks[s.deck]!.z) return false
  const view = deckViews(p)[k]!
  const above = p.items[s.item]!.footprint.above
  if (above !== 'open' && s.high + above <= deck.z - deck.thickness) return false
  if (!boxOverlaps(view.outline, s.box)) return false
  return !view.openings.some((o) => boxInside(o.region, s.box, 0))
}

/** Place entries that look at one item only; the others hold here and are asked of the whole layout. */
function placeHolds1(p: Problem, s: Stand, e: Place): boolean {
  const o = deckBox(p, s.deck)
  switch (e.kind) {
    case 'at':
      return s.deck === e.deck && s.x === e.at.x && s.y === e.at.y && (e.turn === undefined || e.turn === s.turn)
    case 'centred': {
      const middle = e.axis === 'x' ? o.left + o.right : o.back + o.front
      const mine = e.axis === 'x' ? 2 * s.box.x + s.box.w : 2 * s.box.y + s.box.h
      return Math.abs(mine - middle) <= 1
    }
    case 'edge': {
      const gap = {
        left: s.box.x - o.left,
        right: s.box.x + s.box.w - o.right,
        back: s.box.y - o.back,
        front: s.box.y + s.box.h - o.front,
      }[e.edge]
      return Math.abs(gap) <= e.within
    }
    case 'inside':
      return boxInside(region(e.shape), s.box, 0)
    case 'near':
    case 'beyond':
    case 'host':
      return true
  }
}
