/** R8: what stands under another deck has the height it needs. */
import type { Finding } from '../result.ts'
import { rectInside, rectOverlaps } from '../shapes.ts'
import { found } from '../words.ts'
import type { Body } from './body.ts'
import type { Layout } from './layout.ts'
import { deckName, name } from './say.ts'

export function height(layout: Layout): Finding[] {
  return layout.bodies.flatMap((body) => layout.problem.decks.flatMap((_, deck) => underDeck(layout, body, deck)))
}

function underDeck(layout: Layout, body: Body, deck: number): Finding[] {
  const { problem } = layout
  const upper = problem.decks[deck]!
  if (upper.z <= problem.decks[body.deck]!.z) return []
  const plan = layout.decks[deck]!
  if (!rectOverlaps(plan.outline, body.rect)) return []
  if (plan.openings.some((o) => rectInside(o.region, body.rect))) return []
  const items = [body.item.id, upper.id]
  const { above } = body.item.footprint
  if (above === 'open') {
    const text = found.deckOverOpen(name(body), deckName(problem, deck))
    return [{ rule: 'R8', items, text, by: 0 }]
  }
  const over = body.reach + above - (upper.z - upper.thickness)
  if (over <= 0) return []
  const text = found.tooHigh(name(body), over, deckName(problem, deck))
  return [{ rule: 'R8', items, text, by: over }]
}
