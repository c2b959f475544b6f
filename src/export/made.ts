/** What the placed items ask to be made in a deck: holes, slots and cut-outs that are not there yet (contract R5, §8). */
import type { Deck, Hole, MountHole, Placement, Point, Problem, Rect, Um } from '../../solver/index.ts'
import { mm, turnPoint, turnRect, um } from '../../solver/index.ts'
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

/** How far apart two centres or sides may be and still be the same one; how much wider a reused hole may be (R5). */
const SAME = mm(0.1)
const WIDER = mm(0.5)

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
        if (deck.holes.some((there) => reuses(hole, at, there))) continue
        const { diameter, screw } = hole
        holes.push({ item: item.id, at, diameter, ...(screw === undefined ? {} : { screw }) })
      }
    }
    if (mount.kind === 'drop-in') {
      const cutout = rect(mount.cutout)
      if (!deck.openings.some((o) => o.shape.kind === 'rect' && sameSides(cutout, o.shape))) {
        cuts.push({ name: called.cutout(item.id), rect: cutout })
      }
    }
    if (mount.kind === 'strap') {
      for (const slot of mount.slots) {
        const there = deck.openings.some((o) => o.strap && o.shape.kind === 'rect' && sameSides(rect(slot), o.shape))
        if (!there) cuts.push({ name: called.slot(item.id), rect: rect(slot) })
      }
    }
  }
  return { holes, cuts }
}

const reuses = (hole: MountHole, at: Point, there: Hole): boolean =>
  Math.hypot(at.x - there.at.x, at.y - there.at.y) <= SAME &&
  there.diameter >= hole.diameter &&
  there.diameter <= hole.diameter + WIDER

const sameSides = (a: Rect, b: Rect): boolean =>
  Math.abs(a.x - b.x) <= SAME &&
  Math.abs(a.y - b.y) <= SAME &&
  Math.abs(a.x + a.w - b.x - b.w) <= SAME &&
  Math.abs(a.y + a.h - b.y - b.h) <= SAME
