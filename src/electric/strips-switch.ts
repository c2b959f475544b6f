/**
 * A switch in a line makes two conductors of it: what feeds the line before the switch, who listens behind it. The kinds of a net are
 * judged as one (pins-check.ts), its contacts are planned as two.
 */
import { type layoutOf, type Problem, pointOn, type WireEnd } from '../../solver/index.ts'
import { type Net, type NetFinding, type Netlist, type NetNode, padKey } from './netlist.ts'
import { type Pad, padsOf } from './netlist-pads.ts'
import { called, nets as words } from './words.ts'

type Layout = ReturnType<typeof layoutOf>

/** Each net whose switch is placed in two, `id` before the switch and `id after <switch>`; two free terminals of the switch are taken. */
export function throughSwitches(
  layout: Layout,
  netlist: Netlist,
): { readonly nets: readonly Net[]; readonly findings: readonly NetFinding[] } {
  const { problem } = layout
  const taken = new Set(
    netlist.nets.flatMap((n) => n.nodes.map((e) => (e.kind === 'pad' ? padKey(e.item, e.pad) : ''))),
  )
  const findings: NetFinding[] = []
  const nets = netlist.nets.flatMap((net): Net[] => {
    const body = net.switch === undefined ? undefined : layout.bodyOf.get(net.switch)
    // a net with one end leads nowhere yet, which is told of it already
    if (!body || net.nodes.length < 2) return [net]
    const by = body.item.id
    const [before, after] = sides(problem, net)
    const [one, two] = padsOf(body.item.footprint).filter(
      (p) => !taken.has(padKey(body.index, p)) && !wired(layout, netlist, net, body.index, p),
    )
    if (!one || !two || before.length === 0 || after.length === 0) {
      const text = (before.length > 0 && after.length > 0 ? words.switchStuck : words.switchOneSided)(net.id, by)
      findings.push({ kind: 'switch-not-led', topic: 'switch', weight: 'stops', items: [net.id, by], text })
      return [net]
    }
    const node = (pad: typeof one): NetNode => {
      taken.add(padKey(body.index, pad))
      const at = pointOn(body.item.footprint, body.placement, pad.at)
      return { kind: 'pad', item: body.index, pad, deck: body.deck, at }
    }
    return [
      { ...net, nodes: [...before, node(one)] },
      { ...net, id: called.behindSwitch(net.id, by), nodes: [...after, node(two)] },
    ]
  })
  return { nets, findings }
}

/** Whether a wire of the project leads from a terminal of the switch to a part of another net: then that line runs through it. */
function wired(layout: Layout, netlist: Netlist, net: Net, item: number, pad: Pad): boolean {
  const { problem } = layout
  const isHere = (end: WireEnd) => end.kind === 'item' && end.ref.items.includes(item) && pad.ids.includes(end.terminal)
  const isOn = (n: NetNode, end: WireEnd) =>
    end.kind === 'exit'
      ? n.kind === 'exit' && n.exit === end.exit
      : n.kind === 'pad' && end.ref.items.includes(n.item) && n.pad.ids.includes(end.terminal)
  return problem.wires.some(({ from, to }) => {
    const far = isHere(from) ? to : isHere(to) ? from : undefined
    if (!far) return false
    const others = netlist.nets.filter((n) => n.nodes.some((e) => isOn(e, far)))
    return others.length > 0 && !others.some((n) => n.id === net.id)
  })
}

/** On a programming line those that listen are behind the switch; else all but what the net names first. */
function sides(problem: Problem, net: Net): [NetNode[], NetNode[]] {
  const program = net.nodes.find((n) => n.kind === 'pad' && n.pad.program === true)
  const behind = (n: NetNode): boolean => {
    if (!program) return n !== net.nodes[0]
    const kind = n.kind === 'exit' ? problem.exits[n.exit]!.kind : n.pad.kind
    return n !== program && kind === 'serial-in'
  }
  return [net.nodes.filter((n) => !behind(n)), net.nodes.filter(behind)]
}
