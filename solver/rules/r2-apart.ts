/** R2: bodies keep apart. */
import { roomOn } from '../bounds/room.ts'
import { FALSE } from '../search/engine.ts'
import type { Body, Mode, Model, Relations } from '../search/model.ts'
import { area } from '../search/search.ts'
import { type Rect, um } from '../units.ts'
import { asked } from '../words-asked.ts'
import type { Rule } from './index.ts'
import { standing } from './standing.ts'

export const bodyRect = (m: Mode): Rect => ({ x: um(0), y: um(0), w: um(m.w), h: um(m.h) })

// the same functions for most pairs: there can be a hundred thousand
const together = (ma: Mode, mb: Mode): boolean => ma.deck === mb.deck
const cross = (ma: Mode, mb: Mode): boolean => ma.deck !== mb.deck && ma.z0 < mb.z1 && mb.z0 < ma.z1
const meeting = (ma: Mode, mb: Mode): boolean => together(ma, mb) || cross(ma, mb)
const mayHost = (a: Body, b: Body): boolean => a.modes.some((m) => m.host >= 0) || b.modes.some((m) => m.host >= 0)

type Pairs = (ma: Mode, mb: Mode) => boolean

/** Who stands left of whom on one board is decided there (`on-board.ts`). */
const decided =
  (active: Pairs): Pairs =>
  (ma, mb) =>
    active(ma, mb) && (ma.host < 0 || ma.host !== mb.host)

/** A plug-in part and its own host are no pair. */
const hostPair = (a: Body, ma: Mode, b: Body, mb: Mode): boolean => ma.host === b.index || mb.host === a.index

function keep(model: Model, pair: Relations | undefined): void {
  if (pair?.a.footprint.mount.kind !== 'plug-in' || pair.b.footprint.mount.kind !== 'plug-in') return
  const of = model.gaps.get(pair.a) ?? new Map<Body, Relations>()
  model.gaps.set(pair.a, of.set(pair.b, pair))
}

/** What is asked of two bodies; on two decks they only must not overlap. */
export function apartText({ problem }: Model, a: Body, b: Body): string {
  const near = standing(a).some((ma) => standing(b).some((mb) => together(ma, mb)))
  return asked.apart(a.item.id, b.item.id, near ? problem.itemClearance : um(0))
}

export const apart: Rule = {
  post(model) {
    const gap = model.problem.itemClearance
    model.bodies.forEach((a, i) => {
      for (const b of model.bodies.slice(i + 1)) {
        const same = mayHost(a, b) ? (ma: Mode, mb: Mode) => together(ma, mb) && !hostPair(a, ma, b, mb) : together
        const ever = a.modes.some((ma) => b.modes.some((mb) => same(ma, mb) || cross(ma, mb)))
        if (!ever) continue
        const guard = model.instance('R2', [a.item.id, b.item.id], () => apartText(model, a, b))
        if (guard === FALSE) {
          model.loose.add(area(a) < area(b) ? a.index : b.index)
          continue
        }
        if (gap === 0) {
          const both = same === together ? meeting : (ma: Mode, mb: Mode) => same(ma, mb) || cross(ma, mb)
          keep(model, model.rectsApart(a, bodyRect, b, bodyRect, 0, both, guard, decided(both)))
        } else {
          keep(model, model.rectsApart(a, bodyRect, b, bodyRect, gap, same, guard, decided(same)))
          model.rectsApart(a, bodyRect, b, bodyRect, 0, cross, guard)
        }
      }
    })
    if (!model.explaining) roomOn(model)
  },
}
