/**
 * What is left of a plate once everything is cut out of it, for pictures: a cut over the edge is a notch, what is beside the plate is
 * nothing, and cuts that cross are one. The template draws each line as it is asked for (template.ts).
 */
import { prepare, regionInside, regionOverlaps, type Shape, um } from '../../solver/index.ts'
import { along, type Contour, contourOf, segmentsOf } from './contour.ts'
import { MergeError, merged, type Named, sharing } from './merge.ts'
import { inside } from './order.ts'

/** One piece. Filled even-odd it is the plate. */
export interface Left {
  readonly outline: Shape
  readonly holes: readonly Shape[]
}

/** Cuts that lie apart within the outline come back as they are; what cuts nothing is left out. */
export function leftOf(outline: Shape, cuts: readonly Shape[]): Left[] {
  const plate = prepare(outline)
  const real = cuts
    .map((shape) => ({ shape, region: prepare(shape) }))
    .filter(({ region }) => regionOverlaps(region, plate))
  const within = real.filter(({ region }) => regionInside(region, plate))
  const asTheyAre = [{ outline, holes: within.map(({ shape }) => shape) }]
  const contours = [outline, ...real.map(({ shape }) => shape)].map(contourOf)
  const apart =
    within.length === real.length &&
    !real.some((a, i) => real.some((b, k) => k > i && regionOverlaps(a.region, b.region))) &&
    sharing(contours).length === 0
  if (apart) return asTheyAre
  if (real.some(({ region }) => regionInside(plate, region))) return []
  try {
    return piecesOf(merged(contours.map((contour, i): Named => ({ name: '', contour, solid: i === 0 }))))
  } catch (error) {
    // No line could be told from its neighbour: what lies within the plate is still there.
    if (error instanceof MergeError) return asTheyAre
    throw error
  }
}

function piecesOf(lines: readonly Named[]): Left[] {
  const pieces = lines.filter((l) => l.solid).map(({ contour }) => ({ contour, holes: [] as Shape[] }))
  for (const { contour } of lines.filter((l) => !l.solid)) {
    pieces.find((p) => inside(p.contour, onLine(contour)))?.holes.push(shapeOf(contour))
  }
  return pieces.map(({ contour, holes }) => ({ outline: shapeOf(contour), holes }))
}

/** A point on a line that is no corner: corners may be where two pieces touch. */
function onLine(contour: Contour): { x: number; y: number } {
  if (contour.kind === 'circle') return { x: contour.cx + contour.r, y: contour.cy }
  return along(segmentsOf(contour.points)[0]!, 0.5)
}

function shapeOf(contour: Contour): Shape {
  const to = (v: number) => um(Math.round(v * 1000))
  if (contour.kind === 'circle') return { kind: 'circle', cx: to(contour.cx), cy: to(contour.cy), r: to(contour.r) }
  return { kind: 'polygon', points: contour.points.map(({ x, y, bulge }) => ({ x: to(x), y: to(y), bulge })) }
}
