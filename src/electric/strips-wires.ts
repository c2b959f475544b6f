/** The project's own wires that end on a pin which sits in a board: each goes into a contact of that pin's strip. */
import type { layoutOf, Wire } from '../../solver/index.ts'
import { type Net, type NetFinding, type NetNode, nodeName, padKey } from './netlist.ts'
import { padsOf } from './netlist-pads.ts'
import type { Boards, Strip } from './strips-boards.ts'
import { called, strips as words } from './words.ts'

type Layout = ReturnType<typeof layoutOf>
type PadNode = NetNode & { readonly kind: 'pad' }

/** A strip with fewer free contacts than have to be joined to it. */
export interface Blocked {
  readonly finding: NetFinding
  readonly strip: Strip
  /** Those that sit in it and have to be joined to something else. */
  readonly pins: readonly PadNode[]
  /** The net, as it is planned, or the wires that need contacts of it. */
  readonly net?: string
  readonly wires: readonly Wire[]
}

/** Of wires that no net speaks of, on items without copies. What a net joins is planned with the net. */
export function wiresBlocked(layout: Layout, boards: Boards, nets: readonly Net[]): Blocked[] {
  const { problem } = layout
  const netted = new Set(
    nets.flatMap((n) =>
      n.nodes.length < 2 ? [] : n.nodes.map((e) => (e.kind === 'pad' ? padKey(e.item, e.pad) : '')),
    ),
  )
  const needs = new Map<Strip, { pins: PadNode[]; wires: Wire[] }>()
  for (const wire of problem.wires) {
    const ends = [wire.from, wire.to]
    if (!ends.every((e) => e.kind === 'exit' || e.ref.items.some((i) => layout.bodyOf.has(i)))) continue
    for (const end of ends) {
      if (end.kind === 'exit' || end.ref.items.length !== 1) continue
      const item = end.ref.items[0]!
      const body = layout.bodyOf.get(item)!
      const pad = padsOf(body.item.footprint).find((p) => p.ids.includes(end.terminal))
      const seat = pad?.pin === undefined ? undefined : boards.seatOf.get(`${item} ${pad.pin}`)
      if (!pad || !seat || netted.has(padKey(item, pad))) continue
      const { strip } = seat.contact
      const need = needs.get(strip) ?? { pins: [], wires: [] }
      needs.set(strip, need)
      need.pins.push({ kind: 'pad', item, pad, deck: body.deck, at: seat.contact.at })
      need.wires.push(wire)
    }
  }
  return [...needs].flatMap(([strip, { pins, wires }]): Blocked[] => {
    if (strip.free.size >= wires.length) return []
    const ids = wires.map((w) => w.id)
    const names = [...new Set(pins.map((n) => nodeName(problem, n)))]
    const at = called.contact(problem.items[strip.board]!.id, strip.contacts[0]!.name)
    const text = words.fullForWires(ids, names, at, strip.free.size)
    const items = [...ids, ...new Set(pins.map((n) => problem.items[n.item]!.id))]
    const finding = { kind: 'strip-full', topic: 'open pin', weight: 'stops', items, text } as const
    return [{ finding, strip, pins, wires }]
  })
}
