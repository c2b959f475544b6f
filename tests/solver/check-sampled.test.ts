/**
 * The checker against a third way of deciding legality: sampled points and the polygon booleans of another library, on random layouts
 * of which many are near misses, a micrometre within or without what is allowed.
 */
import { describe, expect, it } from 'vitest'
import { check } from '../../solver/check/check.ts'
import type { Placement, Problem } from '../../solver/problem.ts'
import { type Turn, um } from '../../solver/units.ts'
import { disc, type Form, form } from './check-sampled-plan.ts'
import { cutsOf, SAMPLED, type Sampled, sampledRules, standOf } from './check-sampled-rules.ts'
import { randomDeck } from './oracle/decks.ts'
import { LONG, type RuleName, ruleMixes, small } from './oracle/mixes.ts'
import { type Rng, rng } from './oracle/random.ts'

type Box = Form['box']

/** What a body brings along and may be near something with: itself, its corridors, its holes, slots and cut-outs. */
function own(p: Problem, q: Placement, all: readonly Placement[]): Box[] {
  const s = standOf(p, q, all)
  const { x, y, w, h } = s.box
  const { corridors } = s.item.footprint
  const cuts = cutsOf(p, s).flatMap((c) => [c.grown(0).box, ...(c.land ? [c.land.box] : [])])
  return [[x, y, x + w, y + h], ...cuts, ...corridors.map((c) => s.put(form(c.shape)).box)]
}

/** Everything in the plan that it may come to lie against. */
function edges(p: Problem, deck: number, placements: readonly Placement[]): Box[] {
  const d = p.decks[deck]!
  return [
    form(d.outline).box,
    ...d.openings.map((o) => form(o.shape).box),
    ...d.holes.map((h) => disc(h.at.x, h.at.y, h.diameter / 2).box),
    ...p.zones.filter((z) => z.deck === deck).map((z) => form(z.shape).box),
    ...placements.flatMap((q) => own(p, q, placements)),
  ]
}

/** A layout without regard to any rule; bodies stand anywhere, or just at, in or off something. */
function anywhere(p: Problem, r: Rng): Placement[] {
  const out: Placement[] = []
  const order = [...p.items.keys()].sort((a, b) => plugs(p, a) - plugs(p, b))
  for (const item of order) {
    const { footprint: f, decks, turns } = p.items[item]!
    if (r.chance(0.35)) continue
    const turn: Turn = r.pick(turns)
    const hosts = out.filter((q) => p.items[q.item]!.footprint.breadboard && q.host === undefined)
    const plug = f.mount.kind === 'plug-in'
    if (plug && hosts.length === 0) continue
    const host = plug ? r.pick(hosts) : undefined
    const deck = host ? host.deck : r.pick(decks)
    const more = host ? { host: host.item } : {}
    const [w, h] = turn % 2 === 0 ? [f.width, f.depth] : [f.depth, f.width]
    const [x0, y0, x1, y1] = form(p.decks[deck]!.outline).box
    let x = r.int(Math.floor(x0), Math.max(Math.floor(x0), Math.ceil(x1 - w)))
    let y = r.int(Math.floor(y0), Math.max(Math.floor(y0), Math.ceil(y1 - h)))
    const all = edges(p, deck, out)
    const origin = { item, deck, at: { x: um(0), y: um(0) }, turn, ...more }
    const mine = own(p, origin, [...out, origin])
    const off = (): number =>
      r.pick([-1, 0, 0, 1]) + r.pick([0, 0, p.edgeClearance, p.itemClearance, p.minWeb, p.minWeb])
    const beside = (k: 0 | 1): number => {
      const [e, m] = [r.pick(all), r.pick(mine)]
      const [lo, hi, a, b] = [e[k], e[k + 2]!, m[k], m[k + 2]!]
      // on either side, within, or middle on middle (a hole in a hole that is there)
      const mid = (lo + hi - a - b) / 2 + r.pick([0, 70, 100, 101])
      return Math.round(r.pick([lo + off() - a, hi + off() - a, lo - off() - b, hi - off() - b, mid]))
    }
    if (r.chance(0.6)) x = beside(0)
    if (r.chance(0.6)) y = beside(1)
    out.push({ item, deck, at: { x: um(x), y: um(y) }, turn, ...more })
  }
  return out
}

/** The same deck with stacks that reach just to some limit of height. */
function justSoHigh(p: Problem, r: Rng): Problem {
  const limits = [
    ...p.decks.flatMap((d) => [d.z, d.z - d.thickness]),
    ...p.zones.flatMap((z) => (z.z ? [p.decks[z.deck]!.z + z.z[0]] : [])),
    ...p.items.flatMap((i) => {
      const { z } = p.decks[i.decks[0]!]!
      const under = i.footprint.mount.kind === 'screw' ? i.footprint.mount.standoff : 0
      return [
        ...i.footprint.corridors.map((c) => z + under + c.z[0]),
        ...(i.footprint.head ? [z + i.footprint.head.z[0]] : []),
      ]
    }),
  ]
  const items = p.items.map((i) => {
    if (r.chance(0.4)) return i
    const { footprint: f } = i
    const under = f.mount.kind === 'screw' ? f.mount.standoff : f.mount.kind === 'drop-in' ? -f.mount.below : 0
    const top = p.decks[r.pick(i.decks)]!.z + under + f.height + (f.above === 'open' ? 0 : f.above)
    const stack = r.pick(limits) - top + r.pick([-1, 0, 0, 1])
    return stack < 0 ? i : { ...i, stack: um(stack) }
  })
  return { ...p, items }
}

const plugs = (p: Problem, i: number): number => (p.items[i]!.footprint.mount.kind === 'plug-in' ? 1 : 0)

describe('the checker against sampled points and polygon booleans', () => {
  const n = LONG ? 5000 : 91
  it(`breaks the same rules in ${n} decks' layouts, near misses among them`, {
    timeout: LONG ? 3_600_000 : 180_000,
  }, () => {
    const count = (): Record<Sampled, number> => ({ R1: 0, R2: 0, R3: 0, R4: 0, R5: 0, R8: 0, R9: 0 })
    const [kept, broken, unsure] = [count(), count(), count()]
    let [legal, illegal] = [0, 0]
    for (let s = 0; s < n; s++) {
      const name = SAMPLED[s % SAMPLED.length]!
      const p = justSoHigh(randomDeck(s, s % 3 === 0 ? small : ruleMixes[name as RuleName]), rng(s))
      for (let k = 0; k < 4; k++) {
        const layout = anywhere(p, rng(10_000 * s + k))
        if (layout.length === 0) continue
        const theirs = new Set(check(p, layout).map((f) => f.rule))
        const mine = sampledRules(p, layout)
        for (const rule of SAMPLED) {
          if (mine[rule] === undefined) unsure[rule]++
          else {
            expect(theirs.has(rule), `seed ${s}, layout ${k}, ${rule}`).toBe(mine[rule])
            if (mine[rule]) broken[rule]++
            else kept[rule]++
          }
        }
        if (SAMPLED.every((rule) => mine[rule] === false)) legal++
        else illegal++
      }
    }
    for (const rule of SAMPLED) {
      expect(broken[rule], `${rule} broken`).toBeGreaterThan(n / 15)
      expect(kept[rule], `${rule} kept`).toBeGreaterThan(n / 4)
      expect(unsure[rule], `${rule} too close to tell`).toBeLessThan(n / 5)
    }
    expect(legal).toBeGreaterThan(n / 15)
    expect(illegal).toBeGreaterThan(n)
  })
})
