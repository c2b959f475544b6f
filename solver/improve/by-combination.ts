/** Settles a sum of few parts by asking which of them can be there together: what is ruled out there is so for every threshold, and with more parts too. */
import { deckByDeck } from '../decks.ts'
import type { Combination, Combinations } from '../search/combinations.ts'
import type { Around } from './around.ts'
import type { Pursuit } from './pursuit.ts'

/** The first tries for one combination are this short, in conflicts; each time round they are three times as long. */
export const FEW = 1000

/** `patience`: conflicts, at least, in a try for more than all that is left. */
export function* byCombination(
  p: Pursuit,
  around: Around,
  all: Combinations,
  patience: number,
): Generator<undefined, void> {
  const { model, search, best, clock } = p.by
  const { e } = model
  let most = FEW
  const decks = deckByDeck(model, clock.over)
  for (let round = 0; !p.isDone && !clock.over(); round++, most *= 3) {
    const tried = new Set<Combination>()
    for (;;) {
      const left = Math.max(p.value, all.most)
      if (left < p.bound) yield* p.attempt(left + 1, Math.max(patience, most))
      const one = all.next(p.value, tried)
      if (!one || clock.over()) break
      const there = all.within(one, best.placements)
      const aim = p.value + (there ? Math.ceil((one.most - p.value) / 2) : 1)
      const guard = p.ask(aim)
      // what the best layout does not have is sometimes found sooner far from it
      if (!there && round % 2 === 1) search.follow([])
      search.sparse = true
      const verdict = yield* p.look(guard, all.lits(one), most, there ? undefined : decks)
      search.sparse = false
      search.follow(best.placements)
      if (verdict === 'found') yield* around.rounds(4)
      else if (verdict === 'stopped') tried.add(one)
      else {
        const { core } = search
        e.keep(core.map((l) => e.not(l)))
        const threshold = core.includes(guard)
        if (threshold) p.keepAsking(aim, guard)
        all.ruleOut(core, threshold ? aim - 1 : Number.NEGATIVE_INFINITY)
      }
    }
    if (!p.isDone && !clock.over()) yield* around.rounds(8)
  }
}
