/**
 * Who feeds whom: the supplies of a layout, the leads that belong to each, and what hangs on them. A lead belongs to the supply
 * that its `supply` names: by the item that gives it (a pack, or a regulator for what it makes), or by volts where just one
 * supply has them. Items are nodes, so that current runs on through a switch, fuse, breadboard or driver to what lies behind.
 */

import type { LoadFile } from '../../footprints/power-fields.ts'
import type { FootprintFile } from '../../footprints/schema.ts'
import {
  type End,
  type Layout,
  layoutOf,
  type Placement,
  type Problem,
  runOf,
  type WireEnd,
} from '../../solver/index.ts'
import { gaugeOf } from '../model/awg.ts'
import { applyVariant, type Project } from '../model/index.ts'
import type { Amp, Millimetre, Ohm, Volt } from '../model/quantities.ts'
import { type Conductors, conductorsOf } from './conductors.ts'
import { ohmsPerMetre } from './gauge.ts'
import { type Netlist, netlistOf } from './netlist.ts'
import type { Pad } from './netlist-pads.ts'
import type { Path } from './pins-leads.ts'
import { cellVolts, type Part, padAt, pathsOf, rolesOf, suppliedById } from './power-roles.ts'
import type { PowerSettings } from './power-settings.ts'
import { type Routed, routesOf } from './routes.ts'
import { extraOf, type Wiring } from './routes-settings.ts'
import { packsDriving } from './series.ts'

/** A lead that carries a supply. */
export interface Lead {
  readonly id: string
  /** Nodes: an item's index; exits follow the items. */
  readonly a: number
  readonly b: number
  readonly path: Path
  /** Of one conductor, contacts at its ends included. */
  readonly ohms: Ohm
  /** Length to cut. */
  readonly length: Millimetre
  readonly awg: number
  /** No gauge is given, or none that can be read: 22 AWG is taken. */
  readonly assumed: boolean
  /** Amperes that the file states for it. */
  readonly stated?: Amp
  /** Ends in breadboard contacts. */
  readonly contacts: number
  /** What it ends on, from and to; nothing at an exit. */
  readonly ends: readonly [Pad | undefined, Pad | undefined]
}

export interface Domain {
  readonly source: Part
  /** With nothing drawn; of packs in series all that drive what flows in its leads. */
  readonly volts: Volt
  /** Of their cells; 0 for a regulator. */
  readonly ohms: Ohm
  readonly leads: readonly Lead[]
}

export interface PowerModel {
  readonly layout: Layout
  readonly parts: readonly Part[]
  /** `later` items that say what they will draw. */
  readonly later: readonly Part[]
  readonly domains: readonly Domain[]
  readonly exits: readonly { readonly node: number; readonly id: string; readonly load: LoadFile }[]
  /** Leads that no supply is reckoned for, with amperes that the file states for them. */
  readonly unfed: readonly Lead[]
  /** Leads whose `supply` is nothing here that gives power. */
  readonly astray: readonly { readonly wire: string; readonly supply: string | number }[]
  /** What is joined to what, by leads and nets alike; no current is reckoned in nets. */
  readonly conductors: Conductors
  readonly nodes: number
  readonly nameOf: (node: number) => string
}

const USUAL_GAUGE = 22
/** A terminal this near to a pin is that pin, Um. */
const PIN = 10

/**
 * Who gives power, through which leads, to whom. What `later` items will draw stands apart; a lead without a gauge is taken to be
 * 22 AWG (`assumed`). `routed` and the netlist where they are known already. Throws a RangeError where the project has no variant
 * `problem.variant`.
 */
