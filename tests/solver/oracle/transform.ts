/** A problem turned, mirrored or shuffled: another drawing of the same deck, whose optimum must be the same. */
import type { Footprint, Item, Mount, Place, Problem, Shape, Side, Wire, Zone } from '../../../solver/problem.ts'
import type { Point, Rect, Turn, Um } from '../../../solver/units.ts'
import { sizeOf } from './stand.ts'

const u = (v: number): Um => v as Um
const point = (x: number, y: number): Point => ({ x: u(x), y: u(y) })
const up = (v: number, grid: number): Um => u(Math.max(Math.ceil(v / grid), 1) * grid)

/**
 * Bodies rounded up to whole grid steps, so that a mirrored or turned corner is on the grid again; `at` entries are given a turn,
 * for a corner alone does not say where its body lies, and a place on the grid where the turned one needs it.
 */
export function squared(p: Problem): Problem {
  const items = p.items.map((it): Item => {
    const f = it.footprint
    const plug = f.mount.kind === 'plug-in'
    const footprint = plug ? f : { ...f, width: up(f.width, p.grid), depth: up(f.depth, p.grid) }
    const place = it.place.map(
      (e): Place => (e.kind === 'at' && e.turn === undefined ? { ...e, turn: it.turns[0]! } : e),
    )
    return { ...it, footprint, place }
  })
  return { ...p, items }
}

/** How a frame change acts on points, boxes, shapes, sides and turns. */
interface Frame {
  readonly point: (p: Point) => Point
  readonly shape: (s: Shape) => Shape
  readonly side: (s: Side) => Side
  readonly turn: (t: Turn) => Turn
  readonly axis: (a: 'x' | 'y') => 'x' | 'y'
  readonly footprint: (f: Footprint) => Footprint
  /** In the footprint's own frame, `w` wide. */
  readonly own: (p: Point, w: number) => Point
}

const boxOf = (a: Point, b: Point): Rect => ({
  x: u(Math.min(a.x, b.x)),
  y: u(Math.min(a.y, b.y)),
  w: u(Math.abs(a.x - b.x)),
  h: u(Math.abs(a.y - b.y)),
})

/** x becomes −x. Footprints become their mirror images, so that the deck is the old one seen from below. */
export const mirror: Frame = (() => {
  const flip = (p: Point, w = 0): Point => point(w - p.x, p.y)
  const shape = (s: Shape, w = 0): Shape => {
    switch (s.kind) {
      case 'rect':
        return { ...s, x: u(w - s.x - s.w) }
      case 'circle':
        return { ...s, cx: u(w - s.cx) }
      case 'sector':
        return { ...s, cx: u(w - s.cx), from: 180 - s.to, to: 180 - s.from }
      case 'polygon':
        return { ...s, points: s.points.map((q) => ({ x: u(w - q.x), y: q.y, bulge: -q.bulge })) }
    }
  }
  const rect = (r: Rect, w: number): Rect => ({ ...r, x: u(w - r.x - r.w) })
  const mount = (m: Mount, w: number): Mount => {
    switch (m.kind) {
      case 'screw':
        return { ...m, holes: m.holes.map((h) => ({ ...h, at: flip(h.at, w) })) }
      case 'strap':
        return { ...m, slots: m.slots.map((s) => rect(s, w)) }
      case 'drop-in':
        return { ...m, cutout: rect(m.cutout, w), holes: m.holes.map((h) => ({ ...h, at: flip(h.at, w) })) }
      case 'adhesive':
      case 'plug-in':
        return m
    }
  }
  return {
    point: (p) => flip(p),
    shape: (s) => shape(s),
    side: (s) => (s === 'left' ? 'right' : s === 'right' ? 'left' : s),
    turn: (t) => ((4 - t) % 4) as Turn,
    axis: (a) => a,
    own: flip,
    footprint: (f) => {
      const w = f.width
      const pitch = f.breadboard?.pitch ?? 0
      const blocks = f.breadboard?.blocks.map((b) => ({
        ...b,
        at: point(w - b.at.x - (b.columns - 1) * pitch, b.at.y),
      }))
      const g: Footprint = {
        ...f,
        mount: mount(f.mount, w),
        corridors: f.corridors.map((c) => ({ ...c, shape: shape(c.shape, w) })),
        terminals: f.terminals.map((t) => ({ ...t, at: flip(t.at, w) })),
      }
      const board = f.breadboard && blocks ? { ...g, breadboard: { ...f.breadboard, blocks } } : g
      const plug = f.plug ? { ...board, plug: { pins: f.plug.pins.map((q) => ({ ...q, at: flip(q.at, w) })) } } : board
      const h = f.head
      return h ? { ...plug, head: { ...h, pivot: flip(h.pivot, w), pan: [-h.pan[1], -h.pan[0]] } } : plug
    },
  }
})()

