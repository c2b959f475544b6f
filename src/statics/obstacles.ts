/** What can stand in the way of a moving head, of a look or of a hand: bodies with and without their stacks, and plates. mm over the ground. */
import { type Body, deckCalled, type Layout, outlineOf, type Problem, type Shape } from '../../solver/index.ts'
import { convexOf, type Interval, type Polygon, rectangle } from './plane.ts'
import type { Point2 } from './tip.ts'

export interface Obstacle {
  /** Id of the item or deck. */
  readonly id: string
  readonly kind: 'body' | 'stack' | 'deck'
  /** Index of the item or deck. */
  readonly index: number
  readonly plan: Polygon
  /** Convex hull of `plan`. */
  readonly hull: Polygon
  readonly z: Interval
  /** Ways through it, where they are to count: what lies wholly in one is not met. */
  readonly openings?: readonly Polygon[]
}

/** As a person knows it. */
export const obstacleCalled = ({ decks }: Problem, { id, kind }: Pick<Obstacle, 'id' | 'kind'>): string =>
  kind === 'deck' ? deckCalled(decks.find((d) => d.id === id) ?? { id }) : id

/** A body in plan, mm. */
export const rectOf = ({ rect: r }: Body): Polygon =>
  rectangle(r.x / 1000, r.y / 1000, (r.x + r.w) / 1000, (r.y + r.h) / 1000)

/** All bodies, their stacks, and all plates; openings count as plate, as they do in the rules. */
export function obstaclesOf(layout: Layout): Obstacle[] {
  const bodies = layout.bodies.flatMap((b): Obstacle[] => {
    const plan = rectOf(b)
    const { id } = b.item
    const own: Obstacle = { id, kind: 'body', index: b.index, plan, hull: plan, z: [b.bottom / 1000, b.top / 1000] }
    if (b.reach <= b.top) return [own]
    return [own, { id, kind: 'stack', index: b.index, plan, hull: plan, z: [b.top / 1000, b.reach / 1000] }]
  })
  const decks = layout.problem.decks.map((d, index): Obstacle => {
    const plan = flat(d.outline)
    const z: Interval = [(d.z - d.thickness) / 1000, d.z / 1000]
    return { id: d.id, kind: 'deck', index, plan, hull: convexOf(plan), z }
  })
  return [...bodies, ...decks]
}

/** Those that are not the item itself. */
export const othersOf = (obstacles: readonly Obstacle[], item: number): Obstacle[] =>
  obstacles.filter((o) => o.kind === 'deck' || o.index !== item)

/** mm between an arc and the chords that stand for it. */
const SAGITTA = 0.005

/** The outline in mm, arcs as chords that are within `SAGITTA`. */
export function flat(shape: Shape): Polygon {
  return outlineOf(shape).flatMap((e): Point2[] => {
    const start = { x: e.x0 / 1000, y: e.y0 / 1000 }
    if (!e.arc) return [start]
    const { cx, cy, r, sweep } = e.arc
    const step = 2 * Math.acos(Math.max(0, 1 - (SAGITTA * 1000) / Math.max(r, SAGITTA * 1000)))
    const n = Math.max(1, Math.min(200, Math.ceil(Math.abs(sweep) / (step || 1))))
    const a = Math.atan2(e.y0 - cy, e.x0 - cx)
    return Array.from({ length: n }, (_, i) =>
      i === 0
        ? start
        : { x: (cx + r * Math.cos(a + (sweep * i) / n)) / 1000, y: (cy + r * Math.sin(a + (sweep * i) / n)) / 1000 },
    )
  })
}
