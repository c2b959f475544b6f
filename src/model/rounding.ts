/** Rounding for people where a figure must not say more than is so, and all ways to write one. */

/** To so many decimals, up; what is only an error of arithmetic is left away. */
export const roundUp = (value: number, places: number): number => Math.ceil(value * 10 ** places - 1e-6) / 10 ** places

/** The same, down. */
export const roundDown = (value: number, places: number): number => -roundUp(-value, places)

/** So many decimals, and no minus before nothing. */
export const fixed = (value: number, places: number): string => value.toFixed(places).replace(/^-(0\.?0*)$/, '$1')

/** At most so many decimals, no trailing zeros. */
export const trimmed = (value: number, places = 1): string => {
  const text = fixed(value, places)
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text
}

/** A number as somebody gave it, without errors of arithmetic. */
export const exactly = (value: number): string => String(Number(value.toPrecision(12)))

/** A length, mm, to a tenth, rounded up: a wire that is a hair too short is too short. */
export const tenthsUp = (mm: number): string => fixed(roundUp(mm, 1), 1)

const MOST_PLACES = 4

/** Two figures that differ by less are the same: so much may be an error of arithmetic. */
export const SAME = 1e-7
/** With so many decimals two that differ by more look unlike. */
const ALL_PLACES = 7

/** Decimals, from `places` on, with which two unlike figures look unlike. */
export function placesApart(a: number, b: number, places: number): number {
  let n = places
  while (n < ALL_PLACES && a !== b && fixed(a, n) === fixed(b, n)) n++
  return n
}

/**
 * Decimals with which what a lead needs, rounded up, and what there is of it, rounded down, show whether it reaches; mm of whole
 * micrometres, so three always do.
 */
export function placesOfNeed(needed: number, there: number): number {
  const reaches = needed <= there
  const readsSo = (n: number): boolean => roundUp(needed, n) <= roundDown(there, n)
  let n = 1
  while (n < 3 && readsSo(n) !== reaches) n++
  return n
}

/** Which way a figure is rounded: to where it is worse. */
export type Worse = 'up' | 'down'

/**
 * A figure beside its limit: rounded to where it is worse, with as many decimals (four at most) as show on which side of the limit
 * it is. One that is on the wrong side never reads as the limit does, however little that is; one that is not never reads as if it were,
 * however many decimals the limit has: it reads as the limit then.
 */
export function beside(worse: Worse, value: number, limit: number, places = 1): string {
  if (Math.abs(value - limit) <= SAME) return exactly(limit)
  const round = worse === 'up' ? roundUp : roundDown
  const apart = (n: number): boolean => Math.sign(round(value, n) - limit) === Math.sign(value - limit)
  let n = Math.min(placesApart(value, limit, places), MOST_PLACES)
  while (n < MOST_PLACES && !apart(n)) n++
  const step = worse === 'up' ? 10 ** -n : -(10 ** -n)
  const wrong = Math.sign(value - limit) === Math.sign(step)
  if (!wrong && Math.sign(round(value, n) - limit) === Math.sign(step)) return exactly(limit)
  return trimmed(round(value, n) + (wrong && !apart(n) ? step : 0), n)
}

type Span = readonly [number, number]

/** A span of which no more may be said than there is: rounded to its inside, with as many decimals as leave something of it. */
export function inward([from, to]: Span): Span {
  for (let n = 1; n <= MOST_PLACES; n++) {
    const [a, b] = [roundUp(from, n), roundDown(to, n)]
    if (a < b || (a === b && to - from <= SAME)) return [a, b]
  }
  return [from, to]
}

/** A span of which no less may be said. */
export const outward = ([from, to]: Span): Span => [roundDown(from, 1), roundUp(to, 1)]
