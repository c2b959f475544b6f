/** R4: bodies stay out of zones. Holes under `underside` zones are R5's. */
import type { Zone } from '../problem.ts'
import type { Finding } from '../result.ts'
import { prepare, rectOverlaps } from '../shapes.ts'
import { found, say } from '../words.ts'
import type { Body } from './body.ts'
import type { Layout } from './layout.ts'
import { intrusion, name, overlapDepth, short } from './say.ts'

export function zones(layout: Layout): Finding[] {
  return layout.problem.zones.flatMap((zone) => {
    if (zone.kind === 'underside') return []
    const region = prepare(zone.shape)
    return layout.bodies
      .filter((body) => body.deck === zone.deck && rectOverlaps(region, body.rect))
      .flatMap((body) => inZone(layout, zone, body, overlapDepth(region, body.rect)))
  })
}

function inZone(layout: Layout, zone: Zone, body: Body, plan: number): Finding[] {
  const deckTop = layout.problem.decks[zone.deck]!.z
  const low = body.bottom - deckTop
  const high = body.reach - deckTop
  const items = [body.item.id, zone.id]
  if (zone.kind === 'view') {
    const limit = zone.z?.[0] ?? 0
    if (high <= limit) return []
    const text = found.inView(name(body), high - limit, say(zone.id), zone.why)
    return [{ rule: 'R4', items, text, by: high - limit }]
  }
  const height = zone.z ? intrusion(zone.z[0], zone.z[1], low, high) : Number.POSITIVE_INFINITY
  if (height <= 0) return []
  const by = short(Math.min(plan, height))
  const text = (zone.kind === 'reserved' ? found.inReserved : found.inKeepOut)(name(body), by, say(zone.id), zone.why)
  return [{ rule: 'R4', items, text, by }]
}
