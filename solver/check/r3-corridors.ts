/** R3: no other body in a corridor. */
import type { Finding } from '../result.ts'
import { prepare, rectOverlaps } from '../shapes.ts'
import { found, say } from '../words.ts'
import { corridorsOf } from './body.ts'
import type { Layout } from './layout.ts'
import { intrusion, name, overlapDepth, short } from './say.ts'

export function corridors(layout: Layout): Finding[] {
  const findings: Finding[] = []
  for (const owner of layout.bodies) {
    for (const { corridor, shape, z } of corridorsOf(owner)) {
      const region = prepare(shape)
      for (const other of layout.bodies) {
        if (other === owner) continue
        const height = intrusion(z[0], z[1], other.bottom, other.reach)
        if (height <= 0 || !rectOverlaps(region, other.rect)) continue
        const by = short(Math.min(height, overlapDepth(region, other.rect)))
        findings.push({
          rule: 'R3',
          items: [owner.item.id, other.item.id],
          text: found.inCorridor(name(other), by, say(corridor.id), name(owner), corridor.why),
          by,
        })
      }
    }
  }
  return findings
}
