/**
 * The oracles against one another and against the plain checker, and the mix of decks against triviality: each rule must decide
 * some of them, and each objective must be worth something.
 */
import { describe, expect, it } from 'vitest'
import { check } from '../../solver/check/check.ts'
import { figures } from '../../solver/check/figures.ts'
import type { ObjectiveName, Problem } from '../../solver/problem.ts'
import { brute } from './oracle/brute.ts'
import { freeStands, nothingOff, seatedStands } from './oracle/candidates.ts'
import { placementsOf } from './oracle/compare.ts'
import { cpSat } from './oracle/cpsat.ts'
import { randomDeck } from './oracle/decks.ts'
import { cost, costs, objectivesOf } from './oracle/measure.ts'
import { LONG, type RuleName, ruleMixes, tiny } from './oracle/mixes.ts'
import { rng } from './oracle/random.ts'
import { brokenIn, type Layout } from './oracle/rules.ts'
import { type Stand, tiesOf } from './oracle/stand.ts'

const RULES: readonly RuleName[] = ['R1', 'R2', 'R3', 'R4', 'R5', 'R6', 'R7', 'R8', 'R9', 'R10']

/** Any layout, most of them illegal. */
function scattered(p: Problem, seed: number): Layout {
  const r = rng(seed)
  const out: (Stand | undefined)[] = p.items.map((it, i) => {
    if (it.footprint.mount.kind === 'plug-in' || r.chance(0.2)) return undefined
    const list = freeStands(p, i, nothingOff)
    return list.length > 0 ? r.pick(list) : undefined
  })
  p.items.forEach((it, i) => {
    const hosts = out.filter((h): h is Stand => h !== undefined && tiesOf(p.items[h.item]!).length > 0)
    if (it.footprint.mount.kind !== 'plug-in' || hosts.length === 0) return
    const seats = seatedStands(p, i, r.pick(hosts))
    if (seats.length > 0) out[i] = r.pick(seats)
  })
  return out
}

describe('the oracle’s rules against the plain checker', () => {
  it('break the same rules on random layouts, and measure the same', { timeout: LONG ? 3_600_000 : 180_000 }, () => {
    const seen = new Map<string, number>()
    let legal = 0
    const n = LONG ? 4000 : 50
    for (let s = 0; s < n; s++) {
      const name = s % 2 === 0 ? undefined : RULES[s % 10]
      const p = randomDeck(s, name ? ruleMixes[name] : tiny)
      for (let k = 0; k < 12; k++) {
        const layout = scattered(p, 1000 * s + k)
        const mine = [...new Set(brokenIn(p, layout).map((key) => key.split('|')[0]!))].sort()
        const theirs = [...new Set(check(p, placementsOf(layout)).map((f) => f.rule as string))].sort()
        expect(mine, `seed ${s}, layout ${k}: ${brokenIn(p, layout).join(' ')}`).toEqual(theirs)
        for (const rule of mine) seen.set(rule, (seen.get(rule) ?? 0) + 1)
        if (mine.length === 0) legal++
        const f = figures(p, placementsOf(layout))
        if (!mine.includes('R6')) expect(f.freeTiePoints).toBe(-cost(p, layout, 'free-tie-points'))
        if (!mine.includes('R7')) expect(f.wireLength).toBe(cost(p, layout, 'wire-length'))
        expect(f.optionalValue).toBe(-cost(p, layout, 'optional-value'))
        if (p.chassis) expect(f.balance).toBeCloseTo(cost(p, layout, 'balance'), 3)
      }
    }
    expect(legal).toBeGreaterThan(n / 3)
    for (const rule of RULES) expect(seen.get(rule) ?? 0, rule).toBeGreaterThan(n / 12)
  })
})

describe('the mix of decks', () => {
  it('has feasible and infeasible ones, and every rule and objective decides some', {
    timeout: LONG ? 3_600_000 : 180_000,
  }, () => {
    const [n, each] = LONG ? [300, 300] : [23, 5]
    const status = new Map<string, number>()
    const decides = new Map<string, number>()
    const worth = new Map<ObjectiveName, number>()
    const orders = new Set<string>()
    for (let s = 0; s < n; s++) {
      const p = randomDeck(s, tiny)
      const a = brute(p, { limit: 60_000 })
      status.set(a.status, (status.get(a.status) ?? 0) + 1)
      if (a.status === 'too large') continue
      orders.add(objectivesOf(p).join())
      if (a.status === 'optimal')
        for (const [k, o] of objectivesOf(p).entries()) if (a.costs[k] !== 0) worth.set(o, (worth.get(o) ?? 0) + 1)
    }
    // A rule decides a deck when without it the answer is another one.
    for (const rule of RULES) {
      // some rules seldom decide by themselves: a few decks more until they have
      for (let s = 0; s < each || (s < (LONG ? 600 : 60) && (decides.get(rule) ?? 0) <= each / 20); s++) {
        const p = randomDeck(s, ruleMixes[rule])
        const a = brute(p, { limit: 60_000 })
        if (a.status === 'too large') continue
        const b = brute(p, { limit: 60_000, off: (key) => key.startsWith(`${rule}|`) && !key.endsWith('|required') })
        if (b.status === 'too large') continue
        const same =
          a.status === b.status &&
          (a.status !== 'optimal' || b.status !== 'optimal' || a.costs.every((v, k) => v === b.costs[k]))
        if (!same) decides.set(rule, (decides.get(rule) ?? 0) + 1)
      }
    }
    expect(status.get('optimal') ?? 0).toBeGreaterThan(n * 0.3)
    expect(status.get('infeasible') ?? 0).toBeGreaterThan(n * 0.15)
    expect(orders.size).toBeGreaterThan(8)
    for (const o of ['free-tie-points', 'optional-value', 'wire-length', 'balance'] as const)
      expect(worth.get(o) ?? 0, o).toBeGreaterThan(n / 20)
    for (const rule of RULES) expect(decides.get(rule) ?? 0, rule).toBeGreaterThan(each / 20)
  })
})

describe('brute force against CP-SAT', () => {
  const n = LONG ? 400 : 5
  it(`agree on status and every objective of ${n} tiny decks, with legal layouts`, {
    timeout: LONG ? 3_600_000 : 180_000,
  }, async () => {
    let compared = 0
    for (let s = 5000; compared < n; s++) {
      const p = randomDeck(s, tiny)
      const a = brute(p, { limit: 60_000 })
      if (a.status === 'too large') continue
      compared++
      const c = await cpSat(p)
      expect(c.status, `seed ${s}`).toBe(a.status)
      if (a.status !== 'optimal') continue
      a.costs.forEach((v, k) => {
        expect(c.costs[k]!, `seed ${s}, objective ${k}`).toBeCloseTo(v, 1)
        expect(costs(p, c.layout)[k]!, `seed ${s}, CP-SAT's layout, objective ${k}`).toBeCloseTo(v, 1)
      })
      expect(brokenIn(p, c.layout), `seed ${s}`).toEqual([])
      expect(check(p, placementsOf(a.layout)), `seed ${s}`).toEqual([])
    }
  })
})
