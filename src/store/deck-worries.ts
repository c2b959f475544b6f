/** What a plate allows and its maker hardly means: holes and openings that are not, or not wholly, in it. */
import { shapeToSolver } from '../../footprints/fields.ts'
import { containsPoint, mm, outlineOf, prepare } from '../../solver/index.ts'
import { type Part, partsOf } from '../model/edit-deck.ts'
import type { Project } from '../model/index.ts'

/** How many points of a circle or an arc are looked at. */
const AROUND = 24

/** Whether a hole, opening, lead or pass reaches over the plate's outline. Zones may. Looked at in corners and in points of arcs. */
export function outsidePlate(project: Project, deck: string, part: Part, id: string): boolean {
  const plate = project.decks.find((d) => d.id === deck)
  const one = partsOf(project, part, deck).find((p) => p.id === id)
  if (!plate || !one || part === 'zones') return false
  const region = prepare(shapeToSolver(plate.outline))
  const points =
    'shape' in one ? pointsOf(shapeToSolver(one.shape)) : around(one.at, ('diameter' in one && one.diameter) || 0)
  return points.some(([x, y]) => !containsPoint(region, mm(x), mm(y)))
}

function around([x, y]: readonly number[], diameter: number): (readonly [number, number])[] {
  if (diameter === 0) return [[x!, y!]]
  return Array.from({ length: AROUND }, (_, k) => {
    const a = (2 * Math.PI * k) / AROUND
    return [x! + (diameter / 2) * Math.cos(a), y! + (diameter / 2) * Math.sin(a)] as const
  })
}

function pointsOf(shape: ReturnType<typeof shapeToSolver>): (readonly [number, number])[] {
  if (shape.kind === 'circle') return around([shape.cx / 1000, shape.cy / 1000], (2 * shape.r) / 1000)
  return outlineOf(shape).map((edge) => [edge.x0 / 1000, edge.y0 / 1000] as const)
}
