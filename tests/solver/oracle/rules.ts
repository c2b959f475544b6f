/**
 * R1–R10 as plain predicates. Each answers with the keys of the rule instances that are broken, so that an instance can be
 * switched off when a conflict is put to the proof. Keys: `R1|item`, `R2|a|b`, `R3|a|b`, `R4|item|zone`, `R5|a` or `R5|a|b`,
 * `R6|item`, `R7|wire`, `R8|item|deck`, `R9|head|other` (an item or a deck), `R10|item|entry` (its number) and `R10|item|required`;
 * a pair's ids stand in order of their indices, except for R9.
 */
import type { Place, Problem, WireEnd } from '../../../solver/problem.ts'
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
import { pointOf, roundsOf, type Stand, tiesOf } from './stand.ts'

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

const id = (p: Problem, s: Stand): string => p.items[s.item]!.id
const heightsMeet = (alo: number, ahi: number, blo: number, bhi: number): boolean => alo < bhi && blo < ahi

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
  if (over.left > 0) {
    if (b.x0 < side.left - over.left) return false
    b.x0 = Math.max(b.x0, side.left + p.edgeClearance)
  }
  if (over.right > 0) {
    if (b.x1 > side.right + over.right) return false
    b.x1 = Math.min(b.x1, side.right - p.edgeClearance)
  }
  if (over.back > 0) {
    if (b.y0 < side.back - over.back) return false
    b.y0 = Math.max(b.y0, side.back + p.edgeClearance)
  }
  if (over.front > 0) {
    if (b.y1 > side.front + over.front) return false
    b.y1 = Math.min(b.y1, side.front - p.edgeClearance)
  }
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

/** R2, R3, R5 and R9 of two placed bodies, `a` the one with the smaller index. */
export function broken2(p: Problem, a: Stand, b: Stand): string[] {
  if (a.item > b.item) return broken2(p, b, a)
  const out: string[] = []
  const key = `${id(p, a)}|${id(p, b)}`
  if (!apart(p, a, b)) out.push(`R2|${key}`)
  const enters = (owner: Stand, other: Stand): boolean =>
    owner.corridors.some((c) => heightsMeet(c.lo, c.hi, other.under, other.high) && boxOverlaps(c.region, other.box))
  if (enters(a, b) || enters(b, a)) out.push(`R3|${key}`)
  if (a.deck === b.deck && !websHold(p, a, b)) out.push(`R5|${key}`)
  for (const [head, other] of [
    [a, b],
    [b, a],
  ] as const) {
    if (head.sweep && sweepHits(p, head, other)) out.push(`R9|${id(p, head)}|${id(p, other)}`)
  }
  return out
}

function apart(p: Problem, a: Stand, b: Stand): boolean {
  if (a.host === b.item || b.host === a.item) return true
  if (a.deck !== b.deck) return !(heightsMeet(a.under, a.top, b.under, b.top) && boxesOverlap(a.box, b.box))
  const gapX = Math.max(a.box.x - b.box.x - b.box.w, b.box.x - a.box.x - a.box.w)
  const gapY = Math.max(a.box.y - b.box.y - b.box.h, b.box.y - a.box.y - a.box.h)
  return Math.max(gapX, gapY) >= p.itemClearance
}

function websHold(p: Problem, a: Stand, b: Stand): boolean {
  const web = p.minWeb
  for (const h of a.holes)
    for (const g of b.holes) {
      const d = Math.hypot(h.x - g.x, h.y - g.y)
      if (!h.reused && !g.reused && d - h.r - g.r < web - TOL) return false
      if (h.land > 0 && g.land > 0 && d < h.land + g.land - TOL) return false
    }
  const holeCut = (s: Stand, t: Stand): boolean =>
    s.holes.every((h) => h.reused || t.cuts.every((c) => c.reused || discToBox(c, h.x, h.y, h.r) >= web - TOL))
  if (!holeCut(a, b) || !holeCut(b, a)) return false
  return a.cuts.every(
    (c) => c.reused || b.cuts.every((d) => d.reused || (boxDistance(c, d) >= web - TOL && !boxesOverlap(c, d))),
  )
}

