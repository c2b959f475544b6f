/**
 * What is in a lead's way on the decks. A lead lies on its deck: it goes round bodies, keep-out zones at deck height and
 * openings, and stays on the plate. It may pass under a body that stands high enough, between its stand-offs; over a
 * breadboard or any part it ends on; and over exits and passes, which are other leads' holes. Moving tracks that come up to the
 * plate are passed with their own clearance.
 */
import { type Body, holesOn, type Layout, outlineOf, type Shape } from '../../solver/index.ts'
import type { Box } from './routes-graph.ts'
import type { Wiring } from './routes-settings.ts'

export interface Obstacle {
  readonly deck: number
  readonly name: string
  /** The item whose body it is; none for what belongs to the deck. */
  readonly item?: number
  /** Without clearance. */
  readonly boxes: readonly Box[]
  readonly clearance: number
  /** With all the clearance. */
  readonly wide: readonly Box[]
}

type Narrow = Omit<Obstacle, 'wide'>

const FAR = 1e9

/** All obstacles of a layout, Um. */
export function obstaclesOf(layout: Layout, wiring: Wiring): Obstacle[] {
  const found: Narrow[] = [
    ...layout.bodies.flatMap((b) => bodyObstacles(layout, b, wiring)),
    ...layout.problem.zones.flatMap((z): Narrow[] => {
      const low = z.z === undefined || (z.z[0] < wiring.under && z.z[1] > 0)
      if (z.kind !== 'keep-out' || !low) return []
      return [{ deck: z.deck, name: z.id, boxes: boxesOf(z.shape), clearance: wiring.clearance }]
    }),
    ...layout.problem.decks.flatMap((deck, d): Narrow[] => [
      ...deck.openings.map((o) => ({ deck: d, name: o.id, boxes: boxesOf(o.shape), clearance: 0 })),
      // a track that is lower than the plate runs under it, and does not touch what lies on it
      ...wiring.moving
        .filter((t) => t.top > deck.z)
        .map((t) => ({ deck: d, name: t.id, boxes: [boxOf(t.box)], clearance: wiring.tracks })),
      ...beyond(deck.outline).map((boxes) => ({ deck: d, name: deck.id, boxes, clearance: 0 })),
    ]),
  ]
  return found.map((o) => {
    const c = o.clearance
    return { ...o, wide: o.boxes.map((b) => ({ x0: b.x0 - c, y0: b.y0 - c, x1: b.x1 + c, y1: b.y1 + c })) }
  })
}

function bodyObstacles(layout: Layout, body: Body, wiring: Wiring): Narrow[] {
  if (body.item.footprint.mount.kind === 'plug-in') return []
  return layout.problem.decks.flatMap((deck, d): Narrow[] => {
    const over = body.bottom - deck.z
    if (body.top <= deck.z || (d !== body.deck && over >= wiring.under)) return []
    const boxes = over >= wiring.under ? standoffs(body) : [boxOf(body.rect)]
    return [{ deck: d, name: body.item.id, item: body.index, boxes, clearance: wiring.clearance }]
  })
}

const boxOf = (r: { x: number; y: number; w: number; h: number }): Box => ({
  x0: r.x,
  y0: r.y,
  x1: r.x + r.w,
  y1: r.y + r.h,
})

/** The squares round a body's stand-offs: what needs solid deck, or else the hole. */
const standoffs = (body: Body): Box[] =>
  holesOn(body.item.footprint, body.placement).map(({ hole, at }) => {
    const r = Math.ceil(Math.max(hole.land, hole.diameter) / 2)
    return { x0: at.x - r, y0: at.y - r, x1: at.x + r, y1: at.y + r }
  })

interface Corner {
  readonly x: number
  readonly y: number
}

/** Straight pieces for a full turn: 32 leave 0.5 % of the radius. */
const TURN = 32
/** Round shapes up to this radius are taken as their square. */
const SMALL = 6000

/** A shape's contour with its arcs as chords, Um. */
function cornersOf(shape: Shape): Corner[] {
  return outlineOf(shape).flatMap((e): Corner[] => {
    if (!e.arc) return [{ x: e.x0, y: e.y0 }]
    const { cx, cy, r, sweep } = e.arc
    const n = Math.max(1, Math.ceil((Math.abs(sweep) / (2 * Math.PI)) * TURN))
    const from = Math.atan2(e.y0 - cy, e.x0 - cx)
    return Array.from({ length: n }, (_, k) => {
      const a = from + (sweep * k) / n
      return k === 0 ? { x: e.x0, y: e.y0 } : { x: cx + r * Math.cos(a), y: cy + r * Math.sin(a) }
    })
  })
}

