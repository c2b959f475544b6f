/** The pin table, for whoever writes the program: what stands at each pin of each part that a net names. */
import type { Problem, TerminalKind } from '../../solver/index.ts'
import { type Netlist, nodeName, padKey } from './netlist.ts'
import { padsOf } from './netlist-pads.ts'

export interface PinRow {
  readonly item: string
  readonly pin: string
  readonly name: string
  /** As what it is used; empty where nobody says. */
  readonly as: TerminalKind | ''
  readonly net: string
  /** The other ends of the net. */
  readonly to: readonly string[]
  /** Chosen by the tool: the program may say so, but another of its kind would do too. */
  readonly chosen: boolean
}

/**
 * Rows by item in the project's order, then by pin.
 *
 * `pinTable(problem, netlist)[0]` → `{ item: 'brain', pin: '6', name: 'input and output 4', as: 'digital', net: 'forward',
 * to: ['driver, 3 (in 1)'], chosen: true }`
 */
export function pinTable(problem: Problem, netlist: Netlist): PinRow[] {
  return problem.items.flatMap(({ id, footprint }, item) =>
    padsOf(footprint).flatMap((pad) =>
      netlist.nets.flatMap((net): PinRow[] => {
        const mine = net.nodes.find((n) => n.kind === 'pad' && padKey(n.item, n.pad) === padKey(item, pad))
        if (!mine) return []
        const chosen = netlist.assigned.find((a) => a.net === net.id && padKey(a.item, a.pad) === padKey(item, pad))
        const to = net.nodes.filter((n) => n !== mine).map((n) => nodeName(problem, n))
        const as = chosen?.as ?? pad.kind ?? ''
        return [{ item: id, pin: pad.id, name: pad.name, as, net: net.id, to, chosen: chosen !== undefined }]
      }),
    ),
  )
}
