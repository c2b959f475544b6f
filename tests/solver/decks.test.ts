/** Decks dealt out first, and each asked by itself what fits: the same answers as the search without it, and nothing ruled out that stands. */
import { describe, expect, it } from 'vitest'
import { check } from '../../solver/check/check.ts'
import { compile } from '../../solver/compile.ts'
import { deckByDeck } from '../../solver/decks.ts'
import { type Problem, solve } from '../../solver/index.ts'
import { Search } from '../../solver/search/search.ts'
import { wireEnds } from '../../solver/search/wire-ends.ts'
import { benchDecks } from '../bench/decks.ts'
import { aiming } from '../bench/problems.ts'
import { dice } from '../bench/random.ts'
import { problemOf } from '../published/project.ts'
import { type DeckMix, everything } from './oracle/deck-mix.ts'
import { randomDeck } from './oracle/decks.ts'
import { LONG } from './oracle/mixes.ts'

const never = () => false
const MANY = LONG ? 3000 : 120

/** Two decks, copies, and hardly any of it too large for them. */
const two: DeckMix = {
  ...everything,
  second: 1,
  counted: 0.5,
  items: [3, 6],
  body: [0.2, 0.55],
  grids: [1, 2, 3, 5],
  cells: 12,
}

/** A search that may leave everything out, but what is assumed. */
function searching(problem: Problem, staged: boolean, wired = false): Search & { readonly there: readonly number[] } {
  const model = compile(problem, { optional: true })
  const search = new Search(model)
  search.sparse = true
  if (staged) search.stage = deckByDeck(model, never, wired ? wireEnds(model) : [])
  return Object.assign(search, { there: model.bodies.map((b) => b.present) })
}

describe('decks asked one by one', () => {
  it('let through whatever the whole has room for, and rule out only what it has none for', () => {
    const seen = { found: 0, none: 0, stopped: 0 }
    const roll = dice(71)
    for (let seed = 0; seed < MANY; seed++) {
      const problem = randomDeck(310_000 + seed, two)
      if (problem.decks.length < 2) continue
      const [plain, staged] = [searching(problem, false), searching(problem, true, seed % 2 === 1)]
      // one after the other in the same search, so that what was ruled out for one is there for the next
      for (let round = 0; round < 4; round++) {
        const wanted = plain.there.flatMap((_, i) => (roll.whole(0, 9) < 4 + round ? [i] : []))
        const ask = (s: typeof plain) => {
          s.model.e.backTo(0)
          return s.run(
            wanted.map((i) => s.there[i]!),
            never,
          )
        }
        const verdict = ask(staged)
        expect(verdict, `${seed}: ${wanted}`).toBe(ask(plain))
        seen[verdict]++
        if (verdict === 'found') {
          const free = { ...problem, items: problem.items.map((i) => ({ ...i, required: false })) }
          expect(check(free, staged.placements()), `${seed}`).toEqual([])
        } else {
          // a core is refuted by a search that has learned nothing
          const core = wanted.filter((i) => staged.core.includes(staged.there[i]!))
          const fresh = searching(problem, false)
          const again = fresh.run(
            core.map((i) => fresh.there[i]!),
            never,
          )
          expect(again, `${seed}: core ${core} of ${wanted}`).toBe('none')
        }
      }
    }
    expect(Math.min(seen.found, seen.none)).toBeGreaterThan(MANY / 4)
  })

  it('take the same steps wherever they are interrupted, and end at a limit', () => {
    const tight = benchDecks().find((d) => d.name === '20 on 2, 4')!
    const problem = aiming(problemOf(tight.text), [])
    const most = { ...problem, items: problem.items.map((i) => (i.base === 'spare' ? { ...i, required: true } : i)) }
    const stops = [1e9, 7, 1].map((every) => {
      const model = compile(most)
      const search = new Search(model)
      search.stage = deckByDeck(model, never)
      let looks = 0
      let runs = 0
      let verdict = 'stopped'
      while (verdict === 'stopped' && search.steps < 6000) {
        verdict = search.run([], () => ++looks % every === 0, 3000, 6000)
        runs++
      }
      return { verdict, steps: search.steps, conflicts: model.e.conflicts, runs }
    })
    expect(stops[2]!.runs).toBeGreaterThan(20)
    const apart = stops.map(({ runs: _, ...rest }) => rest)
    expect(apart[1]).toEqual(apart[0])
    expect(apart[2]).toEqual(apart[0])
  })

  it('are not asked where there is one, where a proof is logged, or where no time is left', () => {
    const problem = problemOf(benchDecks()[0]!.text)
    expect(deckByDeck(compile(problem), never)).toBeDefined()
    expect(deckByDeck(compile(problem), () => true)).toBeUndefined()
    const one = { ...problem, decks: problem.decks.slice(0, 1), passes: [], items: [], wires: [], zones: [], exits: [] }
    expect(deckByDeck(compile(one), never)).toBeUndefined()
  })

  it.skipIf(!LONG)('prove what was not proven without it: four small boards more do not fit on three decks', () => {
    const tight = benchDecks().find((d) => d.name === '30 on 3, 3')!
    const result = solve(aiming(problemOf(tight.text), ['free-tie-points']), { time: 120_000 })
    expect(result).toMatchObject({ status: 'optimal', objectives: [{ value: 1041, bound: 1041 }] })
  })
})
