/**
 * The netlist of a layout: every end that the project's nets name, as a place on a deck; and where any pin of a kind will do, the
 * pins whose wires are shortest in all.
 */
import {
  layoutOf,
  type NetAsked,
  type Placement,
  type Point,
  type Problem,
  pointOn,
  runOf,
  type TerminalKind,
  type Um,
  um,
  type WireEnd,
} from '../../solver/index.ts'
import type { ElectricFindingKind } from './finding-kinds.ts'
import { canBe, type Pad, padKey, padsOf } from './netlist-pads.ts'
import { type Asked, type Led, throughSwitches } from './netlist-switch.ts'
import { assign } from './pins-assign.ts'
import { boardsOf } from './strips-boards.ts'
import { called, nets as words } from './words.ts'

export { padKey } from './netlist-pads.ts'

type Layout = ReturnType<typeof layoutOf>

/** One thing found. `stops`: the robot would not run, or harm could be done; `worth-knowing`: it runs, but somebody should know. */
export interface NetFinding {
  readonly kind: ElectricFindingKind
  readonly topic: string
  readonly weight: 'stops' | 'worth-knowing'
  /** Ids of items, exits and nets. */
  readonly items: readonly string[]
  readonly text: string
}

/** Where a net ends. `at` in the frame of deck `deck`. */
export type NetNode =
  | { readonly kind: 'pad'; readonly item: number; readonly pad: Pad; readonly deck: number; readonly at: Point }
  | { readonly kind: 'exit'; readonly exit: number; readonly deck: number; readonly at: Point }

export interface Net {
  readonly id: string
  readonly nodes: readonly NetNode[]
  /** What opens the line, where it is placed and the line can be led through it. */
  readonly switch?: Led
}

/** A pin that the tool has chosen. */
export interface Assigned {
  readonly net: string
  readonly item: number
  readonly pad: Pad
  readonly as: TerminalKind
  /** From the pin to the nearest end that the net names, as R7 measures. */
  readonly length: Um
}

export interface Netlist {
  readonly nets: readonly Net[]
  readonly assigned: readonly Assigned[]
  readonly findings: readonly NetFinding[]
}

/** What a node is called in lists: `driver, in1` or `lead at exit-left`. */
export function nodeName(problem: Problem, node: NetNode): string {
  if (node.kind === 'exit') return called.exit(problem.exits[node.exit]!.id)
  return called.pin(problem.items[node.item]!.id, node.pad.id, node.pad.name)
}

/** Ids of what a node belongs to, for findings. */
export const ownerId = (problem: Problem, node: NetNode): string =>
  node.kind === 'exit' ? problem.exits[node.exit]!.id : problem.items[node.item]!.id

/** Ends of items that are not placed do not count. A project without nets has an empty netlist. */
export function netlistOf(problem: Problem, placements: readonly Placement[]): Netlist {
  const layout = layoutOf(problem, placements)
  const findings: NetFinding[] = []
  const fixed = (problem.nets ?? []).map((asked) => ({ asked, nodes: fixedNodes(layout, asked) }))
  const taken = new Set(fixed.flatMap(({ nodes }) => nodes.map((n) => (n.kind === 'pad' ? padKey(n.item, n.pad) : ''))))
  const assigned = choose(layout, fixed, taken, findings)
  const whole = fixed.map(({ asked, nodes }): Asked => {
    const chosen = assigned.filter((a) => a.net === asked.id).map((a) => padNode(layout, a.item, a.pad)!)
    const by = asked.switch === undefined ? {} : { by: asked.switch }
    return { id: asked.id, nodes: [...nodes, ...chosen], ...by }
  })
  const { nets, findings: notLed } = throughSwitches(layout, whole)
  fixed.forEach(({ asked }, i) => {
    const net = nets[i]!
    // what it asked of a part that is placed and could not give it is told of already
    const asks = asked.ends.filter((e) => e.kind === 'any' && layout.bodyOf.has(e.item)).length
    if (net.nodes.length >= 2 || asks > assigned.filter((a) => a.net === net.id).length) return
    const [one] = net.nodes
    const text = one ? words.oneEnd(net.id, nodeName(problem, one)) : words.noEnd(net.id)
    const items = [net.id, ...(one ? [ownerId(problem, one)] : [])]
    findings.push({ kind: 'net-open', topic: 'open net', weight: 'worth-knowing', items, text })
  })
  return { nets, assigned, findings: [...findings, ...notLed] }
}

function padNode(layout: Layout, item: number, pad: Pad): NetNode | undefined {
  const body = layout.bodyOf.get(item)
  if (!body) return undefined
  const at = pointOn(body.item.footprint, body.placement, pad.at)
  return { kind: 'pad', item, pad, deck: body.deck, at }
}

