/** Boards and parts that are plugged into them, for the rule `joined`. Lengths in mm. */
import { mm, type Placement, type Problem, rectOn, type Turn, um } from '../../solver/index.ts'
import { type NetFinding, netlistOf } from '../../src/electric/netlist.ts'
import { planStrips } from '../../src/electric/strips.ts'
import type { Seat } from '../../src/electric/strips-seats.ts'
import { part, problemOf, project } from './kit.ts'

/** Two halves of 12 columns and 5 rows, 7.62 mm between them, as in small breadboards (common practice, no source). */
export const board = (columns = 12) =>
  part('board', 3.7 + 2.54 * columns, 36, {
    kind: 'breadboard',
    breadboard: {
      blocks: [
        { at: [3.11, 3], columns, rows: 5, strip: 'column' },
        { at: [3.11, 20.78], columns, rows: 5, strip: 'column' },
      ],
    },
  })
const pinAt =
  (u: number, v: number) =>
  (id: string, more: object = {}) => ({ id, at: [u, v], ...more })
/** Three pins in a row, so far from its back edge. */
export function driverOf(depth: number, pins: number) {
  return part('driver', 7.62, depth, {
    mount: { kind: 'plug-in' },
    terminals: [{ id: 'screw', at: [3.81, 11] }],
    plug: { pins: [0, 1, 2].map((k) => pinAt(1.27 + 2.54 * k, pins)(`${k + 1}`)) },
  })
}
/** Pins 1 mm from its back edge, and a body over the next four rows: 2.54 · 4 = 10.16. */
export const driver = driverOf(12, 1)
/** One pin of no net, and a body over two more columns and three more rows. */
export const cap = part('cap', 7, 9.5, {
  mount: { kind: 'plug-in' },
  terminals: [],
  plug: { pins: [pinAt(1, 1)('1')] },
})
/** Two rows of four pins over the gap, three of which may do as digital. */
export const brain = part('brain', 9.6, 10.62, {
  mount: { kind: 'plug-in' },
  terminals: [],
  plug: {
    pins: [
      ...[0, 1, 2].map((k) => pinAt(1 + 2.54 * k, 1.5)(`d${k}`, { kind: 'digital' })),
      pinAt(1, 9.12)('gnd', { kind: 'return' }),
    ],
  },
})
export const sensor = part('sensor', 8, 8, { terminals: [{ id: 'out', at: [4, 4] }] })

export const robot = (more: object = {}) =>
  problemOf(
    project({
      footprints: [board(), driver, cap, brain, sensor],
      exits: [{ id: 'lead', deck: 'main', at: [95, 75] }],
      ...more,
    }),
  )

export const index = (p: Problem, id: string): number => p.items.findIndex((i) => i.id === id)

/** A part at a seat of a board that stands somewhere, as a placement. */
export function plugged(p: Problem, part: string, on: Placement, turn: Turn, seat: Pick<Seat, 'u' | 'v'>): Placement {
  const item = index(p, part)
  const f = p.items[item]!.footprint
  const [w, h] = turn % 2 === 0 ? [f.width, f.depth] : [f.depth, f.width]
  const rect = rectOn(p.items[on.item]!.footprint, on, { x: um(seat.u), y: um(seat.v), w, h })
  return { item, deck: on.deck, at: { x: rect.x, y: rect.y }, turn: ((on.turn + turn) & 3) as Turn, host: on.item }
}

export const standing = (p: Problem, id: string, x: number, y: number, turn: Turn = 0): Placement => ({
  item: index(p, id),
  deck: 0,
  at: { x: mm(x), y: mm(y) },
  turn,
})

/** What the plan of contacts finds. */
export const findingsIn = (p: Problem, placements: readonly Placement[]): readonly NetFinding[] =>
  planStrips(p, placements, netlistOf(p, placements)).findings

/** What the plan says of strips with too little room. */
export const fullIn = (p: Problem, placements: readonly Placement[]): string[] =>
  findingsIn(p, placements).flatMap((f) => (f.kind === 'strip-full' ? [f.text] : []))
