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
        if (duties(a, b, (body) => body.modes).length === 0) continue
        const guard = model.instance('R3', [a.item.id, b.item.id], () => text(a, b))
        keepOut(model, a, b, guard)
        keepOut(model, b, a, guard)
      }
    })
  },
}

type Modes = (body: Body) => readonly Mode[]

function text(a: Body, b: Body): string {
  const real = duties(a, b, standing)
  return asked.corridors(real.length > 0 ? real : duties(a, b, (body) => body.modes))
}

/** Of which corridors each may be at the heights. */
const duties = (a: Body, b: Body, modes: Modes): Corridors[] =>
  [duty(a, b, modes), duty(b, a, modes)].filter((d) => d.corridors.length > 0)

const duty = (a: Body, b: Body, modes: Modes): Corridors => ({
  item: a.item.id,
  owner: b.item.id,
  corridors: b.footprint.corridors.filter((c) => modes(a).some((ma) => modes(b).some((mb) => meeting(c)(ma, mb)))),
})

/** May it be at the heights of a corridor of the other? */
const meeting =
  (c: Corridor) =>
  (ma: Mode, mb: Mode): boolean =>
    ma.z0 < mb.z0 + c.z[1] && mb.z0 + c.z[0] < ma.z2

/** `a` out of the corridors of `b`. */
function keepOut(model: Model, a: Body, b: Body, guard: number): void {
  for (const c of b.footprint.corridors) shapeApart(model, a, bodyRect, b, c.shape, meeting(c), guard)
}
