/** R8: what stands under another deck is low enough. */
import type { Body, Mode } from '../search/model.ts'
import { movingRect } from '../search/static-tests.ts'
import { spanInside, spanOverlaps } from '../shapes.ts'
import { um } from '../units.ts'
import { deckCalled } from '../words.ts'
import { asked } from '../words-asked.ts'
import { deckShapes } from './deck.ts'
import type { Rule } from './index.ts'
import { bodyRect } from './r2-apart.ts'
import { standing } from './standing.ts'

/** What it lacks where it lacks least. */
function least(body: Body, lacks: (m: Mode) => number): number {
  const short = (modes: readonly Mode[]) => modes.map(lacks).filter((v) => v > 0)
  const all = short(standing(body))
  return Math.min(...(all.length > 0 ? all : short(body.modes)))
}

export const height: Rule = {
  post(model) {
    const decks = deckShapes(model.problem)
    for (const body of model.bodies) {
      const above = body.footprint.above
      decks.forEach((d, index) => {
        /** What it lacks of height under this deck: without end where it must stay open above. */
        const lacks = (m: Mode): number => {
          const own = decks[m.deck]!.deck
          if (index === m.deck || d.deck.z <= own.z) return 0
          return above === 'open' ? Number.POSITIVE_INFINITY : m.z2 + above - (d.deck.z - d.deck.thickness)
        }
        const low = (m: Mode) => lacks(m) > 0
        if (!body.modes.some(low)) return
        const guard = model.instance('R8', [body.item.id, d.deck.id], () =>
          above === 'open'
            ? asked.openAbove(body.item.id, deckCalled(d.deck))
            : asked.tooHigh(body.item.id, um(least(body, lacks)), deckCalled(d.deck)),
        )
        const free = d.openings.map((o) => o.region)
        model.addStatic(body, guard, (m) => {
          if (!low(m)) return undefined
          const under = movingRect(bodyRect(m), (x, y, w, h) => spanOverlaps(d.outline, x, y, w, h, 0))
          // wholly under one opening is not under the deck; `bad` here = not inside, which is monotone too
          const opens = free.map((o) => movingRect(bodyRect(m), (x, y, w, h) => !spanInside(o, x, y, w, h, 0)))
          return (xl, xu, yl, yu) => {
            let best = under(xl, xu, yl, yu)
            for (const o of opens) {
              if (best === 1) return 1
              const r = o(xl, xu, yl, yu)
              if (r > best) best = r
            }
            return best
          }
        })
      })
    }
  },
}
