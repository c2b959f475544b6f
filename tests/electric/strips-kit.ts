/** A plan of contacts of the robot of the tests, and whether it is sound, told from the footprints' blocks alone. */
import { expect } from 'vitest'
import { layoutOf, type Placement, type Problem } from '../../solver/index.ts'
import { netlistOf } from '../../src/electric/netlist.ts'
import { planStrips, type StripPlan } from '../../src/electric/strips.ts'
import { boardsOf } from '../../src/electric/strips-boards.ts'
import { type Any, robot } from './netlist-kit.ts'

export function plan(change?: (p: Any) => void) {
  const { problem, placements } = robot(change)
  const netlist = netlistOf(problem, placements)
  return { problem, placements, netlist, plan: planStrips(problem, placements, netlist) }
}

/** What touches what, told from the footprints' blocks and the plan's points alone: a net's name at each conductor, by flood fill. */
function wiring(problem: Problem, placements: readonly Placement[], plan: StripPlan) {
  const conductor = (item: number, at: { x: number; y: number }): string | undefined => {
    const b = problem.items[item]!.footprint.breadboard
    const k = b?.blocks.findIndex((block) => {
      const i = (at.x - block.at.x) / b.pitch
      const j = (at.y - block.at.y) / b.pitch
      const whole = (v: number, n: number) => Math.abs(v - Math.round(v)) < 0.01 && v > -0.1 && v < n - 0.9
      return whole(i, block.columns) && whole(j, block.rows)
    })
    if (b === undefined || k === undefined || k < 0) return undefined
    const block = b.blocks[k]!
    if (block.strip === 'column') return `${item} block ${k} column ${Math.round((at.x - block.at.x) / b.pitch)}`
    const group = b.joined?.findIndex((g) => g.includes(k)) ?? -1
    return `${item} ${group < 0 ? `block ${k}` : `group ${group}`} row ${Math.round((at.y - block.at.y) / b.pitch)}`
  }
  const spot = (n: StripPlan['links'][0]['from']['node'], net: string): string => {
    // Screws and pads are one conductor a net: two ends of a pair do not touch.
    if (n.kind === 'exit') return `exit ${n.exit} ${net}`
    return conductor(n.item, n.pad.at) ?? seat(n.item, n.pad.pin) ?? `${n.item} ${n.pad.id} ${net}`
  }
  const seat = (item: number, pin: number | undefined): string | undefined => {
    const part = placements.find((p) => p.item === item)!
    const at = pin === undefined ? undefined : problem.items[item]!.footprint.plug?.pins[pin]?.at
    if (!at) return undefined
    for (const p of placements) {
      const c = conductor(p.item, { x: part.at.x + at.x - p.at.x, y: part.at.y + at.y - p.at.y })
      if (c !== undefined) return c
    }
    return undefined
  }
  const next = new Map<string, string[]>()
  for (const l of plan.links) {
    const [a, b] = [spot(l.from.node, l.net), spot(l.to.node, l.net)]
    next.set(a, [...(next.get(a) ?? []), b])
    next.set(b, [...(next.get(b) ?? []), a])
  }
  const reach = (from: string): Set<string> => {
    const seen = new Set([from])
    for (const s of seen) for (const t of next.get(s) ?? []) seen.add(t)
    return seen
  }
  return { spot, reach }
}

/** Every net is one conductor, no two are, and no contact is used twice or while covered. */
export function sound(problem: Problem, placements: readonly Placement[], plan: StripPlan): void {
  const { nets } = plan
  const { spot, reach } = wiring(problem, placements, plan)
  const at = new Map<string, string>()
  for (const net of nets) {
    const all = net.nodes.map((n) => spot(n, net.id))
    const touched = reach(all[0]!)
    for (const s of all) expect([net.id, touched.has(s)]).toEqual([net.id, true])
    for (const s of touched) {
      expect([s, at.get(s) ?? net.id]).toEqual([s, net.id])
      at.set(s, net.id)
    }
  }
  // Rails by their place across the board, whether or not their groups are known to be one; and nothing by a stranger's pin.
  const rail = new Map<string, string>()
  for (const l of plan.links) {
    for (const c of [l.from.contact, l.to.contact]) {
      if (!c) continue
      const place = `${c.board} ${c.own.y}`
      if (c.strip.rail) {
        expect([place, rail.get(place) ?? l.net]).toEqual([place, l.net])
        rail.set(place, l.net)
      }
      const { nodes } = nets.find((n) => n.id === l.net)!
      for (const seat of c.strip.seats)
        expect(nodes.some((n) => n.kind === 'pad' && n.item === seat.item && n.pad.pin === seat.pin)).toBe(true)
    }
  }
  const fresh = boardsOf(layoutOf(problem, placements))
  const used = plan.links.flatMap((l) => [l.from.contact, l.to.contact]).flatMap((c) => c ?? [])
  const key = (c: { board: number; name: string }) => `${c.board} ${c.name}`
  expect(new Set(used.map(key)).size).toBe(used.length)
  const free = new Set(fresh.strips.flatMap((s) => [...s.free].map(key)))
  for (const c of used) expect(free.has(key(c))).toBe(true)
}

export const stops = (p: Pick<StripPlan, 'findings'>) =>
  p.findings.filter((f) => f.weight === 'stops').map((f) => f.topic)
