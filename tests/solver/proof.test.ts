/** Proofs of whole solves, replayed by the program that shares no code with the search. */
import { describe, expect, it } from 'vitest'
import type { SolveResult } from '../../solver/result.ts'
import { solve } from '../../solver/solve.ts'
import { mm } from '../../solver/units.ts'
import { deck as deckOf, item, part, problem, rect } from './check-kit.ts'
import { randomDeck } from './oracle/decks.ts'
import { LONG, type RuleName, ruleMixes, small, tiny } from './oracle/mixes.ts'
import { proofOf, replayed, unproven } from './proof-kit.ts'

const RULES = Object.keys(ruleMixes) as RuleName[]

/** The first objectives, as far as both prove them; else the status. */
function settled(result: SolveResult, other: SolveResult): readonly unknown[] {
  if (!('objectives' in result) || !('objectives' in other)) return [result.status]
  const open = result.objectives.findIndex((o, k) => !o.proven || !other.objectives[k]!.proven)
  const all = open < 0 ? result.objectives : result.objectives.slice(0, open)
  return all.map(({ name, value }) => [name, name === 'balance' ? 'proven' : value])
}

describe('proofs of random decks', () => {
  for (const [name, first, n] of [
    ['all rules at once', 60_000, LONG ? 2000 : 10],
    ['fine grids', 65_000, LONG ? 500 : 7],
    ['mainly one rule', 70_000, LONG ? 2000 : 14],
  ] as const)
    it(`${name}: ${n} decks`, { timeout: LONG ? 3_600_000 : 120_000 }, () => {
      const judged = new Map<string, number>()
      const trusted = new Map<string, number>()
      const sums = { learned: 0, deduced: 0, bounds: 0 }
      for (let seed = first; seed < first + n; seed++) {
        const mix = name.startsWith('all') ? tiny : name.startsWith('fine') ? small : ruleMixes[RULES[seed % 10]!]
        const deck = randomDeck(seed, mix)
        const options = { steps: LONG ? 20_000 : 2000 }
        const proof = proofOf(deck, options)
        const unheard = solve(deck, options)
        // to be listened to changes nothing, but that several decks are not asked one by one, where a try takes long (proof/README.md)
        if (!LONG || deck.decks.length < 2) expect(proof.result, `seed ${seed}`).toEqual(unheard)
        else expect(settled(proof.result, unheard), `seed ${seed}`).toEqual(settled(unheard, proof.result))
        const r = replayed(proof)
        expect(unproven(proof.result, r), `seed ${seed}`).toEqual([])
        for (const [k, v] of r.judged) judged.set(k, (judged.get(k) ?? 0) + v)
        for (const [k, v] of r.trusted) trusted.set(k, (trusted.get(k) ?? 0) + v)
        sums.learned += r.steps.learned
        sums.deduced += r.steps.deduced
        sums.bounds += r.bounds.length
      }
      if (process.env.DECKWRIGHT_SAY) console.log(name, sums, judged, trusted)
      expect(sums.learned).toBeGreaterThan(n)
      expect(sums.bounds).toBeGreaterThan(n)
      expect(judged.get('relation') ?? 0).toBeGreaterThan(n)
      expect(judged.get('map') ?? 0).toBeGreaterThan(n)
    })
})

it('a log can be read whatever optional items are worth', () => {
  const worth = [
    [1e7, Math.PI, Math.E, 0.003, 0.7, 1e7],
    [...Array.from({ length: 12 }, () => 1e9), 0.123456, 0.2, 0.7],
  ]
  for (const values of worth) {
    const items = values.map((value, k) => item(`i${k}`, part(30, 20), { required: false, value, decks: [0] }))
    const proof = proofOf(problem(items, { grid: mm(1), decks: [deckOf(rect(0, 0, 60, 40))] }), { steps: 4000 })
    expect(unproven(proof.result, replayed(proof))).toEqual([])
  }
})
