/**
 * R1–R10 as plain predicates. Each answers with the keys of the rule instances that are broken, so that an instance can be
 * switched off when a conflict is put to the proof. Keys: `R1|item`, `R2|a|b`, `R3|a|b`, `R4|item|zone`, `R5|a` or `R5|a|b`,
 * `R6|item`, `R7|wire`, `R8|item|deck`, `R9|head|other` (an item or a deck), `R10|item|entry` (its number) and `R10|item|required`;
 * a pair's ids stand in order of their indices, except for R9.
 */
import type { Place, Problem, WireEnd } from '../../../solver/problem.ts'
import { broken1 } from './rules-body.ts'
import { broken2 } from './rules-pair.ts'
import { pointOf, type Stand, tiesOf } from './stand.ts'

export { deckBox, deckViews } from './rules-body.ts'
export { broken1, broken2 }

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
    return ties.findIndex((t) => Math.hypot(t.x - x, t.y - y) <= tol)
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
