/** The project's own wires against its nets and the kinds of what they end on: a lead can make a short circuit as well as a net can. */
import type { Placement, Problem, WireEnd } from '../../solver/index.ts'
import { type Net, type NetFinding, type Netlist, padKey } from './netlist.ts'
import { type Pad, padsOf } from './netlist-pads.ts'
import { POWER, refused } from './pins-kinds.ts'
import { called, nets as words } from './words.ts'

interface Spot {
  readonly item: number
  readonly pad: Pad
  readonly nets: readonly Net[]
}

/** Of leads from part to part that no net says the same of. */
export function checkWires(problem: Problem, placements: readonly Placement[], netlist: Netlist): NetFinding[] {
  const placed = new Set(placements.map((p) => p.item))
  const spot = (end: WireEnd): Spot | undefined => {
    const item = end.kind === 'exit' ? undefined : end.ref.items.find((i) => placed.has(i))
    if (end.kind === 'exit' || item === undefined) return undefined
    const pad = padsOf(problem.items[item]!.footprint).find((p) => p.ids.includes(end.terminal))
    if (!pad) return undefined
    const key = padKey(item, pad)
    const nets = netlist.nets.filter((n) => n.nodes.some((e) => e.kind === 'pad' && padKey(e.item, e.pad) === key))
    return { item, pad, nets }
  }
  const nameOf = ({ item, pad: { id, name } }: Spot): string => called.pin(problem.items[item]!.id, id, name)
  return problem.wires.flatMap((wire): NetFinding[] => {
    const [a, b] = [spot(wire.from), spot(wire.to)]
    if (!a || !b || a.nets.some((n) => b.nets.includes(n))) return []
    const items = [wire.id, problem.items[a.item]!.id, problem.items[b.item]!.id]
    const [x, y] = [rolesOf(a.pad), rolesOf(b.pad)]
    // a ribbon is named by one of its conductors, and who goes where is said by the nets; a pair of a supply is named by its plus
    if (wire.conductors > 1 && ![a, b].every((s) => s.pad.kind && POWER.includes(s.pad.kind))) return []
    if (x.length > 0 && y.length > 0 && x.every((k) => y.every((l) => refused(k, l) !== undefined))) {
      const why = refused(x[0]!, y[0]!)!
      const text = words.leadKindsApart(wire.id, nameOf(a), x[0]!, nameOf(b), y[0]!, why)
      return [{ kind: 'kinds-apart', topic: 'kinds', weight: 'stops', items, text }]
    }
    const [n, m] = [a.nets[0], b.nets[0]]
    if (!n || !m || a.nets.length > 1 || b.nets.length > 1) return []
    const text = words.leadJoins(wire.id, nameOf(a), n.id, nameOf(b), m.id)
    return [{ kind: 'nets-on-strip', topic: 'short', weight: 'stops', items: [...items, n.id, m.id], text }]
  })
}

const rolesOf = (pad: Pad) => (pad.kind === undefined ? [] : [pad.kind, ...(pad.also ?? [])])
