/**
 * Lengths. Inside the program every length is a whole number of micrometres; only `mm()` and the file readers make one.
 */
declare const umBrand: unique symbol
/** A whole number of micrometres. */
export type Um = number & { readonly [umBrand]: 'um' }

/** Millimetres to whole micrometres (nearest; contract §1). `mm(2.54)` → `2540`. */
export const mm = (value: number): Um => Math.round(value * 1000) as Um

/** Micrometres to millimetres, exact to 0.001. `toMm(mm(2.54))` → `2.54`. */
export const toMm = (value: Um): number => value / 1000

/** The result of whole-number arithmetic on lengths, branded again. Never rounds: a fraction here is a bug. */
export const um = (value: number): Um => value as Um

/** Quarter turns anticlockwise. */
export type Turn = 0 | 1 | 2 | 3

export interface Point {
  readonly x: Um
  readonly y: Um
}

/** Lower-left corner and size. */
export interface Rect {
  readonly x: Um
  readonly y: Um
  readonly w: Um
  readonly h: Um
}

/** A point (u,v) of a `w` × `d` footprint after `turn` (contract §1): (u,v), (d−v,u), (w−u,d−v), (v,w−u). */
export function turnPoint(p: Point, w: Um, d: Um, turn: Turn): Point {
  switch (turn) {
    case 0:
      return p
    case 1:
      return { x: um(d - p.y), y: p.x }
    case 2:
      return { x: um(w - p.x), y: um(d - p.y) }
    case 3:
      return { x: p.y, y: um(w - p.x) }
  }
}

/** A rectangle of a `w` × `d` footprint after `turn`, still in the frame whose origin is the turned body's lower left. */
export function turnRect(r: Rect, w: Um, d: Um, turn: Turn): Rect {
  const a = turnPoint({ x: r.x, y: r.y }, w, d, turn)
  const b = turnPoint({ x: um(r.x + r.w), y: um(r.y + r.h) }, w, d, turn)
  return {
    x: um(Math.min(a.x, b.x)),
    y: um(Math.min(a.y, b.y)),
    w: um(Math.abs(a.x - b.x)),
    h: um(Math.abs(a.y - b.y)),
  }
}

/** Size of a `w` × `d` body after `turn`. */
export const turnedSize = (w: Um, d: Um, turn: Turn): { readonly w: Um; readonly h: Um } =>
  turn % 2 === 0 ? { w, h: d } : { w: d, h: w }
