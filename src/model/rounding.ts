/** Rounding for people where a figure must not say more than is so. */

/** To so many decimals, up; what is only an error of arithmetic is left away. */
export const roundUp = (value: number, places: number): number => Math.ceil(value * 10 ** places - 1e-6) / 10 ** places

/** A length, mm, to a tenth, rounded up: a wire that is a hair too short is too short. */
export const tenthsUp = (mm: number): string => roundUp(mm, 1).toFixed(1)

/** Decimals, from `places` on, with which two unlike figures look unlike; at most four. */
export function placesApart(a: number, b: number, places: number): number {
  let n = places
  while (n < 4 && a !== b && a.toFixed(n) === b.toFixed(n)) n++
  return n
}
