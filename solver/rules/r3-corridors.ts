/** R3: no other body in a corridor. */
import type { Body, Mode, Model } from '../search/model.ts'
import { shapeApart } from '../search/round.ts'
import { asked } from '../words.ts'
import type { Rule } from './index.ts'
import { bodyRect } from './r2-apart.ts'

export const corridors: Rule = {
  post(model) {
    model.bodies.forEach((a, i) => {
      for (const b of model.bodies.slice(i + 1)) {
        if (a.footprint.corridors.length + b.footprint.corridors.length === 0) continue
        const guard = model.instance('R3', [a.item.id, b.item.id], () => asked.corridors(a.item.id, b.item.id))
        keepOut(model, a, b, guard)
        keepOut(model, b, a, guard)
      }
    })
  },
}

/** `a` out of the corridors of `b`. */
function keepOut(model: Model, a: Body, b: Body, guard: number): void {
  for (const c of b.footprint.corridors) {
    const meets = (ma: Mode, mb: Mode) => ma.z0 < mb.z0 + c.z[1] && mb.z0 + c.z[0] < ma.z2
    shapeApart(model, a, bodyRect, b, c.shape, 0, meets, guard)
  }
}
