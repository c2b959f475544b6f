/**
 * Plugs that join several conductors at once, as a servo's: signal, supply and return. Their pins lie side by side at the pitch, so
 * that a piece of header puts them on as many neighbouring strips, each a net of its own (common practice, no source).
 */
import type { Point } from '../../solver/index.ts'
import { type Net, type NetNode, padKey } from './netlist.ts'
import type { Boards, Contact, Strip } from './strips-boards.ts'

export interface Plug {
  readonly item: number
  /** As its terminals name it. */
  readonly name: string
  /** In the footprint's order, which is that of its pins. */
  readonly pins: readonly { readonly net: string; readonly node: NetNode & { readonly kind: 'pad' } }[]
}

/** Plugs of which two pins or more are in nets. A part's own pins sit in a board already and are no plug. */
export function plugsOf(nets: readonly Net[]): Plug[] {
  const by = new Map<string, { item: number; name: string; pins: Plug['pins'][number][] }>()
  for (const net of nets)
    for (const node of net.nodes) {
      if (node.kind !== 'pad' || node.pad.plug === undefined || node.pad.pin !== undefined) continue
      const key = `${node.item} ${node.pad.plug}`
      const plug = by.get(key) ?? { item: node.item, name: node.pad.plug, pins: [] }
      plug.pins.push({ net: net.id, node })
      by.set(key, plug)
    }
  return [...by.values()]
    .map((p) => ({ ...p, pins: p.pins.sort((a, b) => a.node.pad.order - b.node.pad.order) }))
    .filter((p) => p.pins.length >= 2 && new Set(p.pins.map((q) => padKey(p.item, q.node.pad))).size === p.pins.length)
}

/**
 * Contacts side by side for a plug, the nearest that are there: each on a strip that nobody uses and that leaves a contact to join it
 * by. Undefined where no board has so many beside each other. `far`: how far a plug's pin is from a contact.
 */
export function seatOfPlug(
  boards: Boards,
  pitch: (board: number) => number,
  isFree: (strip: Strip) => boolean,
  plug: Plug,
  far: (node: NetNode, contact: Contact) => number,
): Contact[] | undefined {
  let best: { run: Contact[]; far: number } | undefined
  const usable = (s: Strip) => !s.rail && s.seats.length === 0 && s.free.size >= 2 && isFree(s)
  for (const strip of boards.strips) {
    if (!usable(strip)) continue
    for (const first of strip.free) {
      const run = [first]
      while (run.length < plug.pins.length) {
        const at = first.own.x + run.length * pitch(strip.board)
        const next = boards.contactAt(strip.board, { x: at, y: first.own.y } as Point)
        if (!next || !usable(next.strip) || !next.strip.free.has(next) || next.strip === run[run.length - 1]!.strip)
          break
        run.push(next)
      }
      if (run.length < plug.pins.length) continue
      // a plug goes on either way round
      for (const way of [run, [...run].reverse()]) {
        const sum = plug.pins.reduce((s, p, i) => s + far(p.node, way[i]!), 0)
        if (sum < (best?.far ?? Number.POSITIVE_INFINITY)) best = { run: way, far: sum }
      }
    }
  }
  return best?.run
}
