/** Before a search: each body is put on each deck by itself, and where that alone leads to a contradiction, it is ruled out for good (failed literals). */
import { Learner } from './learn.ts'
import type { Model } from './model.ts'

/** At level 0. On one deck there is nothing to find that the search does not find as soon. */
export function probe(model: Model): void {
  const { e, problem, bodies } = model
  if (problem.decks.length < 2) return
  const learner = new Learner(e)
  if (!e.propagate()) e.ok = false
  for (const body of bodies)
    for (const deck of new Set(body.modes.map((m) => m.deck))) {
      const on = model.onDeck(body, deck)
      if (!e.ok) return
      if (e.isTrue(on) || e.isFalse(on)) continue
      e.decide(on)
      const learnt = e.propagate() ? undefined : learner.analyse(e.conflict)
      e.backTo(0)
      if (learnt) e.learn(learnt.lits, learnt.lbd)
      if (learnt === null || !e.propagate()) e.ok = false
    }
}
