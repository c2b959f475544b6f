/**
 * What a flat picture is made of: filled areas and round-ended lines, in millimetres, y to the front. Dashes and hatches
 * are worked out here as lines, so that the SVG and the pixels cannot differ.
 */
import type { Point2, Ring } from './gltf-flat.ts'

/** `rings`: filled even-odd. A line of one point is a dot. Each mark is laid over what is there as one. */
export type Mark =
  | { readonly kind: 'area'; readonly rings: readonly Ring[]; readonly colour: string; readonly opacity: number }
  | {
      readonly kind: 'lines'
      readonly lines: readonly (readonly Point2[])[]
      readonly colour: string
      readonly width: number
      readonly opacity: number
    }

export interface Group {
  /** What a reader of the SVG is told about these marks. */
  readonly title?: string
  readonly marks: readonly Mark[]
}

export interface Picture {
  readonly title: string
  /** Millimetres; 0,0 is the lower left corner. */
  readonly width: number
  readonly height: number
  readonly paper: string
  readonly groups: readonly Group[]
}

export const area = (rings: readonly Ring[], colour: string, opacity = 1): Mark => ({
  kind: 'area',
  rings,
  colour,
  opacity,
})

export const lines = (all: readonly (readonly Point2[])[], colour: string, width: number, opacity = 1): Mark => ({
  kind: 'lines',
  lines: all,
  colour,
  width,
  opacity,
})

/** A ring as a line that ends where it begins. */
export const around = (ring: Ring): readonly Point2[] => (ring.length > 0 ? [...ring, ring[0]!] : [])

/** Parallel lines `step` apart at `degrees` from +x, where they lie inside rings (even-odd). They start from one common line. */
export function hatched(rings: readonly Ring[], degrees: number, step: number): Point2[][] {
  const angle = (degrees * Math.PI) / 180
  const [c, s] = [Math.cos(angle), Math.sin(angle)]
  // Turned so that the hatch lies along the first coordinate.
  const turned = rings.map((r) => r.map(([x, y]): Point2 => [x * c + y * s, y * c - x * s]))
  const heights = turned.flat().map((p) => p[1])
  const top = heights.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY)
  const low = heights.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY)
  const out: Point2[][] = []
  for (let k = Math.ceil(low / step); k * step < top; k++) {
    const v = k * step
    const cuts = turned
      .flatMap((r) =>
        r.flatMap((a, i): number[] => {
          const b = r[(i + 1) % r.length]!
          return a[1] > v === b[1] > v ? [] : [a[0] + ((v - a[1]) / (b[1] - a[1])) * (b[0] - a[0])]
        }),
      )
      .sort((a, b) => a - b)
    for (let i = 0; i + 1 < cuts.length; i += 2) {
      const back = (u: number): Point2 => [u * c - v * s, u * s + v * c]
      out.push([back(cuts[i]!), back(cuts[i + 1]!)])
    }
  }
  return out
}