interface Strip {
  readonly y0: number
  readonly y1: number
  /** Where the contour passes the strip, left to right: the least and the most x of each crossing. */
  readonly crossings: readonly { readonly lo: number; readonly hi: number }[]
}

/** The shape cut at the heights of its corners; slanted edges every `STEP` as well. */
const STEP = 2000
function stripsOf(shape: Shape): Strip[] {
  const corners = cornersOf(shape)
  const edges = corners.map((a, i) => [a, corners[(i + 1) % corners.length]!] as const)
  const heights = new Set(corners.map((c) => Math.round(c.y)))
  for (const [a, b] of edges) {
    if (Math.round(a.x) === Math.round(b.x)) continue
    const [lo, hi] = [Math.min(a.y, b.y), Math.max(a.y, b.y)]
    for (let y = lo + STEP; y < hi; y += STEP) heights.add(Math.round(y))
  }
  const ys = [...heights].sort((a, b) => a - b)
  return ys.slice(1).map((y1, i) => {
    const y0 = ys[i]!
    const mid = (y0 + y1) / 2
    const crossings = edges
      .filter(([a, b]) => Math.min(a.y, b.y) <= mid && Math.max(a.y, b.y) > mid)
      .map(([a, b]) => {
        const at = (y: number) =>
          a.x + ((Math.min(Math.max(y, Math.min(a.y, b.y)), Math.max(a.y, b.y)) - a.y) / (b.y - a.y)) * (b.x - a.x)
        return { mid: at(mid), lo: Math.min(at(y0), at(y1)), hi: Math.max(at(y0), at(y1)) }
      })
      .sort((p, q) => p.mid - q.mid)
    return { y0, y1, crossings }
  })
}

/** Boxes that cover the shape: its own for a rectangle or a small circle, strips for anything else. */
export function boxesOf(shape: Shape): Box[] {
  if (shape.kind === 'rect') return [boxOf(shape)]
  if (shape.kind === 'circle' && shape.r <= SMALL) {
    return [{ x0: shape.cx - shape.r, y0: shape.cy - shape.r, x1: shape.cx + shape.r, y1: shape.cy + shape.r }]
  }
  const boxes = stripsOf(shape).flatMap(({ y0, y1, crossings }) =>
    crossings.flatMap((c, i): Box[] => {
      const end = crossings[i + 1]
      return i % 2 === 0 && end ? [{ x0: Math.floor(c.lo), y0, x1: Math.ceil(end.hi), y1 }] : []
    }),
  )
  return [...boxes, ...seamsOf(boxes)]
}

/** Boxes are open, so a lead could run between two that touch: a seam of 2 µm closes the line. */
function seamsOf(boxes: readonly Box[]): Box[] {
  return boxes.flatMap((a) =>
    boxes.flatMap((b): Box[] => {
      const [x0, x1] = [Math.max(a.x0, b.x0), Math.min(a.x1, b.x1)]
      return a.y1 === b.y0 && x0 < x1 ? [{ x0, y0: a.y1 - 1, x1, y1: a.y1 + 1 }] : []
    }),
  )
}

/** All that is not plate: the four sides round the outline's bounding box, and what the outline leaves out of that. */
function beyond(outline: Shape): Box[][] {
  const corners = cornersOf(outline)
  const xs = corners.map((c) => Math.round(c.x))
  const ys = corners.map((c) => Math.round(c.y))
  const box = { x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys) }
  const sides: Box[][] = [
    [{ x0: -FAR, y0: -FAR, x1: box.x0, y1: FAR }],
    [{ x0: box.x1, y0: -FAR, x1: FAR, y1: FAR }],
    [{ x0: -FAR, y0: -FAR, x1: FAR, y1: box.y0 }],
    [{ x0: -FAR, y0: box.y1, x1: FAR, y1: FAR }],
  ]
  if (outline.kind === 'rect' && outline.radius === 0) return sides
  // reaching into the sides, so that nothing runs between
  const rest = stripsOf(outline).flatMap(({ y0, y1, crossings }) => {
    const gaps = [
      { hi: box.x0, lo: box.x0 - 1 },
      ...crossings.map((c) => ({ lo: Math.floor(c.lo), hi: Math.ceil(c.hi) })),
      { lo: box.x1, hi: box.x1 + 1 },
    ]
    return gaps.flatMap((g, i): Box[] => {
      const end = gaps[i + 1]
      if (i % 2 === 1 || !end || Math.min(end.hi, box.x1) <= Math.max(g.lo, box.x0)) return []
      return [{ x0: g.lo, y0: y0 === box.y0 ? y0 - 1 : y0, x1: end.hi, y1: y1 === box.y1 ? y1 + 1 : y1 }]
    })
  })
  return [...sides, ...[...rest, ...seamsOf(rest)].map((b) => [b])]
}