/** A quarter turn anticlockwise: (x, y) becomes (−y, x). Footprints stay as they are; bodies turn one further. */
export const quarter: Frame = {
  point: (p) => point(-p.y, p.x),
  shape: (s) => {
    switch (s.kind) {
      case 'rect':
        return { ...s, x: u(-s.y - s.h), y: s.x, w: s.h, h: s.w }
      case 'circle':
        return { ...s, cx: u(-s.cy), cy: s.cx }
      case 'sector':
        return { ...s, cx: u(-s.cy), cy: s.cx, from: s.from + 90, to: s.to + 90 }
      case 'polygon':
        return { ...s, points: s.points.map((q) => ({ x: u(-q.y), y: q.x, bulge: q.bulge })) }
    }
  },
  side: (s) => ({ front: 'left', left: 'back', back: 'right', right: 'front' })[s] as Side,
  turn: (t) => ((t + 1) % 4) as Turn,
  axis: (a) => (a === 'x' ? 'y' : 'x'),
  own: (p) => p,
  footprint: (f) => f,
}

/** One place entry in another frame. */
function placeIn(f: Frame, it: Item, e: Place): Place {
  switch (e.kind) {
    case 'at': {
      const [w, h] = sizeOf(it, e.turn!)
      const b = boxOf(f.point(e.at), f.point(point(e.at.x + w, e.at.y + h)))
      return { ...e, at: point(b.x, b.y), turn: f.turn(e.turn!) }
    }
    case 'centred':
      return { ...e, axis: f.axis(e.axis) }
    case 'edge':
      return { ...e, edge: f.side(e.edge) }
    case 'inside':
      return { ...e, shape: f.shape(e.shape) }
    case 'beyond':
      return { ...e, side: f.side(e.side) }
    case 'near':
    case 'host':
      return e
  }
}

/** The same problem in another frame. Needs `squared` first. */
export function reframed(p: Problem, f: Frame): Problem {
  const items = p.items.map((it): Item => {
    const place = it.place.map((e) => placeIn(f, it, e))
    const overhang = { front: u(0), back: u(0), left: u(0), right: u(0) }
    for (const s of ['front', 'back', 'left', 'right'] as const) overhang[f.side(s)] = it.overhang[s]
    return { ...it, place, overhang, turns: it.turns.map(f.turn), footprint: f.footprint(it.footprint) }
  })
  const end = (e: Wire['from']): Wire['from'] =>
    e.kind === 'exit' ? e : { ...e, at: f.own(e.at, p.items[e.ref.items[0]!]!.footprint.width) }
  const chassis = p.chassis && {
    ...p.chassis,
    contact: p.chassis.contact.map(f.point),
    centre: { ...p.chassis.centre, ...f.point(p.chassis.centre) },
  }
  const q: Problem = {
    ...p,
    decks: p.decks.map((d) => ({
      ...d,
      outline: f.shape(d.outline),
      openings: d.openings.map((o) => ({ ...o, shape: f.shape(o.shape) })),
      holes: d.holes.map((h) => ({ ...h, at: f.point(h.at) })),
    })),
    exits: p.exits.map((e) => ({ ...e, at: f.point(e.at) })),
    passes: p.passes.map((e) => ({ ...e, at: f.point(e.at) })),
    items,
    zones: p.zones.map((z): Zone => ({ ...z, shape: f.shape(z.shape) })),
    wires: p.wires.map((w) => ({ ...w, from: end(w.from), to: end(w.to) })),
  }
  return chassis ? { ...q, chassis } : q
}

/** The same items in another order: position k of the new list holds old item `order[k]`. */
export function reordered(p: Problem, order: readonly number[]): Problem {
  const now = (old: number): number => order.indexOf(old)
  const ref = <T extends { readonly items: readonly number[] }>(r: T): T => ({ ...r, items: r.items.map(now) })
  const items = order.map((old): Item => {
    const it = p.items[old]!
    const place = it.place.map(
      (e): Place => (e.kind === 'near' || e.kind === 'beyond' || e.kind === 'host' ? { ...e, item: ref(e.item) } : e),
    )
    return { ...it, place }
  })
  const end = (e: Wire['from']): Wire['from'] => (e.kind === 'exit' ? e : { ...e, ref: ref(e.ref) })
  const wires = p.wires.map((w) => ({ ...w, from: end(w.from), to: end(w.to) }))
  return { ...p, items, wires: [...wires].reverse(), zones: [...p.zones].reverse() }
}
