/**
 * The robot as named solids: what the glTF file and the 3D picture are both made of. Millimetres in the decks' frame, z up.
 */
import {
  type Body,
  bodiesOf,
  corridorsOf,
  coveredPoints,
  type Layout,
  layoutOf,
  type Placement,
  type Point,
  type Problem,
  pointOn,
  sweepOf,
  tiePointsOn,
} from '../../solver/index.ts'
import { dashed } from '../model/dashed.ts'
import { type LaidLead, type WireRoute, wireRoutes } from '../model/index.ts'
import { circle, contourOf, path, rectContour } from './contour.ts'
import { areasOf, type Ring, ringOf } from './gltf-flat.ts'
import { bars, box, joined, type Mesh, type Point3, prism, spots } from './gltf-mesh.ts'
import { madeBy } from './made.ts'
import { model as words } from './words.ts'

export type Role = 'deck' | 'body' | 'board' | 'later' | 'contacts' | 'stack' | 'sweep' | 'corridor' | 'wire'

export interface Part {
  readonly name: string
  readonly role: Role
  /** Where the mesh's origin is; of a part in another, from that one's. */
  readonly at: Point3
  readonly mesh: Mesh
  readonly parts: readonly Part[]
}

/** What can be left away. */
const extras = ['contacts', 'stack', 'sweep', 'corridor', 'wire'] as const satisfies readonly Role[]
export type Extra = (typeof extras)[number]

/** How wide a wire of one conductor is drawn, mm; the problem says no gauge. */
const WIRE = 1.2

/** Decks, placed items and wires, in the problem's order. `without` leaves roles away; `laid`: how leads lie. */
export function partsOf(
  problem: Problem,
  placements: readonly Placement[],
  without: readonly Extra[] = [],
  laid: readonly LaidLead[] = [],
): readonly Part[] {
  const layout = layoutOf(problem, placements)
  const bodies = bodiesOf(problem, placements)
  const kept = (part: Part): boolean =>
    !(without as readonly Role[]).includes(part.role) && part.mesh.triangles.length > 0
  return [
    ...problem.decks.map((_, index) => plateOf(problem, placements, index)),
    ...[...bodies].sort((a, b) => a.index - b.index).map((body) => itemOf(layout, bodies, body, kept)),
    ...wireRoutes(layout, laid).map((route) => wireOf(layout, route)),
  ].filter(kept)
}

/** A deck as it will be: with its openings and holes, and with those that the layout asks for. */
function plateOf(problem: Problem, placements: readonly Placement[], index: number): Part {
  const deck = problem.decks[index]!
  const made = madeBy(problem, placements, index)
  const round = (at: Point, diameter: number): Ring => ringOf(circle(at.x / 1000, at.y / 1000, diameter / 2000))
  const leads = [
    ...problem.exits.filter((e) => e.deck === index),
    ...problem.passes.filter((p) => p.decks.includes(index)),
  ]
  const gone: Ring[] = [
    ...deck.openings.map((o) => ringOf(contourOf(o.shape))),
    ...leads.flatMap((l) => (l.diameter ? [round(l.at, l.diameter)] : [])),
    ...deck.holes.map((h) => round(h.at, h.diameter)),
    ...made.holes.map((h) => round(h.at, h.diameter)),
    ...made.cuts.map((c) => ringOf(rectContour(c.rect))),
  ]
  const thickness = deck.thickness / 1000
  return {
    name: words.deck(deck.id),
    role: 'deck',
    at: [0, 0, deck.z / 1000 - thickness],
    mesh: prism(areasOf(ringOf(contourOf(deck.outline)), gone), 0, thickness),
    parts: [],
  }
}

function itemOf(layout: Layout, bodies: readonly Body[], body: Body, kept: (part: Part) => boolean): Part {
  const { item, rect } = body
  const f = item.footprint
  const low = body.bottom / 1000
  const at: Point3 = [rect.x / 1000, rect.y / 1000, low]
  const [w, d, h] = [rect.w / 1000, rect.h / 1000, (body.top - body.bottom) / 1000]
  const inside = (p: Part): Part => ({ ...p, at: [p.at[0] - at[0], p.at[1] - at[1], p.at[2] - low] })
  const parts: Part[] = []
  if (f.breadboard && f.mount.kind !== 'plug-in') {
    const z = body.top / 1000 + 0.05
    const free = freePoints(bodies, body).map((p): Point3 => [p.x / 1000 - at[0], p.y / 1000 - at[1], z - low])
    parts.push({
      name: words.contacts(item.id),
      role: 'contacts',
      at: [0, 0, 0],
      mesh: spots(free, 0.55),
      parts: [],
    })
  }
  if (body.reach > body.top) {
    const mesh = box(0, 0, 0, w, d, (body.reach - body.top) / 1000)
    parts.push({ name: words.stack(item.id), role: 'stack', at: [0, 0, h], mesh, parts: [] })
  }
  for (const { corridor, shape, z } of corridorsOf(body)) {
    const areas = areasOf(ringOf(contourOf(shape)), [])
    parts.push(inside(standing(words.corridor(item.id, corridor.id), 'corridor', areas, z)))
  }
  const sweep = sweepOf(layout.problem, body)
  if (sweep) parts.push(inside(standing(words.sweep(item.id), 'sweep', areasOf(sweepRing(body), []), sweep.z)))
  const role = item.later ? 'later' : f.breadboard ? 'board' : 'body'
  return { name: item.id, role, at, mesh: box(0, 0, 0, w, d, h), parts: parts.filter(kept) }
}

