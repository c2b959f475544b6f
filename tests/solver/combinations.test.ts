/** Which parts of a sum can be there together: what a core rules out, what is asked next, and a deck that needs it. */
import { describe, expect, it } from 'vitest'
import { solve } from '../../solver/index.ts'
import { type Combination, Combinations, type Kind } from '../../solver/search/combinations.ts'
import { benchDecks } from '../bench/decks.ts'
import { aiming } from '../bench/problems.ts'
import { dice } from '../bench/random.ts'
import { problemOf } from '../published/project.ts'

/** Kinds whose k-th literal is 100 · kind + k. */
const kindsOf = (sizes: readonly (readonly [coef: number, most: number])[]): Kind[] =>
  sizes.map(([coef, most], k) => ({
    coef,
    lits: Array.from({ length: most }, (_, i) => 100 * k + i),
    count: (all) => all.filter((p) => p.item === k).length,
  }))

const BOARDS = kindsOf([
  [170, 4],
  [400, 2],
])

/** All that is still open above a value. */
function open(all: Combinations, value: number): Combination[] {
  const out: Combination[] = []
  for (let c = all.next(value, new Set()); c; c = all.next(value, new Set(out))) out.push(c)
  return out
}

describe('the combinations of a sum', () => {
  it('are all there are, each with what it comes to', () => {
    const all = Combinations.of(BOARDS, 528)!
    expect(all.most).toBe(528 + 4 * 170 + 2 * 400)
    expect(open(all, Number.NEGATIVE_INFINITY).map((c) => c.most)).toHaveLength(15)
    for (const { counts, most } of open(all, 0)) expect(most).toBe(528 + counts[0]! * 170 + counts[1]! * 400)
  })

  it('that are too many are not looked at one by one', () => {
    expect(Combinations.of(kindsOf([[1, 300]]), 0)).toBeUndefined()
    expect(Combinations.of([], 0)).toBeUndefined()
  })

  it('say by one literal a kind how many there must be', () => {
    const all = Combinations.of(BOARDS, 0)!
    const lits = open(all, 0).map((c) => [c.counts.join(), all.lits(c)] as const)
    expect(Object.fromEntries(lits)).toMatchObject({ '3,1': [2, 100], '0,2': [101], '4,0': [3] })
  })

  it('lose to a core what has as many or more of all it names, and nothing else', () => {
    const d = dice(7)
    for (let n = 0; n < 200; n++) {
      const sizes = Array.from({ length: d.whole(1, 3) }, () => [d.whole(1, 50), d.whole(1, 3)] as const)
      const all = Combinations.of(kindsOf(sizes), 0)!
      const left = new Map(open(all, -1).map((c) => [c, c.most]))
      for (let r = 0; r < 3; r++) {
        const least = sizes.map(([, most]) => d.whole(0, most))
        const most = d.whole(0, 1) === 0 ? Number.NEGATIVE_INFINITY : d.whole(0, 60)
        // a core may name other literals too
        const core = [9999, ...least.flatMap((k, kind) => (k > 0 ? [100 * kind + k - 1] : []))]
        all.ruleOut(core, most)
        for (const [c, had] of left)
          left.set(c, c.counts.every((k, kind) => k >= least[kind]!) ? Math.min(had, most) : had)
      }
      for (const [c, most] of left) expect(c.most).toBe(most)
      expect(all.most).toBe(Math.max(...left.values()))
      const value = d.whole(0, 80)
      expect(new Set(open(all, value))).toEqual(new Set([...left].filter(([, most]) => most > value).map(([c]) => c)))
    }
  })

  it('are asked for where either answer settles most', () => {
    const all = Combinations.of(BOARDS, 0)!
    // of the 14 that are better than nothing: 6 have three 170 or more, or one 400 and one 170 …; found, it settles as many
    const { counts } = all.next(0, new Set())!
    const others = open(all, 0)
    const settled = (c: Combination) =>
      Math.min(
        others.filter((o) => o.counts.every((n, k) => n >= c.counts[k]!)).length,
        others.filter((o) => o.most <= c.most).length,
      )
    const best = Math.max(...others.map(settled))
    expect(settled(others.find((o) => o.counts.join() === counts.join())!)).toBe(best)
  })

  it('settle a robot of 20 items on two decks, with bounds that only ever fall and never below what is found', () => {
    const p = aiming(problemOf(benchDecks().find((b) => b.name === '20 on 2, 3')!.text), ['free-tie-points'])
    const bounds: number[] = []
    const values: number[] = []
    const r = solve(p, {
      steps: 60_000,
      onProgress: (q) => {
        if (q.bound !== undefined) bounds.push(q.bound)
        if (q.value !== undefined) values.push(q.value)
      },
    })
    if (r.status !== 'optimal') throw new Error(r.status)
    const best = r.figures.freeTiePoints
    expect(Math.max(...values)).toBe(best)
    expect(Math.min(...bounds)).toBe(best)
    expect(bounds).toEqual([...bounds].sort((a, b) => b - a))
    // proven without combinations before there were any, and by cutting the threshold's range from above
    expect(best).toBe(309)
  })
})
