/**
 * A switch in a line makes two conductors of it: what feeds the line before the switch, who listens behind it. The kinds of a net are
 * judged as one (pins-check.ts), its contacts are planned as two (strips.ts).
 */
import { type layoutOf, type Problem, pointOn, type WireEnd } from '../../solver/index.ts'
import type { Net, NetFinding, NetNode } from './netlist.ts'
import { type Pad, padKey, padsOf } from './netlist-pads.ts'
import { nets as words } from './words.ts'

type Layout = ReturnType<typeof layoutOf>

/** A switch that a net is led through, and the net's ends to each side of it with the terminal there. */
export interface Led {
  readonly item: number
  readonly before: readonly NetNode[]
  readonly behind: readonly NetNode[]
}

/** A net as the project asks for it, with the item that is to open it where that is placed. */
export interface Asked extends Omit<Net, 'switch'> {
  readonly by?: number
}

/** Each net with its switch, where it can be led through it; two free terminals of the switch are taken. Where it cannot, that is found. */
export function throughSwitches(
  layout: Layout,
  asked: readonly Asked[],
): { readonly nets: readonly Net[]; readonly findings: readonly NetFinding[] } {
  const { problem } = layout
  const taken = new Set(asked.flatMap((n) => n.nodes.map((e) => (e.kind === 'pad' ? padKey(e.item, e.pad) : ''))))
  const findings: NetFinding[] = []
  const nets = asked.map(({ by: item, ...net }): Net => {
    const body = item === undefined ? undefined : layout.bodyOf.get(item)
    // a net with one end leads nowhere yet, which is told of it already
    if (!body || net.nodes.length < 2) return net
    const by = body.item.id
    const [before, behind] = sides(problem, net)
    const [one, two] = padsOf(body.item.footprint).filter(
      (p) => !taken.has(padKey(body.index, p)) && !wired(layout, net, body.index, p),
    )
    if (!one || !two || before.length === 0 || behind.length === 0) {
      const text = (before.length > 0 && behind.length > 0 ? words.switchStuck : words.switchOneSided)(net.id, by)
      findings.push({ kind: 'switch-not-led', topic: 'switch', weight: 'stops', items: [net.id, by], text })
      return net
    }
    const node = (pad: typeof one): NetNode => {
      taken.add(padKey(body.index, pad))
      const at = pointOn(body.item.footprint, body.placement, pad.at)
      return { kind: 'pad', item: body.index, pad, deck: body.deck, at }
    }
    return { ...net, switch: { item: body.index, before: [...before, node(one)], behind: [...behind, node(two)] } }
  })
  return { nets, findings }
}

/** Whether a wire of the project leads from a terminal of the switch to what is not of this net: then another line runs through it. */
function wired(layout: Layout, net: Asked, item: number, pad: Pad): boolean {
  const { problem } = layout
  const isHere = (end: WireEnd) => end.kind === 'item' && end.ref.items.includes(item) && pad.ids.includes(end.terminal)
  const isOn = (n: NetNode, end: WireEnd) =>
    end.kind === 'exit'
      ? n.kind === 'exit' && n.exit === end.exit
      : n.kind === 'pad' && end.ref.items.includes(n.item) && n.pad.ids.includes(end.terminal)
  return problem.wires.some(({ from, to }) => {
    const far = isHere(from) ? to : isHere(to) ? from : undefined
    if (!far || (far.kind === 'item' && !far.ref.items.some((i) => layout.bodyOf.has(i)))) return false
    return !net.nodes.some((e) => isOn(e, far))
  })
}

/** On a programming line those that listen are behind the switch; else all but what the net names first. */
function sides(problem: Problem, net: Asked): [NetNode[], NetNode[]] {
  const program = net.nodes.find((n) => n.kind === 'pad' && n.pad.program === true)
  const behind = (n: NetNode): boolean => {
    if (!program) return n !== net.nodes[0]
    const kind = n.kind === 'exit' ? problem.exits[n.exit]!.kind : n.pad.kind
    return n !== program && kind === 'serial-in'
  }
  return [net.nodes.filter((n) => !behind(n)), net.nodes.filter(behind)]
}
