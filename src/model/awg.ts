/** What a file's `gauge` says: sizes of AWG are whole numbers (ASTM B258). */

const THINNEST = 50

const isSize = (n: number): boolean => Number.isInteger(n) && n >= 0 && n <= THINNEST

/**
 * A gauge as a file gives it: 22, "22", "AWG 22", "22 AWG". What says no gauge, such as "ribbon", gives none; nor does 0.5, which is no
 * size: those who mean square millimetres would get a wire of fifty.
 */
export function gaugeOf(given: number | string | undefined): number | undefined {
  if (typeof given === 'number') return isSize(given) ? given : undefined
  const m = given === undefined ? null : /^\s*(?:AWG\s*)?(\d{1,2})(?:\s*AWG)?\s*$/i.exec(given)
  return m ? gaugeOf(Number(m[1])) : undefined
}

/** Whether a number is given, as such or as text, that is no size. */
export const isNoSize = (given: unknown): boolean =>
  typeof given === 'number' ? !isSize(given) : typeof given === 'string' && /^\s*\d+[.,]\d+\s*$/.test(given)
