/** The project's own wires as conductors between terminals and exits. */
import { layoutOf, type Placement, type Problem, runOf, type WireEnd } from '../../solver/index.ts'
import { type Pad, padsOf } from './netlist-pads.ts'
import { POWER } from './pins-kinds.ts'

export interface LeadEnd {
  readonly item: number
  readonly pad: Pad
}

/** `pair`: out and back; else one of them. */
export type Path = 'pair' | 'out' | 'back'

export interface PlacedLead {
  readonly id: string
  readonly ends: readonly [LeadEnd | { readonly exit: number }, LeadEnd | { readonly exit: number }]
  /**
   * `one` joins its two ends. `pair` is a supply's, named by its plus, and leads the return beside it. `ribbon` is named by one of its
   * conductors, and who goes where is said by the nets.
   */
  readonly kind: 'one' | 'pair' | 'ribbon'
  /** Of the supply that the file says it carries; none where it says none. */
  readonly path?: Path
}

/** A lead from part to part. */
export interface PadLead extends PlacedLead {
  readonly ends: readonly [LeadEnd, LeadEnd]
}

export const isFromPartToPart = (lead: PlacedLead): lead is PadLead => lead.ends.every((e) => 'pad' in e)

/** Those of which both ends are placed, at the copies that R7 measures them to. `paths`: of leads of which the file says that they carry a supply. `protects`: fuses and switches. */
export function placedLeads(
  problem: Problem,
  placements: readonly Placement[],
  paths: ReadonlyMap<string, Path>,
  protects: ReadonlyMap<number, unknown>,
): PlacedLead[] {
  const layout = layoutOf(problem, placements)
  return problem.wires.flatMap((wire): PlacedLead[] => {
    const run = runOf(layout, wire)
    const end = (asked: WireEnd, item: number | undefined): PlacedLead['ends'][number] | undefined => {
      if (asked.kind === 'exit') return { exit: asked.exit }
      if (item === undefined) return undefined
      const pad = padsOf(problem.items[item]!.footprint).find((p) => p.ids.includes(asked.terminal))
      return pad && { item, pad }
    }
    const [a, b] = [end(wire.from, run?.from.item), end(wire.to, run?.to.item)]
    if (!a || !b) return []
    const path = paths.get(wire.id)
    // a fuse or switch that says nothing of its terminals joins what is at them all the same
    const kinds = [a, b].map((e) =>
      'pad' in e ? (e.pad.kind ?? (protects.has(e.item) ? 'passive' : undefined)) : undefined,
    )
    const isPower = kinds.every((kind) => kind === 'passive' || (kind && POWER.includes(kind)))
    // of a supply that the file names, also between a fuse and a switch
    const bare = path === undefined && kinds.every((kind) => kind === 'passive')
    const single = wire.conductors === 1 || (isPower && path !== undefined && path !== 'pair')
    const kind = single ? 'one' : isPower && !bare ? 'pair' : 'ribbon'
    return [{ id: wire.id, ends: [a, b], kind, ...(path === undefined ? {} : { path }) }]
  })
}
