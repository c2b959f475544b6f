/** The project's own wires from part to part, as conductors between pads. */
import { layoutOf, type Placement, type Problem, runOf, type WireEnd } from '../../solver/index.ts'
import { type Pad, padsOf } from './netlist-pads.ts'
import { POWER } from './pins-kinds.ts'

export interface LeadEnd {
  readonly item: number
  readonly pad: Pad
}

export interface PadLead {
  readonly id: string
  readonly ends: readonly [LeadEnd, LeadEnd]
  /**
   * `one` joins its two pads. `pair` is a supply's, named by its plus, and leads the return beside it. `ribbon` is named by one of its
   * conductors, and who goes where is said by the nets.
   */
  readonly kind: 'one' | 'pair' | 'ribbon'
}

/** Those of which both ends are placed, at the copies that R7 measures them to. */
export function padLeads(problem: Problem, placements: readonly Placement[]): PadLead[] {
  const layout = layoutOf(problem, placements)
  return problem.wires.flatMap((wire): PadLead[] => {
    const run = runOf(layout, wire)
    const end = (asked: WireEnd, item: number | undefined): LeadEnd | undefined => {
      if (asked.kind === 'exit' || item === undefined) return undefined
      const pad = padsOf(problem.items[item]!.footprint).find((p) => p.ids.includes(asked.terminal))
      return pad && { item, pad }
    }
    const [a, b] = [end(wire.from, run?.from.item), end(wire.to, run?.to.item)]
    if (!a || !b) return []
    const isPower = [a, b].every(({ pad: { kind } }) => kind === 'passive' || (kind && POWER.includes(kind)))
    const bare = [a, b].every(({ pad: { kind } }) => kind === 'passive')
    const kind = wire.conductors === 1 ? 'one' : isPower && !bare ? 'pair' : 'ribbon'
    return [{ id: wire.id, ends: [a, b], kind }]
  })
}
