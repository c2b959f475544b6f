/** Clauses in one array, against the plainest record of the same: source of what is expected are the two lists kept here. */
import { describe, expect, it } from 'vitest'
import type { Learnt } from '../../solver/search/clause.ts'
import { ClauseStore, HEAD } from '../../solver/search/clause-store.ts'
import { rng } from './oracle/random.ts'

describe('the store of clauses', () => {
  it('keeps every clause and every list of watches, in order, through growth and compaction', () => {
    const d = rng(7)
    const store = new ClauseStore()
    store.reserve(5000)
    const lists = new Map<number, { name: number; other: number }[]>()
    const lits = new Map<number, number[]>()
    const name = new Map<number, number>()
    const learnts: Learnt[] = []
    const watched = (lit: number, entry: { name: number; other: number }) =>
      lists.set(lit, [...(lists.get(lit) ?? []), entry])
    const add = (count: number) => {
      for (let i = 0; i < count; i++) {
        const n = lits.size
        const list = Array.from({ length: d.int(2, 6) }, () => d.int(0, 300))
        const learnt = d.chance(0.5)
        const at = store.add(Int32Array.from(list), list.length, learnt ? learnts.length : -1)
        if (learnt) learnts.push({ at, size: list.length, lbd: 3, activity: n, dead: false, logged: undefined })
        lits.set(n, list)
        name.set(at, n)
        watched(list[0]!, { name: n, other: list[1]! })
        watched(list[1]!, { name: n, other: list[0]! })
      }
    }
    const same = () => {
      const wrong: number[] = []
      for (const [lit, entries] of lists) {
        const list = store.watches.listOf[lit]!
        const got = []
        for (let i = store.watches.start[list]!; i < store.watches.end[list]!; i += 2) {
          const at = store.watches.items[i]!
          const n = name.get(at)!
          if (`${store.all.subarray(at + HEAD, at + HEAD + store.all[at]!)}` !== `${lits.get(n)}`) wrong.push(n)
          got.push({ name: n, other: store.watches.items[i + 1]! })
        }
        if (JSON.stringify(got) !== JSON.stringify(entries)) wrong.push(lit)
      }
      expect(wrong).toEqual([])
    }
    add(2000)
    same()
    for (let round = 0; round < 3; round++) {
      // the rest goes; what stays changes its order
      const kept: Learnt[] = []
      const gone = new Set<number>()
      const was = new Map<Learnt, number>()
      for (const c of learnts) {
        if (d.chance(0.5)) {
          kept.unshift(c)
          was.set(c, name.get(c.at)!)
        } else {
          c.dead = true
          gone.add(name.get(c.at)!)
        }
      }
      const given = [...name].filter(([at]) => store.all[at + 1] === -1).map(([, n]) => n)
      store.compact(kept)
      learnts.length = 0
      learnts.push(...kept)
      name.clear()
      for (const c of kept) name.set(c.at, was.get(c)!)
      for (let at = 0, k = 0; k < given.length; at += HEAD + store.all[at]!)
        if (store.all[at + 1] === -1) name.set(at, given[k++]!)
      for (const [lit, entries] of lists) {
        lists.set(
          lit,
          entries.filter((e) => !gone.has(e.name)),
        )
      }
      kept.forEach((c, i) => {
        expect(store.all[c.at + 1]).toBe(i)
      })
      same()
      add(300)
      same()
    }
    expect(learnts.length).toBeGreaterThan(300)
  })
})