export function powerModel(
  project: Project,
  library: ReadonlyMap<string, FootprintFile>,
  problem: Problem,
  placements: readonly Placement[],
  wiring: Wiring,
  settings: PowerSettings,
  routed: Routed = routesOf(problem, placements, wiring),
  netlist: Pick<Netlist, 'nets'> = netlistOf(problem, placements),
): PowerModel {
  const asked = applyVariant(project, problem.variant)
  const layout = layoutOf(problem, placements)
  const own = new Map((asked.footprints ?? []).map((f) => [f.id, f]))
  const items = new Map(asked.items.map((i) => [i.id, i]))
  const all = layout.bodies.map((body): Part => {
    const id = body.item.footprint.id
    const power = { ...(own.get(id) ?? library.get(id))?.power, ...items.get(body.item.base)?.power }
    return { item: body.index, body, power }
  })
  const parts = all.filter((p) => !p.body.item.later)
  const nodeOf = (end: End) => end.item ?? problem.items.length + (end.exit ?? 0)
  // a plug-in part's own screws are none: only its pins lead into the board
  const isContact = (end: WireEnd) => {
    const f = end.kind === 'item' ? problem.items[end.ref.items[0] ?? -1]?.footprint : undefined
    if (end.kind === 'exit' || !f) return false
    const { x, y } = end.at
    return (
      f.breadboard !== undefined ||
      (f.plug?.pins ?? []).some((p) => Math.abs(p.at.x - x) <= PIN && Math.abs(p.at.y - y) <= PIN)
    )
  }
  const files = suppliedById(problem, asked.wires ?? [])
  const paths = pathsOf(problem, files)
  const routes = new Map(routed.routes.map((r) => [r.wire, r]))
  const leads = problem.wires.flatMap((wire, index) => {
    const file = files.find((w) => w.id === wire.id)
    if (file === undefined || (file.supply === undefined && file.current === undefined)) return []
    const run = routes.get(index) ?? runOf(layout, wire)
    if (!run || !Number.isFinite(run.length)) return []
    const length = (run.length + extraOf(wiring, wire)) / 1000
    const given = gaugeOf(wire.gauge)
    const awg = given ?? USUAL_GAUGE
    const contacts = [wire.from, wire.to].filter(isContact).length
    const copper = { temperature: settings.temperature, stranded: file.stranded ?? false }
    const lead: Lead = {
      id: wire.id,
      a: nodeOf(run.from),
      b: nodeOf(run.to),
      path: paths.get(wire.id) ?? 'pair',
      ends: [padAt(problem, wire.from), padAt(problem, wire.to)],
      ohms: (ohmsPerMetre(awg, copper) * length) / 1000 + contacts * settings.contactOhms,
      length,
      awg,
      assumed: given === undefined,
      contacts,
      ...(file.current === undefined ? {} : { stated: file.current }),
    }
    return [{ lead, supply: file.supply }]
  })
  const sources = parts.flatMap((source): Omit<Domain, 'leads'>[] => {
    const { supply, output } = source.power
    if (output) return [{ source, volts: output.volts, ohms: 0 }]
    if (!supply) return []
    const ohms = ((supply.cells ?? 1) * (supply.ohms ?? 0)) / (supply.parallel ?? 1)
    return [{ source, volts: cellVolts(source)!, ohms }]
  })
  const feeds = (d: Omit<Domain, 'leads'>, supply: string | number | undefined) => {
    if (supply === undefined) return false
    const { id, base } = d.source.body.item
    if (typeof supply === 'string') return supply === id || supply === base
    const same = sources.filter((s) => Math.abs(s.volts - supply) < 1e-6)
    return same.length === 1 && same[0] === d
  }
  const exits = (asked.exits ?? []).flatMap((e, i) =>
    e.load ? [{ node: problem.items.length + i, id: e.id, load: e.load }] : [],
  )
  const conductors = conductorsOf(problem, placements, netlist, rolesOf(parts, paths, files))
  const domains = sources.map((d): Domain => {
    const own = leads.filter((l) => feeds(d, l.supply)).map((l) => l.lead)
    const driving = packsDriving(conductors, d.source.item, new Set(own.map((l) => l.id)))
    const inSeries = driving.map((item) => sources.find((s) => s.source.item === item))
    if (d.source.power.output || !inSeries.every((s) => s !== undefined)) return { ...d, leads: own }
    const sum = (of: 'volts' | 'ohms') => inSeries.reduce((all, s) => all + s[of], 0)
    return { ...d, volts: sum('volts'), ohms: sum('ohms'), leads: own }
  })
  return {
    layout,
    parts,
    later: all.filter((p) => p.body.item.later && p.power.load),
    domains,
    exits,
    unfed: leads.flatMap(({ lead, supply }) =>
      lead.stated === undefined || sources.some((d) => feeds(d, supply)) ? [] : [lead],
    ),
    astray: leads.flatMap(({ lead, supply }) =>
      supply === undefined || sources.some((d) => feeds(d, supply)) ? [] : [{ wire: lead.id, supply }],
    ),
    conductors,
    nodes: problem.items.length + problem.exits.length,
    nameOf: (node) => problem.items[node]?.id ?? problem.exits[node - problem.items.length]!.id,
  }
}
