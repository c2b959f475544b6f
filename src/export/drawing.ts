/** The drawing that every writer starts from, in the file's frame: millimetres, y to the front. */
import type { Um } from '../../solver/index.ts'
import type { Box, Contour, Line, Open } from './contour.ts'

export type Stroke =
  | { readonly kind: 'contour'; readonly contour: Contour; readonly dashed?: boolean }
  | { readonly kind: 'line'; readonly points: readonly (readonly [number, number])[] }
  | Open

/** The two lines of a cross over a point, its arms so long, mm. */
export function cross(x: number, y: number, arm: number): readonly Extract<Stroke, { kind: 'line' }>[] {
  const line = (dx: number, dy: number) =>
    ({
      kind: 'line',
      points: [
        [x - dx, y - dy],
        [x + dx, y + dy],
      ],
    }) as const
  return [line(arm, 0), line(0, arm)]
}

export interface Text {
  /** Left end of the baseline, mm. */
  readonly x: number
  readonly y: number
  /** Height of the font, mm. */
  readonly size: number
  readonly text: string
}

export interface Template {
  readonly title: string
  /** In the order of cutting, inside first; open only where tabs are left standing. */
  readonly cut: readonly Line[]
  readonly drill: readonly Contour[]
  readonly existing: readonly Contour[]
  readonly mark: readonly Stroke[]
  readonly notes: { readonly strokes: readonly Stroke[]; readonly texts: readonly Text[] }
  /** Whole millimetres around everything that is drawn. */
  readonly view: Box
}

/** All off by default. How they work together stands in this folder's README. */
export interface TemplateOptions {
  /** Full width of the cut, Um; 0 = off. */
  readonly kerf?: Um
  /** The plate exists: outline and openings are not made again. */
  readonly asMade?: boolean
  /** New holes are cut, not drilled; only then do they get kerf. */
  readonly laserHoles?: boolean
  /** Labels are single-stroke lines of `mark` instead of text of `notes`. */
  readonly marksAsPaths?: boolean
  /** Gaps that are left in each larger cut line; `width` of what stands, Um. */
  readonly tabs?: { readonly count: number; readonly width: Um }
}
