/** What the placed items ask to be made in a deck: holes, slots and cut-outs that are not there yet (contract R5, §8). */
import type { Deck, Placement, Point, Problem, Rect, Um } from '../../solver/index.ts'
import { coincides, serves, turnPoint, turnRect, um } from '../../solver/index.ts'
import { called } from './words.ts'

export interface NewHole {
  readonly item: string
  readonly at: Point
  readonly diameter: Um
  readonly screw?: string
}

export interface NewCut {
  readonly name: string
  readonly rect: Rect
}

/** Items marked `later` keep their place, and nothing is made for them. */
export function madeBy(problem: Problem, here: readonly Placement[], deck: Deck): { holes: NewHole[]; cuts: NewCut[] } {
  const holes: NewHole[] = []
  const cuts: NewCut[] = []
  for (const p of here) {
    const item = problem.items[p.item]!
    if (item.later) continue
    const { mount, width, depth } = item.footprint
    const rect = (r: Rect): Rect => {
      const turned = turnRect(r, width, depth, p.turn)
      return { ...turned, x: um(turned.x + p.at.x), y: um(turned.y + p.at.y) }
    }
    if (mount.kind === 'screw' || mount.kind === 'drop-in') {
      for (const hole of mount.holes) {
        const turned = turnPoint(hole.at, width, depth, p.turn)
        const at = { x: um(turned.x + p.at.x), y: um(turned.y + p.at.y) }
        if (deck.holes.some((there) => serves(there, at, hole.diameter))) continue
        const { diameter, screw } = hole
        holes.push({ item: item.id, at, diameter, ...(screw === undefined ? {} : { screw }) })
      }
    }
    if (mount.kind === 'drop-in') {
      const cutout = rect(mount.cutout)
      if (!deck.openings.some((o) => coincides(cutout, o.shape)))
        cuts.push({ name: called.cutout(item.id), rect: cutout })
    }
    if (mount.kind === 'strap') {
      for (const slot of mount.slots) {
        const there = deck.openings.some((o) => o.strap && coincides(rect(slot), o.shape))
        if (!there) cuts.push({ name: called.slot(item.id), rect: rect(slot) })
      }
    }
  }
  return { holes, cuts }
}