/** Ends that the project names itself, each once. */
function fixedNodes(layout: Layout, asked: NetAsked): NetNode[] {
  const nodes = new Map<string, NetNode>()
  for (const end of asked.ends) {
    if (end.kind === 'any') continue
    if (end.kind === 'exit') {
      const { deck, at } = layout.problem.exits[end.exit]!
      nodes.set(`exit ${end.exit}`, { kind: 'exit', exit: end.exit, deck, at })
      continue
    }
    const pads = padsOf(layout.problem.items[end.item]!.footprint)
    const pad = pads.find((p) => p.ids.includes(end.terminal))
    const node = pad && padNode(layout, end.item, pad)
    if (pad && node) nodes.set(padKey(end.item, pad), node)
  }
  return [...nodes.values()]
}

interface Fixed {
  readonly asked: NetAsked
  readonly nodes: readonly NetNode[]
}

/** One controller pin serves one signal: for each item that is asked for any pin, its free pins are given out together. */
function choose(layout: Layout, fixed: readonly Fixed[], taken: ReadonlySet<string>, findings: NetFinding[]) {
  const { problem } = layout
  const wants = new Map<number, { readonly net: Fixed; readonly as: TerminalKind }[]>()
  for (const net of fixed) {
    for (const end of net.asked.ends) {
      if (end.kind !== 'any' || !layout.bodyOf.has(end.item)) continue
      wants.set(end.item, [...(wants.get(end.item) ?? []), { net, as: end.any }])
    }
  }
  const assigned: Assigned[] = []
  const seatOf = wants.size > 0 ? boardsOf(layout).seatOf : undefined
  for (const [item, asked] of wants) {
    const pads = padsOf(problem.items[item]!.footprint).filter((p) => !taken.has(padKey(item, p)))
    const shut = pads.map((p) => seatOf?.get(`${item} ${p.pin}`)?.contact.strip.free.size === 0)
    const far = (pad: Pad, net: Fixed): number => nearest(layout, padNode(layout, item, pad)!, net.nodes)
    const cost = asked.map(({ net, as }) =>
      pads.map((pad) => (canBe(pad, as) ? far(pad, net) + (pad.program === true ? LAST : 0) : Infinity)),
    )
    // a pin on whose strip no contact is free can be joined to nothing
    const open = assign(cost.map((row) => row.map((c, column) => (shut[column] ? Infinity : c))))
    const any = open.includes(-1) ? assign(cost) : open
    const served = (list: readonly number[]) => list.filter((column) => column >= 0).length
    const given = served(open) < served(any) ? any : open
    given.forEach((column, row) => {
      const { net, as } = asked[row]!
      const pad = pads[column]
      if (pad) {
        assigned.push({ net: net.asked.id, item, pad, as, length: um(far(pad, net)) })
        return
      }
      const id = problem.items[item]!.id
      const can = pads.filter((p) => canBe(p, as)).length
      const rivals = asked.filter((a) => a.as === as).length
      const text = words.noPinLeft(net.asked.id, as, id, can, rivals)
      findings.push({ kind: 'no-pin-left', topic: 'pins', weight: 'stops', items: [id, net.asked.id], text })
    })
  }
  return assigned
}

/** Longest that a wire counts here: where no pass joins the decks, any pin is as good as another. */
const NO_WAY = 1e8
/** A pin over which the controller is programmed is taken last: a program could not be loaded any longer (common practice, no source). */
const LAST = 4e8

function nearest(layout: Layout, from: NetNode, nodes: readonly NetNode[]): number {
  // Where a net names no end itself, nothing says which pin is near.
  if (nodes.length === 0) return 0
  return Math.min(NO_WAY, ...nodes.map((to) => distance(layout, from, to)))
}

/** Um between two ends, as R7 measures a wire; Infinity where no chain of passes joins their decks. */
export function distance(layout: Layout, a: NetNode, b: NetNode): number {
  if (a.deck === b.deck) return Math.abs(a.at.x - b.at.x) + Math.abs(a.at.y - b.at.y)
  const wire = { id: '', from: wireEnd(layout, a), to: wireEnd(layout, b), loop: um(0), conductors: 1 }
  return runOf(layout, wire)?.length ?? Number.POSITIVE_INFINITY
}

const wireEnd = (layout: Layout, n: NetNode): WireEnd =>
  n.kind === 'exit'
    ? { kind: 'exit', exit: n.exit }
    : {
        kind: 'item',
        ref: { name: layout.problem.items[n.item]!.id, items: [n.item] },
        terminal: n.pad.id,
        at: n.pad.at,
      }
