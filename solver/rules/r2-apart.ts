/** R2: bodies keep apart. */
import { roomOn } from '../bounds/room.ts'
import type { Body, Mode } from '../search/model.ts'
import { type Rect, um } from '../units.ts'
import type { Rule } from './index.ts'

export const bodyRect = (m: Mode): Rect => ({ x: um(0), y: um(0), w: um(m.w), h: um(m.h) })

/** A plug-in part and its own host are no pair. */
export const hostPair = (a: Body, ma: Mode, b: Body, mb: Mode): boolean => ma.host === b.index || mb.host === a.index

export const apart: Rule = {
  post(model) {
    const gap = model.problem.itemClearance
    model.bodies.forEach((a, i) => {
      for (const b of model.bodies.slice(i + 1)) {
        const same = (ma: Mode, mb: Mode) => ma.deck === mb.deck && !hostPair(a, ma, b, mb)
        const cross = (ma: Mode, mb: Mode) => ma.deck !== mb.deck && ma.z0 < mb.z1 && mb.z0 < ma.z1
        const ever = a.modes.some((ma) => b.modes.some((mb) => same(ma, mb) || cross(ma, mb)))
        if (!ever) continue
        const guard = model.instance(
          'R2',
          [a.item.id, b.item.id],
          () => `${a.item.id} and ${b.item.id} must stand apart`,
        )
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
