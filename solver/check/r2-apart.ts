/** R2: bodies keep apart. */
import type { Finding } from '../result.ts'
import { rectsOverlap } from '../shapes.ts'
import { found } from '../words.ts'
import type { Body } from './body.ts'
import type { Layout } from './layout.ts'
import { deckName, intrusion, name } from './say.ts'

export function apart(layout: Layout): Finding[] {
  const { bodies } = layout
  return bodies.flatMap((a, i) => bodies.slice(i + 1).flatMap((b) => pair(layout, a, b)))
}

function pair(layout: Layout, a: Body, b: Body): Finding[] {
  if (a.host === b.index || b.host === a.index) return []
  const r = a.rect
  const q = b.rect
  const items = [a.item.id, b.item.id]
  const gap = Math.max(q.x - r.x - r.w, r.x - q.x - q.w, q.y - r.y - r.h, r.y - q.y - q.h)
  if (a.deck === b.deck) {
    const asked = layout.problem.itemClearance
    if (gap >= asked) return []
    const where = deckName(layout.problem, a.deck)
    const text =
      gap < 0 ? found.overlap(name(a), name(b), -gap, where) : found.tooNear(name(a), name(b), gap, where, asked)
    return [{ rule: 'R2', items, text, by: asked - gap }]
  }
  const height = intrusion(a.bottom, a.top, b.bottom, b.top)
  if (!rectsOverlap(r, q) || height <= 0) return []
  const [deckA, deckB] = [a, b].map(({ deck }) => deckName(layout.problem, deck)) as [string, string]
  const text = found.collide(name(a), deckA, name(b), deckB, height)
  return [{ rule: 'R2', items, text, by: Math.min(height, -gap) }]
}
