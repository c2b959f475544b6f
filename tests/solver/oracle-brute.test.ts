/** The public solve against brute force on tiny decks with all rules: status, every objective, and every conflict's members. */
import { describe, expect, it } from 'vitest'
import { brute } from './oracle/brute.ts'
import { answerComplaints, bruteStage, conflictVerdict, trySolve } from './oracle/compare.ts'
import { randomDeck } from './oracle/decks.ts'
import { LONG, type RuleName, ruleMixes, tiny } from './oracle/mixes.ts'

const LIMIT = 80_000

describe('solve against brute force', () => {
  const n = LONG ? 1500 : 22
  it(`agrees on ${n} tiny decks with all rules`, { timeout: LONG ? 3_600_000 : 180_000 }, async () => {
    const complaints: string[] = []
    const count = { optimal: 0, infeasible: 0, 'too large': 0 }
    for (let s = 20_000; s < 20_000 + n; s++) {
      const p = randomDeck(s, tiny)
      const a = brute(p, { limit: LIMIT })
      count[a.status]++
      const r = trySolve(p, { time: 20_000 })
      if (a.status === 'too large') continue
      for (const c of await answerComplaints(p, r, a.status === 'optimal', bruteStage(p, LIMIT)))
        complaints.push(`seed ${s}: ${c}`)
    }
    expect(complaints).toEqual([])
    expect(count.optimal).toBeGreaterThan(n / 4)
    expect(count.infeasible).toBeGreaterThan(n / 6)
    expect(count['too large']).toBeLessThan(n / 3)
  })

  it('gives conflicts of which every member is needed, one rule at a time and all together', {
    timeout: LONG ? 3_600_000 : 180_000,
  }, () => {
    const complaints: string[] = []
    const members = new Map<string, number>()
    let proven = 0
    let large = 0
    const rules = Object.keys(ruleMixes) as RuleName[]
    const each = LONG ? 400 : 3
    // some rules seldom decide by themselves: until they have, and the short run begins shortly before
    const late: Partial<Record<RuleName, number>> = LONG ? {} : { R3: 178, R9: 24 }
    for (const [k, rule] of [...rules, undefined].entries()) {
      const from = (rule && late[rule]) ?? 0
      for (let s = from; s < from + each || (rule && !members.get(rule) && s < 600); s++) {
        const seed = 30_000 + s * 16 + k
        const p = randomDeck(seed, rule ? ruleMixes[rule] : tiny)
        const r = trySolve(p, { time: 20_000 })
        if (typeof r === 'string') complaints.push(`seed ${seed}, ${rule ?? 'all'}: ${r}`)
        if (typeof r === 'string' || r.status !== 'infeasible') continue
        if (!r.conflictIrreducible)
          complaints.push(`seed ${seed}, ${rule ?? 'all'}: not shrunk to the end without a limit`)
        const verdict = conflictVerdict(p, r.conflict, LIMIT)
        if (verdict === 'too large') large++
        else if (verdict === 'irreducible') {
          proven++
          for (const m of r.conflict) members.set(m.rule, (members.get(m.rule) ?? 0) + 1)
        } else complaints.push(`seed ${seed}, ${rule ?? 'all'}: ${verdict}`)
      }
    }
    expect(complaints).toEqual([])
    expect(proven).toBeGreaterThan(each)
    expect(large).toBeLessThan(proven)
    for (const rule of rules) expect(members.get(rule) ?? 0, rule).toBeGreaterThan(0)
  })
})
