/**
 * The preparation list: what is snapped off, soldered, bent, cut and laid ready before anything is fitted. Trade facts here are common
 * practice, no source, unless they say otherwise.
 */

import { type Footprint, layoutOf, type Placement, type Point, type Problem, um } from '../../solver/index.ts'
import { stripsOf } from '../model/header-strips.ts'
import type { NetFinding } from './netlist.ts'
import { padsOf } from './netlist-pads.ts'
import { type JumperRow, jumperRows, type LeadRow, leadRows, needsPin } from './prepare-wires.ts'
import type { StripPlan } from './strips.ts'
import { cautions, type HeaderFor, headerFor, tools, prepare as words } from './words-prepare.ts'

export interface HeaderCut {
  /** Pins of one piece. */
  readonly pins: number
  readonly count: number
  /** What each piece is for. */
  readonly for: readonly string[]
  readonly why: HeaderFor
}

/** One part whose header is soldered. */
export interface SolderRow {
  readonly item: string
  readonly pieces: readonly number[]
  /** The face of the part, as its footprint is drawn, on which the header sits; pins point away from it. */
  readonly face: 'back' | 'front'
  /** Pins as they lie in the board, row by row, seen from above. */
  readonly rows: readonly (readonly string[])[]
  readonly note: string
}

export interface Preparation {
  readonly headers: readonly HeaderCut[]
  readonly soldering: readonly SolderRow[]
  readonly jumpers: readonly JumperRow[]
  readonly leads: readonly LeadRow[]
  /** Where leads come through the deck: each lead's strain is taken there, before it reaches a joint. */
  readonly relief: readonly { readonly exit: string; readonly leads: readonly string[]; readonly note: string }[]
  readonly tools: readonly { readonly tool: string; readonly why: string }[]
  readonly cautions: readonly string[]
  readonly findings: readonly NetFinding[]
}

/** Items of the layout that are not `later`. */
export function prepareList(problem: Problem, placements: readonly Placement[], plan: StripPlan): Preparation {
  const layout = layoutOf(problem, placements)
  const parts = layout.bodies.filter((b) => !b.item.later).sort((a, b) => a.index - b.index)
  const plugged = parts.filter((b) => b.item.footprint.mount.kind === 'plug-in')
  const leads = leadRows(layout, plan)
  const jumpers = jumperRows(layout, plan)
  const soldered = plugged.map((b) => solderRow(b.item.id, b.item.footprint))
  const soldering = soldered.map((s) => s.row).filter((r) => r.pieces.length > 0)
  const cut = new Cuts()
  for (const row of soldering) for (const pins of row.pieces) cut.add(pins, row.item, headerFor.part)
  // A lead that a contact does not hold gets pins side by side, one a conductor.
  for (const row of leads) if (needsPin(row)) cut.add(row.conductors, row.id, headerFor.lead)
  for (const { item, name, contacts } of plan.plugs)
    cut.add(contacts.length, words.plug(problem.items[item]!.id, name), headerFor.servo)
  for (const item of servoPlugs(problem, plan)) cut.add(3, item, headerFor.servo)
  const findings = [...soldered.flatMap((s) => s.findings), ...leads.flatMap(leadFinding)]
  const threads = new Set(
    parts.flatMap(({ item: { footprint: f } }) =>
      f.mount.kind === 'screw' || f.mount.kind === 'drop-in' ? f.mount.holes.flatMap((h) => h.screw ?? []) : [],
    ),
  )
  return {
    headers: cut.rows(),
    soldering,
    jumpers,
    leads,
    relief: reliefRows(problem),
    tools: toolsFor(cut.rows(), leads, jumpers, [...threads].sort()),
    cautions,
    findings,
  }
}

/** A row for each exit that wires end at (common practice, no source). */
function reliefRows(problem: Problem): Preparation['relief'] {
  return problem.exits.flatMap((exit, i) => {
    const leads = problem.wires
      .filter((w) => [w.from, w.to].some((e) => e.kind === 'exit' && e.exit === i))
      .map((w) => w.id)
    return leads.length === 0 ? [] : [{ exit: exit.id, leads, note: words.relief(leads.length) }]
  })
}

class Cuts {
  private readonly by = new Map<string, { pins: number; why: HeaderCut['why']; for: string[] }>()

  add(pins: number, item: string, why: HeaderCut['why']): void {
    const row = this.by.get(`${pins} ${why}`) ?? { pins, why, for: [] }
    row.for.push(item)
    this.by.set(`${pins} ${why}`, row)
  }

  /** Longest first. */
  rows(): HeaderCut[] {
    return [...this.by.values()].sort((a, b) => b.pins - a.pins).map((r) => ({ ...r, count: r.for.length }))
  }
}

