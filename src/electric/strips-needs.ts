/** Which pins have to be joined to something, whatever stands where: what a search may learn of a strip holds only for these. */
import type { NetAsked, Problem } from '../../solver/index.ts'
import type { Netlist } from './netlist.ts'
import { canBe, type Pad, padsOf } from './netlist-pads.ts'

/** An item that is there with its end of the net or wire, off the strip in question as long as it does not cover that. */
export interface Other {
  readonly item: number
  /** It may be left out, so that it has to be named. */
  readonly named: boolean
}

/** Somebody else's end: `always` there (an exit, or another place of the same part), or one of these. */
interface Far {
  readonly always: boolean
  readonly others: readonly Other[]
}

export interface Need {
  /** The pins (indices) of which every one is shut in, where the part has to be joined by them. */
  readonly pins: readonly number[]
  /** Free contacts that their strips must have. */
  readonly contacts: number
  /** Of each line that has to be joined: what is at its other end. */
  readonly far: readonly Far[]
}

export interface Known {
  readonly problem: Problem
  readonly netlist: Netlist
  readonly isPlaced: (item: number) => boolean
  /** Whether no contact is free on the strip that a pin of an item sits in. */
  readonly isShut: (item: number, pin: number) => boolean
}

const copiesOf = (problem: Problem, item: number): number[] => {
  const { base } = problem.items[item]!
  return problem.items.flatMap((i, k) => (i.base === base ? [k] : []))
}

/**
 * Why a pin has to be joined; undefined where that may be otherwise in another layout. A search takes copies as equals, so that a copy
 * needs its pin only where all of them need theirs.
 */
export function needOf(known: Known, item: number, pad: Pad): Need | undefined {
  const { problem, netlist } = known
  if (pad.pin === undefined) return undefined
  const copies = copiesOf(problem, item)
  if (netlist.assigned.some((a) => a.item === item && a.pad.id === pad.id)) {
    return copies.length === 1 ? chosenNeed(known, item) : undefined
  }
  const own = fixedNeed(known, item, pad)
  if (copies.length === 1 || own === undefined) return own
  const same = copies.map((c) => fixedNeed(known, c, pad))
  const alike = same.every((n) => n?.far.every((f) => f.always || f.others.every((o) => !o.named)))
  return alike && same.every((n) => n!.contacts === own.contacts) ? own : undefined
}

/** A pin that a net or a wire names. */
function fixedNeed(known: Known, item: number, pad: Pad): Need | undefined {
  const { problem } = known
  const isEnd = (end: NetAsked['ends'][number]) =>
    end.kind === 'terminal' && end.item === item && pad.ids.includes(end.terminal)
  for (const net of problem.nets ?? []) {
    if (!net.ends.some(isEnd)) continue
    const far = farOf(known, net, item, (end) => !isEnd(end))
    if (far) return { pins: [pad.pin!], contacts: 1, far: [far] }
  }
  const named = (problem.nets ?? []).some((n) =>
    n.ends.some((e) => isEnd(e) || (e.kind === 'any' && e.item === item && canBe(pad, e.any))),
  )
  // where a net may speak of the pin, its wires are the net's
  if (named) return undefined
  const wires = problem.wires.filter((w) =>
    [w.from, w.to].some(
      (e) => e.kind === 'item' && e.ref.items.length === 1 && e.ref.items[0] === item && pad.ids.includes(e.terminal),
    ),
  )
  const far = wires.flatMap((w): Far[] => {
    const ends = [w.from, w.to].filter((e) => e.kind === 'exit' || !e.ref.items.includes(item))
    const [end] = ends
    if (!end || end.kind === 'exit') return [{ always: true, others: [] }]
    const others = end.ref.items.flatMap((i) => otherOf(known, i) ?? [])
    return others.length > 0 ? [{ always: false, others }] : []
  })
  return far.length > 0 && far.length === wires.length ? { pins: [pad.pin!], contacts: wires.length, far } : undefined
}

/**
 * Pins that the tool chose: it takes one that is shut in only where there are not enough others. So all that it could have taken and
 * that are shut in are needed together, as long as every line that asks for one has another end.
 */
function chosenNeed(known: Known, item: number): Need | undefined {
  const { problem, netlist } = known
  const nets = (problem.nets ?? []).filter((n) => n.ends.some((e) => e.kind === 'any' && e.item === item))
  const wants = nets.flatMap((n) => n.ends.flatMap((e) => (e.kind === 'any' && e.item === item ? [e.any] : [])))
  if (netlist.assigned.filter((a) => a.item === item).length !== wants.length) return undefined
  const far = nets.map((n) => farOf(known, n, item, (e) => e.kind !== 'any'))
  if (far.some((f) => f === undefined)) return undefined
  const pins = padsOf(problem.items[item]!.footprint).flatMap((p) => {
    const fixed = (problem.nets ?? []).some((n) =>
      n.ends.some((e) => e.kind === 'terminal' && e.item === item && p.ids.includes(e.terminal)),
    )
    return p.pin !== undefined && !fixed && wants.some((k) => canBe(p, k)) && known.isShut(item, p.pin) ? [p.pin] : []
  })
  return { pins, contacts: 1, far: far.flatMap((f) => f ?? []) }
}

/** The other ends of a net that are sure to be there. */
function farOf(
  known: Known,
  net: NetAsked,
  item: number,
  counts: (end: NetAsked['ends'][number]) => boolean,
): Far | undefined {
  const ends = net.ends.filter(counts)
  // another place of the same part is on another strip
  const always = ends.some((e) => e.kind === 'exit' || (e.kind === 'terminal' && e.item === item))
  const others = ends.flatMap((e): Other[] => {
    if (e.kind === 'exit' || e.item === item) return []
    if (e.kind === 'any' && !allServed(known, e.item)) return []
    return otherOf(known, e.item) ?? []
  })
  return always || others.length > 0 ? { always, others } : undefined
}

/** Any pin that is asked for of this item is there, then; which one, nobody knows. */
function allServed({ problem, netlist }: Known, item: number): boolean {
  const wants = (problem.nets ?? []).flatMap((n) => n.ends.filter((e) => e.kind === 'any' && e.item === item))
  return netlist.assigned.filter((a) => a.item === item).length === wants.length
}

function otherOf({ problem, isPlaced }: Known, item: number): Other[] | undefined {
  if (!isPlaced(item)) return undefined
  if (problem.items[item]!.required) return [{ item, named: false }]
  return copiesOf(problem, item).length === 1 ? [{ item, named: true }] : undefined
}