function sweepHits(p: Problem, head: Stand, other: Stand): boolean {
  const s = head.sweep!
  const above = p.items[other.item]!.footprint.above
  const over = (): boolean => s.regions.some((r) => boxOverlaps(r, other.box))
  if (heightsMeet(s.lo, s.hi, other.under, other.high + (above === 'open' ? 0 : above))) return over()
  return above === 'open' && s.hi > other.under && over()
}

/** What R6 needs to know of a plug-in part on its host. */
export interface Seat {
  readonly covered: readonly number[]
  readonly pins: readonly number[]
  readonly sound: boolean
}

/** Tie points (their numbers on the host) that a part's pins fall on and that its body covers. */
export function seatOf(p: Problem, part: Stand, host: Stand): Seat {
  const ties = tiesOf(p.items[host.item]!).map((t) => {
    const [x, y] = pointOf(p, host, t.x, t.y)
    return { x, y, strip: t.strip }
  })
  const pins = p.items[part.item]!.footprint.plug!.pins.map((pin, k) => {
    const [x, y] = pointOf(p, part, pin.at.x, pin.at.y)
    const tol = k === 0 ? 0 : 10
    return ties.findIndex((t) => Math.abs(t.x - x) <= tol && Math.abs(t.y - y) <= tol)
  })
  const strips = new Set(pins.map((k) => ties[k]?.strip))
  const b = part.box
  const covered = ties.flatMap((t, k) =>
    pins.includes(k) || (t.x >= b.x && t.x <= b.x + b.w && t.y >= b.y && t.y <= b.y + b.h) ? [k] : [],
  )
  return { covered, pins, sound: !pins.includes(-1) && strips.size === pins.length && part.deck === host.deck }
}

/** By item index; `undefined` = left out. */
export type Layout = readonly (Stand | undefined)[]

/** One rule instance that looks at the whole layout: R6, R7, a place entry that names other items, or being required. */
export interface Instance {
  readonly key: string
  /** Items that it reads; once these are decided, so is it. */
  readonly items: readonly number[]
  readonly broken: (layout: Layout) => boolean
}

const seatCache = new WeakMap<Stand, { host: Stand; seat: Seat }>()
/** The seat of a plug-in part in a layout, kept for the pair of stands. */
export function seatIn(p: Problem, layout: Layout, s: Stand): Seat | undefined {
  const host = s.host === undefined ? undefined : layout[s.host]
  if (!host) return undefined
  let c = seatCache.get(s)
  if (c?.host !== host) {
    c = { host, seat: seatOf(p, s, host) }
    seatCache.set(s, c)
  }
  return c.seat
}

export function instances(p: Problem): Instance[] {
  const out: Instance[] = []
  const plugs = p.items.flatMap((item, i) => (item.footprint.mount.kind === 'plug-in' ? [i] : []))
  const boards = p.items.flatMap((item, i) => (tiesOf(item).length > 0 ? [i] : []))
  p.items.forEach((item, i) => {
    if (item.required) out.push({ key: `R10|${item.id}|required`, items: [i], broken: (l) => !l[i] })
    if (plugs.includes(i)) {
      out.push({ key: `R6|${item.id}`, items: [...plugs, ...boards], broken: (l) => !!l[i] && !seated(p, l, plugs, i) })
    }
    item.place.forEach((e, k) => {
      if (e.kind !== 'near' && e.kind !== 'beyond' && e.kind !== 'host') return
      const broken = (l: Layout): boolean => !!l[i] && !placeHolds2(l, l[i]!, e)
      out.push({ key: `R10|${item.id}|${k}`, items: [i, ...e.item.items], broken })
    })
  })
  p.wires.forEach((w, k) => {
    const items = [w.from, w.to].flatMap((e) => (e.kind === 'item' ? e.ref.items : []))
    const limits = [w.maxLength, ...[w.from, w.to].map((e) => (e.kind === 'exit' ? p.exits[e.exit]!.free : undefined))]
    const broken = (l: Layout): boolean => {
      const length = wireLength(p, l, k)
      if (length === undefined) return false
      const cut = length + w.loop
      return cut === Number.POSITIVE_INFINITY || limits.some((m) => m !== undefined && cut > m)
    }
    out.push({ key: `R7|${w.id}`, items, broken })
  })
  return out
}

