/** Pin by pin, all of it for one layout as plain data, for the command line and the page. Lengths in mm. */
import { type Placement, type Problem, toMm } from '../../solver/index.ts'
import { type Conductors, conductorsOf } from './conductors.ts'
import { type NetFinding, type Netlist, netlistOf } from './netlist.ts'
import { type PinRow, pinTable } from './pins.ts'
import { checkNets } from './pins-check.ts'
import { type Preparation, prepareList } from './prepare.ts'
import { type PlanEnd, planStrips } from './strips.ts'

/** An end of a jumper or lead. `at`: mm in the frame of `deck`. */
export interface PlainEnd {
  readonly of: string
  readonly name: string
  readonly contact: boolean
  readonly deck: string
  readonly at: readonly [number, number]
}

export interface PinByPin {
  /** Nets that the project asks for; 0 where it has none, and then only what the seats and wires say is looked at. */
  readonly nets: number
  readonly table: readonly PinRow[]
  readonly assigned: readonly {
    readonly net: string
    readonly item: string
    readonly pin: string
    readonly as: string
    /** To the nearest end that the net names, mm. */
    readonly length: number
  }[]
  readonly links: readonly {
    readonly net: string
    readonly kind: 'jumper' | 'lead' | 'direct'
    readonly from: PlainEnd
    readonly to: PlainEnd
    /** mm along x and y, without loops and ends. */
    readonly length: number
  }[]
  readonly shared: readonly { readonly net: string; readonly pins: readonly string[] }[]
  readonly preparation: Omit<Preparation, 'findings'>
  /** What stops the job first. */
  readonly findings: readonly NetFinding[]
}

/** Of one layout, legal or not. `netlist`, `conductors`: where they are made already; these know what the parts say of power. */
export function inspectPins(
  problem: Problem,
  placements: readonly Placement[],
  netlist: Netlist = netlistOf(problem, placements),
  conductors: Conductors = conductorsOf(problem, placements, netlist),
): PinByPin {
  const plan = planStrips(problem, placements, netlist)
  const { findings: prepared, ...preparation } = prepareList(problem, placements, plan)
  const findings = [...checkNets(problem, placements, netlist, conductors), ...plan.findings, ...prepared]
  const end = ({ of, name, contact, node }: PlanEnd): PlainEnd => ({
    of,
    name,
    contact: contact !== undefined,
    deck: problem.decks[node.deck]!.id,
    at: [toMm(node.at.x), toMm(node.at.y)],
  })
  return {
    nets: netlist.nets.length,
    table: pinTable(problem, netlist),
    assigned: netlist.assigned.map((a) => ({
      net: a.net,
      item: problem.items[a.item]!.id,
      pin: a.pad.id,
      as: a.as,
      length: toMm(a.length),
    })),
    links: plan.links.map((l) => ({
      net: l.net,
      kind: l.kind,
      from: end(l.from),
      to: end(l.to),
      length: toMm(l.length),
    })),
    shared: plan.shared,
    preparation,
    findings: [
      ...findings.filter((f) => f.weight === 'stops'),
      ...findings.filter((f) => f.weight === 'worth-knowing'),
    ],
  }
}
