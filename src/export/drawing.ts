/** The drawing that every writer starts from, in the file's frame: millimetres, y to the front. */
import type { Box, Contour, Line, Open } from './contour.ts'

export type Stroke =
  | { readonly kind: 'contour'; readonly contour: Contour; readonly dashed?: boolean }
  | { readonly kind: 'line'; readonly points: readonly (readonly [number, number])[] }
  | Open

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