/** An upright solid with its origin at its own lower left. */
function standing(name: string, role: Role, areas: ReturnType<typeof areasOf>, z: readonly [number, number]): Part {
  const all = areas.flatMap((a) => a.outer)
  const x = Math.min(...all.map((p) => p[0]))
  const y = Math.min(...all.map((p) => p[1]))
  const moved = areas.map((a) => ({ ...a, outer: a.outer.map(([px, py]) => [px - x, py - y] as const) }))
  const high = (z[1] - z[0]) / 1000
  const none = areas.length === 0 || high <= 0
  return {
    name,
    role,
    at: none ? [0, 0, 0] : [x, y, z[0] / 1000],
    mesh: none ? { points: [], triangles: [] } : prism(moved, 0, high),
    parts: [],
  }
}

/** What a head sweeps, sector and tail as one outline: two circles about one pivot need no clipping. */
export function sweepRing(body: Body): Ring {
  const head = body.item.footprint.head!
  const f = body.item.footprint
  const pivot = pointOn(f, body.placement, head.pivot)
  const [x, y, reach, tail] = [pivot.x / 1000, pivot.y / 1000, head.reach / 1000, head.tail / 1000]
  const span = head.pan[1] - head.pan[0]
  if (reach <= tail || span <= 0) return ringOf(circle(x, y, tail))
  if (span >= 360) return ringOf(circle(x, y, reach))
  const from = ((head.pan[0] + 90 + 90 * body.placement.turn) * Math.PI) / 180
  const to = from + (span * Math.PI) / 180
  const arcs = (r: number, a: number, b: number): { x: number; y: number; bulge: number }[] => {
    const n = Math.max(1, Math.ceil((b - a) / Math.PI))
    const bulge = Math.tan((b - a) / n / 4)
    return Array.from({ length: n + 1 }, (_, i) => {
      const t = a + ((b - a) * i) / n
      return { x: x + r * Math.cos(t), y: y + r * Math.sin(t), bulge: i < n ? bulge : 0 }
    })
  }
  const back = tail > 0 ? arcs(tail, to, from + 2 * Math.PI) : [{ x, y, bulge: 0 }]
  return ringOf(path([...arcs(reach, from, to), ...back]))
}

/** Contacts of a board that no part covers, Um. */
export function freePoints(bodies: readonly Body[], board: Body): Point[] {
  const points = tiePointsOn(board.item.footprint, board.placement)
  const covered = new Set(bodies.filter((b) => b.host === board.index).flatMap((b) => [...coveredPoints(b, points)]))
  return points.filter((_, i) => !covered.has(i)).map((p) => p.at)
}

/** Along the deck from end to end, up to the tops of the bodies that it joins, and straight through the decks between; in dashes where no way is open. */
function wireOf(layout: Layout, { wire: index, from, to, strokes, barred }: WireRoute): Part {
  const wire = layout.problem.wires[index]!
  const side = WIRE * Math.sqrt(wire.conductors)
  const lie = (deck: number): number => (layout.problem.decks[deck]?.z ?? 0) / 1000 + side / 2
  const end = (item: number | undefined, deck: number): number => {
    const body = item === undefined ? undefined : layout.bodyOf.get(item)
    return body ? Math.max(body.top / 1000 + side / 2, lie(deck)) : lie(deck)
  }
  const at = (p: Point, z: number): Point3 => [p.x / 1000, p.y / 1000, z]
  const line: Point3[] = [at(from.at, end(from.item, from.deck))]
  for (const { deck, points } of strokes) for (const p of points) line.push(at(p, lie(deck)))
  line.push(at(to.at, end(to.item, to.deck)))
  const [x, y, z] = line[0]!
  const run = line.map(([px, py, pz]): Point3 => [px - x, py - y, pz - z])
  const mesh = joined((barred ? dashed(run, 2 * side, 3 * side) : [run]).map((piece) => bars(piece, side)))
  return { name: words.wire(wire.id), role: 'wire', at: [x, y, z], mesh, parts: [] }
}