/** A part whose lamps are on the face that lies down as it is drawn must be turned over, and its pins are then mirrored. */
function solderRow(item: string, f: Footprint): { row: SolderRow; findings: NetFinding[] } {
  const pieces = stripsOf(f).filter((n) => n > 1)
  const down = f.plug?.lamps === 'back'
  const drawn = rowsOf(f)
  if (!down) {
    const note = f.plug?.lamps === 'front' ? words.lampsUp : ''
    return { row: { item, pieces, face: 'back', rows: drawn, note }, findings: [] }
  }
  const turned = mirrored(f)
  const rows = rowsOf(turned)
  const note = words.faceDown
  const text = words.lampsDown(item, rows, samePlaces(f, turned))
  return {
    row: { item, pieces, face: 'front', rows, note },
    findings: [{ kind: 'lamps-down', topic: 'lamps', weight: 'stops', items: [item], text }],
  }
}

/** The footprint of a part turned over about its v axis: (u, v) goes to (width − u, v), for pins and terminals. */
export function mirrored(f: Footprint): Footprint {
  const over = <T extends { readonly at: Point }>(t: T): T => ({ ...t, at: { x: um(f.width - t.at.x), y: t.at.y } })
  return {
    ...f,
    terminals: f.terminals.map(over),
    ...(f.plug === undefined
      ? {}
      : {
          plug: {
            pins: f.plug.pins.map(over),
            ...(f.plug.lamps === undefined
              ? {}
              : { lamps: f.plug.lamps === 'back' ? ('front' as const) : ('back' as const) }),
          },
        }),
  }
}

/** Pin ids by rows from the back, each from the left, as drawn at turn 0. */
function rowsOf(f: Footprint): string[][] {
  const rows = new Map<number, { id: string; at: Point }[]>()
  for (const p of f.plug?.pins ?? []) rows.set(p.at.y, [...(rows.get(p.at.y) ?? []), p])
  return [...rows].sort(([a], [b]) => a - b).map(([, pins]) => pins.sort((a, b) => a.at.x - b.at.x).map((p) => p.id))
}

function samePlaces(a: Footprint, b: Footprint): boolean {
  const places = (f: Footprint) => {
    const pins = f.plug?.pins ?? []
    const [x, y] = [Math.min(...pins.map((p) => p.at.x)), Math.min(...pins.map((p) => p.at.y))]
    return pins
      .map((p) => `${p.at.x - x} ${p.at.y - y}`)
      .sort()
      .join(';')
  }
  return places(a) === places(b)
}

/** Servos beside the boards whose signal goes into one, and whose footprint names no plug: three pins in a row for signal, supply and return. */
function servoPlugs(problem: Problem, plan: StripPlan): string[] {
  const nets = new Set(plan.links.filter((l) => l.kind === 'lead').map((l) => l.net))
  const items = plan.nets.flatMap((net) =>
    net.nodes.flatMap((n) =>
      n.kind === 'pad' &&
      n.pad.kind === 'servo-signal' &&
      n.pad.plug === undefined &&
      n.pad.pin === undefined &&
      nets.has(net.id)
        ? [n.item]
        : [],
    ),
  )
  return [...new Set(items)]
    .filter((i) => padsOf(problem.items[i]!.footprint).length > 0)
    .map((i) => problem.items[i]!.id)
}

function leadFinding(row: LeadRow): NetFinding[] {
  if (!needsPin(row) || row.gauge === undefined) return []
  const text = words.gaugeUnfit(row.id, row.gauge, row.contact, row.note)
  return row.fit === 'doubtful'
    ? [{ kind: 'gauge-doubtful', topic: 'gauge', weight: 'worth-knowing', items: [row.id], text }]
    : [{ kind: 'gauge-unfit', topic: 'gauge', weight: 'stops', items: [row.id], text }]
}

function toolsFor(
  headers: readonly HeaderCut[],
  leads: readonly LeadRow[],
  jumpers: readonly JumperRow[],
  threads: readonly string[],
): Preparation['tools'] {
  const list: { tool: string; why: string }[] = []
  const add = (when: boolean, tool: (typeof list)[number]) => when && list.push(tool)
  const wires = leads.length + jumpers.length > 0
  add(headers.length > 0, tools.snap)
  add(headers.length > 0, tools.solder)
  add(wires, tools.strip)
  add(
    jumpers.some((j) => j.flexible === ''),
    tools.bend,
  )
  add(
    jumpers.some((j) => j.flexible !== ''),
    tools.tie,
  )
  for (const t of threads) add(true, tools.screw(t))
  add(wires, tools.meter)
  return list
}
