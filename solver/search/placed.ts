/** Between placements and a model: which mode is meant, and what stands. */
import type { Placement } from '../problem.ts'
import { um } from '../units.ts'
import { cornerOf, type Mode, type Model } from './model.ts'

/** That of a placement among these modes of one body; none where it is another's. */
export function modeAt(modes: readonly Mode[], { deck, turn, host = -1 }: Placement): Mode | undefined {
  return modes.find((m) => m.deck === deck && m.turn === turn && m.host === host)
}

/** The standing layout. Only after a search found one, before anything else. */
export function standingLayout(model: Model): Placement[] {
  const { e, bodies } = model
  return bodies.flatMap((b) => {
    if (!e.isTrue(b.present)) return []
    const { deck, turn, host } = model.modeOf(b)!
    const at = cornerOf(e, b)
    return [{ item: b.index, deck, at: { x: um(at.x), y: um(at.y) }, turn, ...(host >= 0 ? { host } : {}) }]
  })
}