function seated(p: Problem, layout: Layout, plugs: readonly number[], i: number): boolean {
  const s = layout[i]!
  const mine = seatIn(p, layout, s)
  if (!mine?.sound || tiesOf(p.items[s.host!]!).length === 0) return false
  return plugs.every((j) => {
    const other = layout[j]
    if (j === i || !other || other.host !== s.host) return true
    const its = seatIn(p, layout, other)!
    return !mine.pins.some((k) => its.covered.includes(k))
  })
}

function placeHolds2(layout: Layout, s: Stand, e: Place): boolean {
  if (e.kind !== 'near' && e.kind !== 'beyond' && e.kind !== 'host') return true
  return e.item.items.some((j) => {
    const t = layout[j]
    if (!t || j === s.item) return false
    if (e.kind === 'host') return s.host === j
    const a = s.box
    const b = t.box
    if (e.kind === 'near') {
      // Doubled, so that half micrometres stay whole.
      const twice = Math.abs(2 * a.x + a.w - 2 * b.x - b.w) + Math.abs(2 * a.y + a.h - 2 * b.y - b.h)
      return twice <= 2 * e.within
    }
    if (e.side === 'front') return a.y >= b.y + b.h
    if (e.side === 'back') return a.y + a.h <= b.y
    if (e.side === 'left') return a.x + a.w <= b.x
    return a.x >= b.x + b.w
  })
}

/** Where an end may be: [deck, x, y] of each placed copy, or of the exit. */
function endsAt(p: Problem, layout: Layout, e: WireEnd): [number, number, number][] {
  if (e.kind === 'exit') {
    const x = p.exits[e.exit]!
    return [[x.deck, x.at.x, x.at.y]]
  }
  return e.ref.items.flatMap((j) => {
    const s = layout[j]
    return s ? [[s.deck, ...pointOf(p, s, e.at.x, e.at.y)] as [number, number, number]] : []
  })
}

/** Least length between two points of two decks by way of the passes (relaxed until nothing changes), without the heights. */
export function viaPasses(p: Problem, a: [number, number, number], b: [number, number, number]): number {
  if (a[0] === b[0]) return Math.abs(a[1] - b[1]) + Math.abs(a[2] - b[2])
  const dist = new Map<string, number>()
  const reach = (from: [number, number, number], cost: number): void => {
    p.passes.forEach((q, k) => {
      for (const [here, there] of [q.decks, [q.decks[1], q.decks[0]] as const]) {
        if (here !== from[0]) continue
        const c = cost + Math.abs(q.at.x - from[1]) + Math.abs(q.at.y - from[2])
        const key = `${k}|${there}`
        if (c >= (dist.get(key) ?? Number.POSITIVE_INFINITY)) continue
        dist.set(key, c)
        reach([there, q.at.x, q.at.y], c)
      }
    })
  }
  reach(a, 0)
  let best = Number.POSITIVE_INFINITY
  p.passes.forEach((q, k) => {
    const c = dist.get(`${k}|${b[0]}`)
    if (c !== undefined) best = Math.min(best, c + Math.abs(q.at.x - b[1]) + Math.abs(q.at.y - b[2]))
  })
  return best
}

/** R7's length of a wire; undefined where an end is left out, infinite where no passes join its decks. */
export function wireLength(p: Problem, layout: Layout, wire: number): number | undefined {
  const w = p.wires[wire]!
  const from = endsAt(p, layout, w.from)
  const to = endsAt(p, layout, w.to)
  if (from.length === 0 || to.length === 0) return undefined
  let best = Number.POSITIVE_INFINITY
  for (const a of from)
    for (const b of to) best = Math.min(best, viaPasses(p, a, b) + Math.abs(p.decks[a[0]]!.z - p.decks[b[0]]!.z))
  return best
}

/** Every broken instance of a whole layout. */
export function brokenIn(p: Problem, layout: Layout): string[] {
  const placed = layout.filter((s): s is Stand => s !== undefined)
  const out = instances(p).flatMap((k) => (k.broken(layout) ? [k.key] : []))
  placed.forEach((a, i) => {
    out.push(...broken1(p, a))
    for (const b of placed.slice(i + 1)) out.push(...broken2(p, a, b))
  })
  return out
}
