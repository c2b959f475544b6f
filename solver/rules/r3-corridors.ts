/** R3: no other body in a corridor. */
import type { Corridor } from '../problem.ts'
import type { Body, Mode, Model } from '../search/model.ts'
import { shapeApart } from '../search/round.ts'
import { asked, type Corridors } from '../words-asked.ts'
import type { Rule } from './index.ts'
import { bodyRect } from './r2-apart.ts'
import { standing } from './standing.ts'

export const corridors: Rule = {
  post(model) {
    model.bodies.forEach((a, i) => {
      for (const b of model.bodies.slice(i + 1)) {
        if (a.footprint.corridors.length + b.footprint.corridors.length === 0) continue
        const guard = model.instance('R3', [a.item.id, b.item.id], () => text(a, b))
        keepOut(model, a, b, guard)
        keepOut(model, b, a, guard)
      }
    })
  },
}

const text = (a: Body, b: Body): string =>
  asked.corridors([duty(a, b), duty(b, a)].filter((d) => d.corridors.length > 0))

const duty = (a: Body, b: Body): Corridors => ({
  item: a.item.id,
  owner: b.item.id,
  corridors: b.footprint.corridors.filter((c) =>
    standing(a).some((ma) => standing(b).some((mb) => meeting(c)(ma, mb))),
  ),
})

/** May it be at the heights of a corridor of the other? */
const meeting =
  (c: Corridor) =>
  (ma: Mode, mb: Mode): boolean =>
    ma.z0 < mb.z0 + c.z[1] && mb.z0 + c.z[0] < ma.z2

/** `a` out of the corridors of `b`. */
function keepOut(model: Model, a: Body, b: Body, guard: number): void {
  for (const c of b.footprint.corridors) shapeApart(model, a, bodyRect, b, c.shape, 0, meeting(c), guard)
}
