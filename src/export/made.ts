/** What the placed items ask to be made in a deck: holes, slots and cut-outs that are not there yet (contract R5, §8). */
import { cutsOf, layoutOf, type Placement, type Point, type Problem, type Rect, type Um } from '../../solver/index.ts'
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

/** In a deck by its index. Items marked `later` keep their place, and nothing is made for them. */
export function madeBy(
  problem: Problem,
  placements: readonly Placement[],
  deck: number,
): { holes: NewHole[]; cuts: NewCut[] } {
  const holes: NewHole[] = []
  const cuts: NewCut[] = []
  for (const { body, form, made, hole } of cutsOf(layoutOf(problem, placements))) {
    if (!made || body.deck !== deck || body.item.later) continue
    const { id, footprint } = body.item
    if ('at' in form) {
      const { diameter, screw } = hole!
      holes.push({ item: id, at: form.at, diameter, ...(screw === undefined ? {} : { screw }) })
    } else {
      const name = footprint.mount.kind === 'strap' ? called.slot(id) : called.cutout(id)
      cuts.push({ name, rect: form })
    }
  }
  return { holes, cuts }
}
