/** What is ruled out before a search begins: only what cannot be. */
import { describe, expect, it } from 'vitest'
import { compile } from '../../solver/compile.ts'
import { probe } from '../../solver/search/probe.ts'
import { Search } from '../../solver/search/search.ts'
import { benchDecks } from '../bench/decks.ts'
import { aiming } from '../bench/problems.ts'
import { problemOf } from '../published/project.ts'
import { type DeckMix, everything } from './oracle/deck-mix.ts'
import { randomDeck } from './oracle/decks.ts'
import { LONG } from './oracle/mixes.ts'
import { seeds } from './oracle/random.ts'

/** Two decks, every rule. */
const two: DeckMix = { ...everything, second: 1, items: [3, 6], body: [0.2, 0.6], cells: 12 }

/** Bodies and decks that a model does not leave together, by index. */
function ruledOut(problem: Parameters<typeof compile>[0], probed: boolean): string[] {
  const model = compile(problem, { interchange: false })
  model.e.propagate()
  if (probed) probe(model)
  return model.bodies.flatMap((b) =>
    [...new Set(b.modes.map((m) => m.deck))]
      .filter((d) => !model.e.ok || model.e.isFalse(model.onDeck(b, d)))
      .map((d) => `${b.index}@${d}`),
  )
}

describe('bodies tried on each deck', () => {
  it('are ruled out there only where a deck with them there has no layout', () => {
    let found = 0
    for (const seed of seeds(LONG ? 1500 : 40, 4711)) {
      const problem = aiming(randomDeck(seed, two), [])
      const known = ruledOut(problem, false)
      for (const one of ruledOut(problem, true)) {
        if (known.includes(one)) continue
        found++
        const [item, deck] = one.split('@').map(Number) as [number, number]
        // searched without
        const model = compile(problem, { interchange: false })
        const on = model.onDeck(model.bodies[item]!, deck)
        expect(new Search(model).run([on], () => false)).toBe('none')
      }
    }
    expect(found).toBeGreaterThan(5)
  })

  it('are ruled out on decks of the bench on which they have no room beside what must be there', () => {
    const problem = problemOf(benchDecks().find((b) => b.name === '30 on 3, 3')!.text)
    const board = problem.items.findIndex((i) => i.id === 'board')
    expect(ruledOut(problem, false)).not.toContain(`${board}@2`)
    expect(ruledOut(problem, true)).toContain(`${board}@2`)
  })
})
