/** Words in pictures, in single-stroke letters, so that they look the same wherever the picture is opened. */

import { circle } from './contour.ts'
import { lineOf, type Point2, ringOf } from './gltf-flat.ts'
import { drawable, letters, lettersWidth } from './letters.ts'
import { area, around, lines, type Mark } from './picture-marks.ts'
import type { Pen } from './picture-plan.ts'

/** Height of capitals over the height of the font. */
const CAPITAL = 0.69

/** Signs that we have no letter for become a question mark. */
const shown = (text: string): string => [...text].map((c) => (drawable(c) ? c : '?')).join('')

export const wordWidth = (text: string, size: number): number => lettersWidth(shown(text), size)

/** A line of text that starts at (x, y) on its baseline; `size`: height of the font, mm. */
export function words(text: string, x: number, y: number, size: number, colour: string, weight = 0.09): Mark {
  return lines(
    letters(shown(text), x, y, size).map((s) => lineOf(s)),
    colour,
    size * weight,
  )
}

/** Lower left corner and size, mm. */
export interface Frame {
  readonly x: number
  readonly y: number
  readonly w: number
  readonly h: number
}

export const framesMeet = (a: Frame, b: Frame): boolean =>
  a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h

export interface Name {
  readonly text: string
  /** What the name covers. */
  readonly frame: Frame
  readonly size: number
  readonly upright: boolean
}

/** Shares of the room that a name leaves, tried one after the other. */
const SPOTS = [0.5, 0.25, 0.75, 0, 1]

/** A name inside a box, as large as fits up to the usual size, in the middle or where it is clear of `taken`. */
export function nameIn(text: string, box: Frame, taken: readonly Frame[], unit: number): Name {
  const one = wordWidth(text, 1)
  const room = (long: number, wide: number): number => Math.min(4.2 * unit, (long - 1) / one, (wide - 0.6) / CAPITAL)
  const [flat, upright] = [room(box.w, box.h), room(box.h, box.w)]
  const turned = upright > flat * 1.25
  const size = Math.max(turned ? upright : flat, 1.5 * unit)
  const [w, h] = turned ? [size * CAPITAL, one * size] : [one * size, size * CAPITAL]
  const frames = SPOTS.flatMap((v) =>
    SPOTS.map((u): Frame => {
      const inset = 0.4
      const slide = (all: number, own: number, t: number): number =>
        own + 2 * inset > all ? (all - own) / 2 : inset + (all - own - 2 * inset) * t
      return { x: box.x + slide(box.w, w, u), y: box.y + slide(box.h, h, v), w, h }
    }),
  )
  const frame = frames.find((f) => !taken.some((t) => framesMeet(f, t))) ?? frames[0]!
  return { text, frame, size, upright: turned }
}

/** The name with a halo that parts it from what it covers. */
export function nameMarks({ text, frame, size, upright }: Name, halo: string, colours: Pen['colours']): Mark[] {
  const put = ([u, v]: Point2): Point2 => (upright ? [frame.x + frame.w - v, frame.y + u] : [frame.x + u, frame.y + v])
  const strokes = letters(shown(text), 0, 0, size).map((s) => lineOf(s).map(put))
  return [lines(strokes, halo, size * 0.42, 0.85), lines(strokes, colours.ink, size * 0.1)]
}

/** A number in a ring. */
export function numberMarks(text: string, [x, y]: Point2, { colours, unit }: Pen): Mark[] {
  const ring = ringOf(circle(x, y, 2 * unit))
  const size = Math.min(3 * unit, (3 * unit) / wordWidth(text, 1))
  return [
    area([ring], colours.paper),
    lines([around(ring)], colours.wire, 0.25 * unit),
    words(text, x - wordWidth(text, size) / 2, y - (size * CAPITAL) / 2, size, colours.ink, 0.1),
  ]
}
