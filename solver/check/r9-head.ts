/** R9: nothing reaches into what a pan-tilt head sweeps. */
import type { Finding } from '../result.ts'
import { prepare, rectOverlaps, regionOverlaps } from '../shapes.ts'
import { found } from '../words.ts'
import { type Body, sweepOf } from './body.ts'
import type { Layout } from './layout.ts'
import { deckName, intrusion, name, overlapDepth, short } from './say.ts'

export function heads(layout: Layout): Finding[] {
  return layout.bodies.flatMap((head) => sweepFindings(layout, head))
}

function sweepFindings(layout: Layout, head: Body): Finding[] {
  const { problem } = layout
  const sweep = sweepOf(problem, head)
  if (!sweep) return []
  const regions = sweep.shapes.map(prepare)
  const [low, high] = sweep.z
  const findings: Finding[] = []
  for (const other of layout.bodies) {
    const met = regions.filter((r) => rectOverlaps(r, other.rect))
    if (other === head || met.length === 0) continue
    const { above } = other.item.footprint
    const tall = intrusion(low, high, other.bottom, other.reach + (above === 'open' ? 0 : above))
    const items = [head.item.id, other.item.id]
    if (tall > 0) {
      const by = short(Math.min(tall, Math.max(...met.map((r) => overlapDepth(r, other.rect)))))
      findings.push({
        rule: 'R9',
        items,
        text: found.inSweep(name(other), by, name(head)),
        by,
      })
    } else if (above === 'open' && high > other.bottom) {
      const text = found.sweepOverOpen(name(other), name(head))
      findings.push({ rule: 'R9', items, text, by: 0 })
    }
  }
  problem.decks.forEach((deck, d) => {
    if (d === head.deck) return
    const tall = intrusion(low, high, deck.z - deck.thickness, deck.z)
    if (tall <= 0 || !regions.some((r) => regionOverlaps(r, layout.decks[d]!.outline))) return
    const text = found.sweepInDeck(name(head), tall, deckName(problem, d))
    findings.push({ rule: 'R9', items: [head.item.id, deck.id], text, by: tall })
  })
  return findings
}
