/** R2: bodies keep apart. */
import { TRUE } from '../search/engine.ts'
import { Linear } from '../search/linear.ts'
import type { Body, Mode, Model } from '../search/model.ts'
import { type Rect, um } from '../units.ts'
import { deckShapes } from './deck.ts'
import type { Rule } from './index.ts'

export const bodyRect = (m: Mode): Rect => ({ x: um(0), y: um(0), w: um(m.w), h: um(m.h) })

/** A plug-in part and its own host are no pair. */
export const hostPair = (a: Body, ma: Mode, b: Body, mb: Mode): boolean => ma.host === b.index || mb.host === a.index

export const apart: Rule = {
  post(model) {
    const gap = model.problem.itemClearance
    model.bodies.forEach((a, i) => {
      for (const b of model.bodies.slice(i + 1)) {
        const guard = model.instance(
          'R2',
          [a.item.id, b.item.id],
          () => `${a.item.id} and ${b.item.id} must stand apart`,
        )
        const same = (ma: Mode, mb: Mode) => ma.deck === mb.deck && !hostPair(a, ma, b, mb)
        const cross = (ma: Mode, mb: Mode) => ma.deck !== mb.deck && ma.z0 < mb.z1 && mb.z0 < ma.z1
        if (gap === 0) model.rectsApart(a, bodyRect, b, bodyRect, 0, (ma, mb) => same(ma, mb) || cross(ma, mb), guard)
        else {
          model.rectsApart(a, bodyRect, b, bodyRect, gap, same, guard)
          model.rectsApart(a, bodyRect, b, bodyRect, 0, cross, guard)
        }
      }
    })
    if (!model.explaining) roomOn(model)
  },
}

/** Implied by R1 and R2, and seen long before any two bodies meet: what stands on a deck has no more area than the deck. */
function roomOn(model: Model): void {
  const { problem, e } = model
  const gap = problem.itemClearance
  deckShapes(problem).forEach((d, index) => {
    const stand = model.bodies.flatMap((b) => {
      const modes = b.modes.filter((m) => m.deck === index)
      const out = Object.values(b.item.overhang).some((o) => o > 0)
      if (modes.length === 0 || b.seating || b.footprint.mount.kind === 'plug-in' || out) return []
      const coef = (b.footprint.width + gap) * (b.footprint.depth + gap)
      return [{ lit: e.not(model.group(b, modes)), coef }]
    })
    const room = (d.box.w - 2 * problem.edgeClearance + gap) * (d.box.h - 2 * problem.edgeClearance + gap)
    const sum = stand.reduce((n, t) => n + t.coef, 0)
    if (sum > room) new Linear(e, stand, [], sum - room, TRUE)
  })
}
