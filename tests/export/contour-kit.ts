/** Contours of the export tests: of corners `[x, y, bulge?]` in mm, and their areas. */
import { mm } from '../../solver/index.ts'
import { type Contour, contourOf, signedArea } from '../../src/export/contour.ts'

export const polygon = (...points: readonly (readonly [number, number, number?])[]): Contour =>
  contourOf({ kind: 'polygon', points: points.map(([x, y, bulge]) => ({ x: mm(x), y: mm(y), bulge: bulge ?? 0 })) })

export const area = (c: Contour): number => (c.kind === 'circle' ? Math.PI * c.r * c.r : Math.abs(signedArea(c.points)))
