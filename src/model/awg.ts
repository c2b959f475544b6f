/** What a file's `gauge` says: a size of AWG (ASTM B258), or the copper's cross-section. */
import type { Millimetre, SquareMillimetre } from './quantities.ts'

const THINNEST = 50

/** Diameter of the solid wire, mm: 0.127 mm of 36, 92 times as much of 0000, and 39 equal steps between (ASTM B258). */
export const diameterOf = (awg: number): Millimetre => 0.127 * 92 ** ((36 - awg) / 39)

/** Cross-section of copper, mm². */
export const areaOf = (awg: number): SquareMillimetre => (Math.PI * diameterOf(awg) ** 2) / 4

/** The number, hardly ever whole, that a wire of this cross-section would have: `areaOf` the other way round. */
const ofArea = (area: SquareMillimetre): number =>
  36 - (39 * Math.log(Math.sqrt((4 * area) / Math.PI) / 0.127)) / Math.log(92)

const isThere = (n: number): boolean => n >= 0 && n <= THINNEST
const isSize = (n: number): boolean => Number.isInteger(n) && isThere(n)

/**
 * A gauge as a file gives it: 22, "22", "AWG 22", "22 AWG"; or "0.5 mm²", which gives the number between the sizes that has just this
 * area. What says no gauge, such as "ribbon", gives none; nor does a bare 0.5, which is no size and does not say what it is.
 */
export function gaugeOf(given: number | string | undefined): number | undefined {
  if (given === undefined) return undefined
  if (typeof given === 'number') return isSize(given) ? given : undefined
  // ² and ㎟ come out as a plain 2
  const text = given.normalize('NFKC').trim()
  // not 00, which is no 0: ASTM B258 has it for the size over that
  const awg = /^(?:AWG\s*)?(0|[1-9]\d?)(?:\s*AWG)?$/i.exec(text)
  if (awg) return gaugeOf(Number(awg[1]))
  const area = /^(\d+(?:[.,]\d+)?|[.,]\d+)\s*(?:mm\s*\^?2|sq\.?\s*mm)$/i.exec(text)
  const n = area ? ofArea(Number(area[1]!.replace(',', '.'))) : undefined
  return n !== undefined && isThere(n) ? n : undefined
}

/** Whether a number is given, as such or in a text, that is read as no size. */
export const isNoSize = (given: unknown): boolean =>
  typeof given === 'number'
    ? !isSize(given)
    : typeof given === 'string' && /\d/.test(given.normalize('NFKC')) && gaugeOf(given) === undefined
