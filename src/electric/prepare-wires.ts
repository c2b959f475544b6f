/** Jumpers and leads to make ready: lengths in steps of the pitch, where flexible wire must be used, and which wire a contact holds. */
import { PITCH_UM } from '../../footprints/pitch.ts'
import {
  type Body,
  isOnTiePoint,
  type layoutOf,
  type Point,
  pointOn,
  prepare,
  type Region,
  sweepOf,
  toMm,
  um,
  type Wire,
} from '../../solver/index.ts'
import { rectOverlaps } from '../../solver/shapes.ts'
import { gaugeOf } from '../model/awg.ts'
import type { NetNode } from './netlist.ts'
import type { Link, StripPlan } from './strips.ts'
import { type Fit, fitNotes, flexible, prepare as words } from './words-prepare.ts'

type Layout = ReturnType<typeof layoutOf>

export interface JumperRow {
  readonly net: string
  readonly from: string
  readonly to: string
  /** Between its two bends, in steps of 2.54 mm, and in mm. */
  readonly steps: number
  readonly length: number
  /** Empty where a stiff jumper will do, else why flexible wire. */
  readonly flexible: string
}

export interface LeadRow {
  /** The project's wire, or the net where the project lists no wire. */
  readonly id: string
  readonly end: string
  readonly contact: string
  readonly conductors: number
  /** AWG, where the project says it; no whole number where it says mm². */
  readonly gauge: number | undefined
  readonly fit: Fit
  readonly note: string
}

/** How high over the board a jumper may stand, Um (common practice, no source). */
const BOW = 10_000

/** Solid wire that a contact holds, AWG: McComb, hobby-robotics handbook, ch. 32; thinner ones down to 29 by some sheets (memory). */
export const CONTACT_GAUGE = { thickest: 20, thinnest: 26, doubtful: 29 } as const

/** Whether a contact holds a wire of this AWG number, whole or not: the greater, the thinner. */
export function fitOf(gauge: number | undefined): Fit {
  if (gauge === undefined) return 'unknown'
  if (gauge < CONTACT_GAUGE.thickest) return 'too thick'
  if (gauge <= CONTACT_GAUGE.thinnest) return 'fits'
  return gauge <= CONTACT_GAUGE.doubtful ? 'doubtful' : 'too thin'
}

/** Leads need a header pin unless they are known to hold. */
export const needsPin = (row: LeadRow): boolean => row.fit !== 'fits' && row.fit !== 'unknown'

/** Every jumper of the plan. */
export function jumperRows(layout: Layout, plan: StripPlan): JumperRow[] {
  const sweeps = layout.bodies.flatMap((body) => {
    const sweep = sweepOf(layout.problem, body)
    return sweep ? [{ id: body.item.id, regions: sweep.shapes.map(prepare), z: sweep.z }] : []
  })
  return plan.links.flatMap((link): JumperRow[] => {
    if (link.kind !== 'jumper') return []
    // A distance that is a step but for the last digit is that step.
    const steps = Math.max(1, Math.ceil((link.length - 10) / PITCH_UM))
    const length = toMm(um(steps * PITCH_UM))
    return [
      {
        net: link.net,
        from: contactName(link.from),
        to: contactName(link.to),
        steps,
        length,
        flexible: bend(layout, link, sweeps),
      },
    ]
  })
}

const contactName = ({ of, name }: Link['from']): string => words.contact(of, name)

interface Sweep {
  readonly id: string
  readonly regions: readonly Region[]
  readonly z: readonly [number, number]
}

/** Why this jumper cannot be a stiff one that lies along the board, first along x or first along y. */
function bend(layout: Layout, link: Link, sweeps: readonly Sweep[]): string {
  const boards = [link.from, link.to].map((e) => layout.bodyOf.get(e.contact!.board)!)
  const [a, b] = [boards[0]!, boards[1]!]
  if (a.top !== b.top || a.deck !== b.deck) return flexible.heights
  const ways = waysOf(link.from.contact!.at, link.to.contact!.at)
  const hits = (regions: readonly Region[], legs: readonly Leg[]) =>
    legs.some((l) => regions.some((r) => rectOverlaps(r, l)))
  for (const s of sweeps) {
    const high = s.z[0] < a.top + BOW && s.z[1] > a.top
    if (high && ways.every((legs) => hits(s.regions, legs))) return flexible.sweep(s.id)
  }
  const parts = layout.bodies.filter((p) => p.host === a.index || p.host === b.index)
  const inWay = (legs: readonly Leg[]) => parts.find((p) => legs.some((l) => crosses(p, l)))
  const first = inWay(ways[0]!)
  return first && ways.every((legs) => inWay(legs)) ? flexible.inWay(first.item.id) : ''
}

