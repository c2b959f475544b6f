/** What stands on a page before anything is written: lines, areas and words in millimetres, y upwards from the lower left. */
import { type Box, boxOf, type Contour, type Line } from './contour.ts'

/** `#rrggbb`. */
export type Colour = `#${string}`

export interface Look {
  readonly colour: Colour
  /** mm on the paper, whatever the scale. */
  readonly width: number
  /** On, off, … in mm on the paper. */
  readonly dash?: readonly number[]
}

export type Ink =
  | { readonly kind: 'contour'; readonly contour: Line; readonly look?: Look; readonly fill?: Colour }
  | { readonly kind: 'line'; readonly points: readonly (readonly [number, number])[]; readonly look: Look }
  | {
      readonly kind: 'text'
      /** Left end of the baseline. */
      readonly x: number
      readonly y: number
      /** Height of the font, mm. */
      readonly size: number
      readonly text: string
      readonly colour?: Colour
      /** A quarter turn anticlockwise: the text runs upwards. */
      readonly up?: boolean
    }
  /** Drawn in a frame of its own: scaled, turned a quarter anticlockwise if `turned`, moved to `at`; `clip` is in that frame. */
  | {
      readonly kind: 'group'
      readonly at: readonly [number, number]
      readonly scale: number
      readonly turned?: boolean
      readonly clip?: Box
      readonly inks: readonly Ink[]
    }

/** One sheet of paper, mm. */
export interface Page {
  readonly width: number
  readonly height: number
  readonly inks: readonly Ink[]
}

/** Okabe & Ito 2008, by role. */
export const colours = {
  cut: '#d55e00',
  drill: '#0072b2',
  existing: '#767676',
  mark: '#009e73',
  register: '#cc79a7',
  ink: '#000000',
  faint: '#9a9a9a',
  here: '#f0e442',
  paper: '#ffffff',
} as const satisfies Record<string, Colour>

export const boxContour = (b: Box): Contour => rectFrom(b.x0, b.y0, b.x1 - b.x0, b.y1 - b.y0)

export const rectFrom = (x: number, y: number, w: number, h: number): Contour => ({
  kind: 'path',
  points: [
    { x, y, bulge: 0 },
    { x: x + w, y, bulge: 0 },
    { x: x + w, y: y + h, bulge: 0 },
    { x, y: y + h, bulge: 0 },
  ],
})

/** The smallest box around several; undefined around nothing. */
export function around(boxes: readonly Box[]): Box | undefined {
  const [first, ...rest] = boxes
  if (!first) return undefined
  return rest.reduce(
    (a, b) => ({
      x0: Math.min(a.x0, b.x0),
      y0: Math.min(a.y0, b.y0),
      x1: Math.max(a.x1, b.x1),
      y1: Math.max(a.y1, b.y1),
    }),
    first,
  )
}

export const grown = (b: Box, by: number): Box => ({ x0: b.x0 - by, y0: b.y0 - by, x1: b.x1 + by, y1: b.y1 + by })

export const touch = (a: Box, b: Box): boolean => a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1

/** Where an ink may leave a mark; words are taken as wide as the widest letters could make them. */
export function boxOfInk(ink: Ink): Box {
  switch (ink.kind) {
    case 'contour':
      return grown(boxOf(ink.contour), ink.look ? ink.look.width / 2 : 0)
    case 'line':
      return grown(around(ink.points.map(([x, y]) => ({ x0: x, y0: y, x1: x, y1: y })))!, ink.look.width / 2)
    case 'text': {
      const long = ink.size * [...ink.text].length * 1.2
      const { x, y, size } = ink
      return ink.up
        ? { x0: x - size, y0: y, x1: x + size * 0.3, y1: y + long }
        : { x0: x, y0: y - size * 0.3, x1: x + long, y1: y + size }
    }
    case 'group': {
      const inner = ink.clip ?? around(ink.inks.map(boxOfInk)) ?? { x0: 0, y0: 0, x1: 0, y1: 0 }
      const [x, y] = ink.at
      const s = ink.scale
      return ink.turned
        ? { x0: x - inner.y1 * s, y0: y + inner.x0 * s, x1: x - inner.y0 * s, y1: y + inner.x1 * s }
        : { x0: x + inner.x0 * s, y0: y + inner.y0 * s, x1: x + inner.x1 * s, y1: y + inner.y1 * s }
    }
  }
}
