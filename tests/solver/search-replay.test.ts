/**
 * Nothing that the search deduces or learns may exclude a layout that the checker calls legal: each clause is held against
 * known layouts, with the literal of a threshold true only where the layout meets it. (An explanation that forgets a bound
 * shows here at once, and in a random solve hardly ever.)
 */
import { describe, expect, it } from 'vitest'
import { type DeckMix, plain } from './oracle/deck-mix.ts'
import { randomDeck } from './oracle/decks.ts'
import { LONG, type RuleName, ruleMixes, small, tiny } from './oracle/mixes.ts'
import { replayComplaints } from './replay-kit.ts'

const RULES = Object.keys(ruleMixes) as RuleName[]
const STEPS = LONG ? 3000 : 700
/** Decks on which bodies may be pushed into a corner, copies renamed and layouts mirrored. */
const rectangles: DeckMix = { ...plain, items: [3, 6], counted: 0.7, optional: 0.7, clearance: 0.5, boards: 0.3 }
const mixOf = (name: string, seed: number): DeckMix => {
  if (name.endsWith('coarse')) return tiny
  if (name.endsWith('fine')) return small
  return name.startsWith('mainly') ? ruleMixes[RULES[seed % 10]!] : rectangles
}

describe('what the search deduces, against known legal layouts', () => {
  for (const [name, first, n] of [
    ['all rules at once, coarse', 20_000, LONG ? 3000 : 9],
    ['all rules at once, fine', 30_000, LONG ? 1000 : 5],
    ['mainly one rule', 40_000, LONG ? 3000 : 14],
    ['plain rectangles, many alike', 50_000, LONG ? 3000 : 7],
  ] as const)
    it(`${name}: ${n} decks`, { timeout: LONG ? 3_600_000 : 120_000 }, () => {
      const counts = { layouts: 0, clauses: 0, learned: 0, tight: 0 }
      const complaints: string[] = []
      for (let seed = first; seed < first + n; seed++) {
        complaints.push(...replayComplaints(randomDeck(seed, mixOf(name, seed)), seed, STEPS, counts))
      }
      if (process.env.DECKWRIGHT_SAY) console.log(name, counts)
      expect(complaints.slice(0, 10)).toEqual([])
      // it must have had something to look at
      expect(counts.layouts).toBeGreaterThan(2 * n)
      expect(counts.tight).toBeGreaterThan(n)
      expect(counts.learned).toBeGreaterThan(n)
    })

  it('decks that once were wrong', { timeout: 120_000 }, () => {
    const counts = { layouts: 0, clauses: 0, learned: 0, tight: 0 }
    const once = [
      // positions up to the far edge where edge or size is off the grid; openings under the part of a body that overhangs
      { mix: ruleMixes.R2, seed: 40_001 },
      { mix: ruleMixes.R2, seed: 40_011 },
      { mix: tiny, seed: 22_279 },
      // a hole in a sector that a whole column of positions crosses
      { mix: tiny, seed: 60_228 },
      // a wire between copies of which each could be picked
      { mix: tiny, seed: 21_057 },
      { mix: tiny, seed: 21_224 },
      { mix: tiny, seed: 22_528 },
      { mix: small, seed: 30_614 },
      { mix: ruleMixes.R7, seed: 42_896 },
    ]
    for (const { mix, seed } of once)
      expect(replayComplaints(randomDeck(seed, mix), seed, 3000, counts), `seed ${seed}`).toEqual([])
    expect(counts.layouts).toBeGreaterThan(2 * once.length)
  })
})
