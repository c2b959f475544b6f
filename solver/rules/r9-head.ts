/** R9: a pan-tilt head swings free. */
import type { Footprint, Shape } from '../problem.ts'
import type { Body, Mode, Model } from '../search/model.ts'
import { innerRect, shapeApart } from '../search/round.ts'
import { movingRect, type StaticTest } from '../search/static-tests.ts'
import { bounds, moveShape, prepare, regionOverlaps, spanOverlaps, turnShape } from '../shapes.ts'
import { type Um, um } from '../units.ts'
import { deckCalled } from '../words.ts'
import { asked } from '../words-asked.ts'
import { deckShapes } from './deck.ts'
import type { Rule } from './index.ts'
import { bodyRect } from './r2-apart.ts'

export const head: Rule = {
  post(model) {
    model.bodies.forEach((a, i) => {
      for (const b of model.bodies.slice(i + 1)) {
        if (!a.footprint.head && !b.footprint.head) continue
        const [h, other] = a.footprint.head ? [a, b] : [b, a]
        const say = () =>
          other.footprint.head
            ? asked.swingBoth(h.item.id, farthest(h), other.item.id, farthest(other))
            : asked.swing(h.item.id, other.item.id, farthest(h))
        const guard = model.instance('R9', [h.item.id, other.item.id], say)
        clearOf(model, h, other, guard)
        if (other.footprint.head) clearOf(model, other, h, guard)
      }
      if (a.footprint.head) plates(model, a)
    })
  },
}

/** From the pivot, whichever way it looks. */
const farthest = ({ footprint: { head } }: Body): Um => um(Math.max(head!.reach, head!.tail))

const known = new WeakMap<Footprint, readonly Shape[]>()

/** What the moving parts pass over, in the footprint's frame at turn 0: the same shapes every time. */
function sweeps(h: Body): readonly Shape[] {
  let out = known.get(h.footprint)
  if (!out) {
    const { pivot, pan, reach, tail } = h.footprint.head!
    out = [
      { kind: 'sector', cx: pivot.x, cy: pivot.y, r: reach, from: pan[0] + 90, to: pan[1] + 90 },
      { kind: 'circle', cx: pivot.x, cy: pivot.y, r: tail },
    ]
    known.set(h.footprint, out)
  }
  return out
}

function clearOf(model: Model, h: Body, other: Body, guard: number): void {
  const z = h.footprint.head!.z
  const deckZ = (m: Mode) => model.problem.decks[m.deck]!.z
  const above = other.footprint.above
  const hits = (mo: Mode, mh: Mode) => {
    const lo = deckZ(mh) + z[0]
    const hi = deckZ(mh) + z[1]
    if (above === 'open') return hi > mo.z0
    return mo.z0 < hi && lo < mo.z2 + above
  }
  for (const s of sweeps(h)) if (s.kind !== 'polygon') shapeApart(model, other, bodyRect, h, s, hits, guard)
}

/** Plates of all other decks, openings and all. */
function plates(model: Model, h: Body): void {
  const { problem } = model
  const z = h.footprint.head!.z
  deckShapes(problem).forEach((d, index) => {
    const meets = (m: Mode) => {
      const base = problem.decks[m.deck]!.z
      return index !== m.deck && base + z[0] < d.deck.z && d.deck.z - d.deck.thickness < base + z[1]
    }
    if (!h.modes.some(meets)) return
    const guard = model.instance('R9', [h.item.id, d.deck.id], () =>
      asked.swing(h.item.id, deckCalled(d.deck), farthest(h)),
    )
    model.addStatic(h, guard, (m): StaticTest | undefined => {
      if (!meets(m)) return undefined
      const turned = sweeps(h).map((s) => turnShape(s, h.footprint.width, h.footprint.depth, m.turn))
      const inner = turned.map((s) => innerRect(prepare(s)))
      const core = inner.map((r) => r && movingRect(r, (x, y, w, h) => spanOverlaps(d.outline, x, y, w, h, 0)))
      const boxes = turned.map((s) => bounds(prepare(s)))
      const plate = d.box
      return (xl, xu, yl, yu) => {
        const far = boxes.every(
          (b) =>
            xu + b.x + b.w <= plate.x ||
            xl + b.x >= plate.x + plate.w ||
            yu + b.y + b.h <= plate.y ||
            yl + b.y >= plate.y + plate.h,
        )
        if (far) return 1
        if (core.some((c) => c?.(xl, xu, yl, yu) === -1)) return -1
        if (xl !== xu || yl !== yu) return 0
        return turned.some((s) => regionOverlaps(prepare(moveShape(s, um(xl), um(yl))), d.outline)) ? -1 : 1
      }
    })
  })
}
