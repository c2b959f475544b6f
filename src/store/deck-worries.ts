/** What a plate allows and its maker hardly means: holes and openings that are not, or not wholly, in it, or that overlap. */
import { shapeToSolver } from '../../footprints/fields.ts'
import { discInside, prepare, type Region, regionOverlaps } from '../../solver/index.ts'
import { type Part, partsOf } from '../model/edit-deck.ts'
import type { Project } from '../model/index.ts'
import { offPlate } from '../model/off-deck.ts'
import { roundCut } from '../model/plates.ts'

/** Whether a hole, opening, lead or pass reaches over the plate's outline. Zones may. */
export function outsidePlate(project: Project, deck: string, part: Part, id: string): boolean {
  const plate = project.decks.find((d) => d.id === deck)
  const one = partsOf(project, part, deck).find((p) => p.id === id)
  if (!plate || !one || part === 'zones') return false
  const cut =
    'shape' in one
      ? { region: prepare(shapeToSolver(one.shape)) }
      : roundCut(one.at, ('diameter' in one && one.diameter) || 0)
  return offPlate(cut, prepare(shapeToSolver(plate.outline)), deck) !== undefined
}

/** How wide a lead or a pass is drawn that has no opening of its own, mm. */
export const DRAWN = 3

/** Something that is cut or drilled in a deck. */
interface Cut {
  readonly part: Part
  readonly id: string
  readonly region: Region
}

/** All that is open in a deck. `bare`: the diameter to be taken for leads and passes that have no opening of their own; 0 = none. */
export function cutsIn(project: Project, deck: string, bare = 0): readonly Cut[] {
  const round = (part: 'holes' | 'exits' | 'passes'): Cut[] =>
    partsOf(project, part, deck).flatMap(({ id, at: [x, y], diameter = bare }) => {
      if (diameter === 0) return []
      return [{ part, id, region: prepare(shapeToSolver({ circle: [x, y, diameter / 2] })) }]
    })
  const openings = partsOf(project, 'openings', deck).map(
    ({ id, shape }): Cut => ({ part: 'openings', id, region: prepare(shapeToSolver(shape)) }),
  )
  return [...openings, ...round('holes'), ...round('exits'), ...round('passes')]
}

/**
 * No rule of a layout asks that what a plate has already is apart, and one inside another of a different kind is meant: a hole to begin a
 * cut-out at, a lead or a pass through a slot or a hole. All else that overlaps was hardly made to.
 */
const isMeant = (a: Cut, b: Cut): boolean => a.part !== b.part && (isWithin(a, b) || isWithin(b, a))
const isWithin = ({ region: { shape } }: Cut, b: Cut): boolean =>
  shape.kind === 'circle' && discInside(b.region, shape.cx, shape.cy, shape.r)

/** By kind and id (`overlapKey`) the ids of what each hole, opening, lead or pass of a deck overlaps without that being meant. */
export function overlapsIn(project: Project, deck: string): ReadonlyMap<string, readonly string[]> {
  const found = new Map<string, string[]>()
  const put = (one: Cut, other: Cut): void => {
    const key = overlapKey(one.part, one.id)
    found.set(key, [...(found.get(key) ?? []), other.id])
  }
  const cuts = cutsIn(project, deck)
  for (const [i, a] of cuts.entries())
    for (const b of cuts.slice(i + 1)) {
      if (!regionOverlaps(a.region, b.region) || isMeant(a, b)) continue
      put(a, b)
      put(b, a)
    }
  return found
}

export const overlapKey = (part: Part, id: string): string => `${part} ${id}`
