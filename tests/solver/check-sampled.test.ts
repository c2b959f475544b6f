/**
 * The checker against a third way of deciding legality: sampled points and the polygon booleans of another library, on random layouts
 * of which many are near misses, a micrometre within or without what is allowed.
 */
import { describe, expect, it } from 'vitest'
import { check } from '../../solver/check/check.ts'
import type { Placement, Problem } from '../../solver/problem.ts'
import { type Turn, um } from '../../solver/units.ts'
import { form } from './check-sampled-plan.ts'
import { SAMPLED, type Sampled, sampledRules, standOf } from './check-sampled-rules.ts'
import { randomDeck } from './oracle/decks.ts'
import { LONG, type RuleName, ruleMixes, small } from './oracle/mixes.ts'
import { type Rng, rng } from './oracle/random.ts'

type Box = readonly [number, number, number, number]

/** Everything in the plan that a body may come to lie against. */
function edges(p: Problem, deck: number, placements: readonly Placement[]): Box[] {
  const d = p.decks[deck]!
  return [
    form(d.outline).box,
    ...d.openings.map((o) => form(o.shape).box),
    ...p.zones.filter((z) => z.deck === deck).map((z) => form(z.shape).box),
    ...placements.flatMap((q) => {
      const s = standOf(p, q, placements)
      const { x, y, w, h } = s.box
      return [[x, y, x + w, y + h] as const, ...s.item.footprint.corridors.map((c) => s.put(form(c.shape)).box)]
    }),
  ]
}

/** A layout without regard to any rule; bodies stand anywhere, or just at, in or off some edge. */
function anywhere(p: Problem, r: Rng): Placement[] {
  const out: Placement[] = []
  const order = [...p.items.keys()].sort((a, b) => plugs(p, a) - plugs(p, b))
  for (const item of order) {
    const { footprint: f, decks, turns } = p.items[item]!
    if (r.chance(0.15)) continue
    const turn: Turn = r.pick(turns)
    const hosts = out.filter((q) => p.items[q.item]!.footprint.breadboard && q.host === undefined)
    const plug = f.mount.kind === 'plug-in'
    if (plug && hosts.length === 0) continue
    const host = plug ? r.pick(hosts) : undefined
    const deck = host ? host.deck : r.pick(decks)
    const [w, h] = turn % 2 === 0 ? [f.width, f.depth] : [f.depth, f.width]
    const [x0, y0, x1, y1] = form(p.decks[deck]!.outline).box
    let x = r.int(Math.floor(x0), Math.max(Math.floor(x0), Math.ceil(x1 - w)))
    let y = r.int(Math.floor(y0), Math.max(Math.floor(y0), Math.ceil(y1 - h)))
    const all = edges(p, deck, out)
    const off = (): number => r.pick([-1, 0, 0, 1]) + r.pick([0, 0, p.edgeClearance, p.itemClearance, p.minWeb])
    if (r.chance(0.6)) {
      const e = r.pick(all)
      x = Math.round(r.pick([e[0] + off(), e[2] + off(), e[0] - w - off(), e[2] - w - off()]))
    }
    if (r.chance(0.6)) {
      const e = r.pick(all)
      y = Math.round(r.pick([e[1] + off(), e[3] + off(), e[1] - h - off(), e[3] - h - off()]))
    }
    const at = { item, deck, at: { x: um(x), y: um(y) }, turn }
    out.push(host ? { ...at, host: host.item } : at)
  }
  return out
}

const plugs = (p: Problem, i: number): number => (p.items[i]!.footprint.mount.kind === 'plug-in' ? 1 : 0)

describe('the checker against sampled points and polygon booleans', () => {
  const n = LONG ? 2500 : 70
  it(`breaks the same rules in ${n} decks' layouts, near misses among them`, {
    timeout: LONG ? 3_600_000 : 180_000,
  }, () => {
    const count = (): Record<Sampled, number> => ({ R1: 0, R2: 0, R3: 0, R4: 0, R5: 0, R8: 0, R9: 0 })
    const [kept, broken, unsure] = [count(), count(), count()]
    let [legal, illegal] = [0, 0]
    for (let s = 0; s < n; s++) {
      const name = SAMPLED[s % SAMPLED.length]!
      const p = randomDeck(s, s % 3 === 0 ? small : ruleMixes[name as RuleName])
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
