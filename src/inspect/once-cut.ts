/**
 * What a layout cuts is no opening before it is cut, so that the rules of a legal layout ask nothing of it (contract R1 and R5); on the
 * deck as it will be they do. What stands on such a slot or cut-out, or has the land of a hole there, is told.
 */
import {
  type Body,
  type Cut,
  cutsOf,
  layoutOf,
  type Placement,
  type Problem,
  type Rect,
  rectsOverlap,
} from '../../solver/index.ts'
import type { Finding } from './report.ts'
import { onceCut as words } from './words.ts'

interface Gap {
  readonly body: Body
  readonly what: string
  readonly rect: Rect
  readonly strap: boolean
}

/** `placements`: a layout, legal or not. Of nothing that only `later` items will cut. */
export function onceCut(problem: Problem, placements: readonly Placement[]): Finding[] {
  const layout = layoutOf(problem, placements)
  const cuts = cutsOf(layout)
  const gaps = cuts.flatMap(({ body, what, form, made }): Gap[] =>
    !made || 'at' in form || body.item.later
      ? []
      : [{ body, what, rect: form, strap: body.item.footprint.mount.kind === 'strap' }],
  )
  return gaps.flatMap((gap) => [
    ...layout.bodies.filter((b) => covers(b, gap)).map((b) => covered(b, gap)),
    ...cuts.flatMap((cut) => bears(cut, gap)),
  ])
}

/** A slot for a strap lies under parts that stand; what is stuck down shuts it, and a cut-out leaves nothing to stand on. */
function covers(body: Body, { body: own, rect: r, strap }: Gap): boolean {
  const { kind } = body.item.footprint.mount
  if (body === own || body.deck !== own.deck || kind === 'plug-in' || (strap && kind !== 'adhesive')) return false
  return rectsOverlap(body.rect, r)
}

function covered(body: Body, gap: Gap): Finding {
  const items = [body.item.id, gap.body.item.id]
  return gap.strap
    ? { kind: 'slot-covered', topic: 'cut', weight: 'stops', items, text: words.slotCovered(items[0]!, gap.what) }
    : {
        kind: 'cut-out-covered',
        topic: 'cut',
        weight: 'worth-knowing',
        items,
        text: words.cutOutCovered(items[0]!, gap.what),
      }
}

/** The land of a hole that reaches into what is cut away. */
function bears({ body, what, form, hole }: Cut, { body: own, what: gap, rect: r }: Gap): Finding[] {
  if (!hole || !('at' in form) || body.deck !== own.deck) return []
  const { x, y } = form.at
  const [dx, dy] = [Math.max(r.x - x, x - r.x - r.w, 0), Math.max(r.y - y, y - r.y - r.h, 0)]
  const into = hole.land / 2 - Math.hypot(dx, dy)
  // to the checker's tolerance
  if (into <= 0.001) return []
  const items = [...new Set([body.item.id, own.item.id])]
  const text = words.landCut(what, gap, into / 1000)
  return [{ kind: 'land-cut', topic: 'cut', weight: 'worth-knowing', items, text }]
}