interface Leg {
  readonly x: ReturnType<typeof um>
  readonly y: ReturnType<typeof um>
  readonly w: ReturnType<typeof um>
  readonly h: ReturnType<typeof um>
}

const legOf = (p: Point, q: Point): Leg => ({
  x: um(Math.min(p.x, q.x)),
  y: um(Math.min(p.y, q.y)),
  w: um(Math.abs(p.x - q.x)),
  h: um(Math.abs(p.y - q.y)),
})

function waysOf(p: Point, q: Point): Leg[][] {
  return [
    { x: q.x, y: p.y },
    { x: p.x, y: q.y },
  ].map((corner) => [legOf(p, corner), legOf(corner, q)].filter((l) => l.w > 0 || l.h > 0))
}

/** A leg that runs through a body, not along its edge. */
const crosses = ({ rect: r }: Body, l: Leg): boolean =>
  l.x < r.x + r.w && l.x + l.w > r.x && l.y < r.y + r.h && l.y + l.h > r.y

/** Every lead that goes into a contact: those of the plan, then wires of the project that no net covers. */
export function leadRows(layout: Layout, plan: StripPlan): LeadRow[] {
  const { problem } = layout
  const met = new Set<Wire>()
  const planned = plan.links.flatMap((link): LeadRow[] => {
    if (link.kind !== 'lead') return []
    const [contact, node] = link.from.contact ? [link.from, link.to] : [link.to, link.from]
    // The project's own wire for this lead: from here to another end of the net. One wire is one lead.
    const others = plan.nets.find((n) => n.id === link.net)!.nodes.filter((n) => n !== node.node)
    const wire = problem.wires.find(
      (w) =>
        !met.has(w) &&
        ((isAt(w.from, node.node) && others.some((n) => isAt(w.to, n))) ||
          (isAt(w.to, node.node) && others.some((n) => isAt(w.from, n)))),
    )
    if (wire) met.add(wire)
    if (node.node.kind === 'pad' && node.node.pad.plug !== undefined) {
      const note = words.ontoHeader(node.node.pad.plug)
      return [{ ...rowOf(link.net, node.name, contactName(contact), 1, wire), fit: 'fits', note }]
    }
    return [rowOf(wire?.id ?? link.net, node.name, contactName(contact), 1, wire)]
  })
  const others = problem.wires.flatMap((wire): LeadRow[] => {
    if (met.has(wire)) return []
    return [wire.from, wire.to].flatMap((end): LeadRow[] => {
      const item = end.kind === 'item' ? end.ref.items.find((i) => layout.bodyOf.has(i)) : undefined
      if (end.kind !== 'item' || item === undefined) return []
      const where = contactUnder(layout, plan, item, end.at)
      if (where === undefined) return []
      return [rowOf(wire.id, words.contact(problem.items[item]!.id, end.terminal), where, wire.conductors, wire)]
    })
  })
  return [...planned, ...others]
}

function rowOf(id: string, end: string, contact: string, conductors: number, wire: Wire | undefined): LeadRow {
  const gauge = gaugeOf(wire?.gauge)
  const fit = fitOf(gauge)
  return { id, end, contact, conductors, gauge, fit, note: fitNotes[fit] }
}

const isAt = (end: Wire['from'], node: NetNode): boolean =>
  end.kind === 'exit'
    ? node.kind === 'exit' && node.exit === end.exit
    : node.kind === 'pad' && end.ref.items.includes(node.item) && node.pad.ids.includes(end.terminal)

/** A board's own terminal is a contact; a wire to a part's pin goes to that pin's strip. */
function contactUnder(layout: Layout, plan: StripPlan, item: number, own: Point): string | undefined {
  const { problem } = layout
  const contact = plan.boards.contactAt(item, own)
  if (contact) return words.contact(problem.items[item]!.id, contact.name)
  const { footprint } = problem.items[item]!
  const body = layout.bodyOf.get(item)!
  const at = pointOn(footprint, body.placement, own)
  const seat = [...plan.boards.seatOf.values()].find((s) => s.item === item && isOnTiePoint(at, s.contact.at))
  return seat && words.strip(problem.items[seat.contact.board]!.id, seat.contact.name)
}
