/** How much of a deck its plan in the workshop shows. */
import { shapeToSolver } from '../../footprints/fields.ts'
import { partsOf } from '../model/edit-deck.ts'
import type { Project } from '../model/index.ts'
import { cutsIn, DRAWN } from './deck-worries.ts'
import { type Box, boxOf } from './outline.ts'

const inMm = ({ x, y, w, h }: Box): Box => ({ x: x / 1000, y: y / 1000, w: w / 1000, h: h / 1000 })

const round = (a: Box, b: Box): Box => {
  const [x, y] = [Math.min(a.x, b.x), Math.min(a.y, b.y)]
  return { x, y, w: Math.max(a.x + a.w, b.x + b.w) - x, h: Math.max(a.y + a.h, b.y + b.h) - y }
}

const apart = (a: Box, b: Box): boolean => a.x > b.x + b.w || b.x > a.x + a.w || a.y > b.y + b.h || b.y > a.y + a.h

/**
 * The box round the plate, and that round all that is to be seen and taken, mm: holes, openings, leads and passes wherever they are.
 * Zones may reach far, so that only one that is wholly off the plate counts.
 */
export function deckFrame(project: Project, deck: string): { readonly plate: Box; readonly all: Box } {
  const outline = project.decks.find((d) => d.id === deck)?.outline
  const plate = outline ? boxOf(shapeToSolver(outline)) : { x: 0, y: 0, w: 0, h: 0 }
  const cuts = cutsIn(project, deck, DRAWN).map(({ region }) => boxOf(region.shape))
  const zones = partsOf(project, 'zones', deck).map(({ shape }) => boxOf(shapeToSolver(shape)))
  const all = [...cuts, ...zones.filter((zone) => apart(zone, plate))].reduce(round, plate)
  return { plate: inMm(plate), all: inMm(all) }
}
