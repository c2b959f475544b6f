/** R4: zones. */
import type { Zone } from '../problem.ts'
import type { Mode } from '../search/model.ts'
import { movingRect } from '../search/static-tests.ts'
import { prepare, spanOverlaps } from '../shapes.ts'
import { asked } from '../words-asked.ts'
import type { Rule } from './index.ts'
import { bodyRect } from './r2-apart.ts'

export const zones: Rule = {
  post(model) {
    for (const zone of model.problem.zones) {
      if (zone.kind === 'underside') continue
      const region = prepare(zone.shape)
      for (const body of model.bodies) {
        const binds = (m: Mode) => m.deck === zone.deck && reaches(m, zone, model.problem.decks[m.deck]!.z)
        if (!body.modes.some(binds)) continue
        const guard = model.instance('R4', [body.item.id, zone.id], () => asked.zone(body.item.id, zone))
        model.addStatic(body, guard, (m) =>
          binds(m) ? movingRect(bodyRect(m), (x, y, w, h) => spanOverlaps(region, x, y, w, h, 0)) : undefined,
        )
      }
    }
  },
}

/** Is the body at the zone's heights at all? */
function reaches(m: Mode, zone: Zone, deckZ: number): boolean {
  if (zone.kind === 'view') return m.z2 - deckZ > (zone.z ? zone.z[0] : 0)
  return !zone.z || (m.z0 - deckZ < zone.z[1] && zone.z[0] < m.z2 - deckZ)
}
