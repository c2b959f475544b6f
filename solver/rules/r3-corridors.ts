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

/** Of the corridors that they may meet; of any, where that is none and nothing binds. */
function text(a: Body, b: Body): string {
  const duties = (of: (body: Body, c: Corridor, owner: Body) => boolean) =>
    [duty(a, b, of), duty(b, a, of)].filter((d) => d.corridors.length > 0)
  const meet = (of: (b: Body) => readonly Mode[]) => (body: Body, c: Corridor, owner: Body) =>
    of(body).some((m) => of(owner).some((n) => meeting(c)(m, n)))
  const tries = [meet(standing), meet((body) => body.modes), () => true]
  return asked.corridors(tries.map(duties).find((d) => d.length > 0) ?? [])
}

const duty = (a: Body, b: Body, of: (body: Body, c: Corridor, owner: Body) => boolean): Corridors => ({
  item: a.item.id,
  owner: b.item.id,
  corridors: b.footprint.corridors.filter((c) => of(a, c, b)),
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
