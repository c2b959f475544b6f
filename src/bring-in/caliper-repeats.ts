/**
 * What repeated readings say: how far one reading scatters, and which repeats contradict one another. Readings of one distance are
 * normal with one standard deviation σ, so their range is at most w·σ with probability n ∫ φ(x) (Φ(x+w) − Φ(x))ⁿ⁻¹ dx (Tippett 1925).
 * To refuse repeats whose range is more than that allows: the critical range of ISO 5725-6, which takes 95 %. Here 99.73 %, as three
 * standard deviations are for one residual, or every second sheet of good readings would be doubted. References from memory.
 */

/** One reading's scatter by hand, mm: common practice, no source. */
const READING = 0.05
/** Readings beyond the first of each measure that make a scatter of one's own worth trusting where it is smaller. */
const POOL = 5
/** 2Φ(3) − 1. */
const SURE = 0.9973002

export interface Repeats {
  /** σ, mm. */
  readonly reading: number
  /** From how many repeated readings; undefined: it was given or taken. */
  readonly seen: number | undefined
  /** How far readings may be apart at most, mm, by index of each measure whose readings are further apart. */
  readonly contrary: ReadonlyMap<number, number>
  /** Those of them that must be slips, by index of each measure whose other readings tell. */
  readonly slips: ReadonlyMap<number, readonly number[]>
}

export const mean = (v: readonly number[]): number => v.reduce((a, b) => a + b, 0) / v.length
const squares = (v: readonly number[]): number => v.reduce((sum, r) => sum + (r - mean(v)) ** 2, 0)

/** GUM §4.2.2: experimental standard deviation. */
export const spreadOf = (v: readonly number[]): number | undefined =>
  v.length < 2 ? undefined : Math.sqrt(squares(v) / (v.length - 1))

/** `given`: σ where it is known beforehand. */
export function repeatsOf(measures: readonly (readonly number[])[], given?: number): Repeats {
  const contrary = new Map<number, number>()
  const slips = new Map<number, readonly number[]>()
  const factors = new Map<number, number>()
  const factorOf = (n: number): number => {
    const factor = factors.get(n) ?? rangeFactor(n)
    factors.set(n, factor)
    return factor
  }
  let [repeats, sum] = [0, 0]
  const pooled = (): number => Math.sqrt(sum / Math.max(1, repeats))
  // The closest first, so that no slip makes room for itself or for another by widening what is judged by.
  const closest = measures
    .flatMap((readings, i) => (readings.length > 1 ? [{ i, readings, spread: spreadOf(readings)! }] : []))
    .sort((a, b) => a.spread - b.spread)
  for (const { i, readings } of closest) {
    const sigma = given ?? (repeats < POOL ? READING : Math.max(READING, pooled()))
    const most = factorOf(readings.length) * sigma
    if (rangeOf(readings) > most + LEAVE) {
      contrary.set(i, most)
      const found = slipsIn(readings, (n) => factorOf(n) * sigma + LEAVE)
      if (found.length > 0) slips.set(i, found)
    } else {
      repeats += readings.length - 1
      sum += squares(readings)
    }
  }
  if (given !== undefined) return { reading: given, seen: undefined, contrary, slips }
  const own = pooled()
  return own > READING || (repeats >= POOL && own > 0)
    ? { reading: own, seen: repeats, contrary, slips }
    : { reading: READING, seen: undefined, contrary, slips }
}

/** mm, for sums of decimals. */
const LEAVE = 0.001
const rangeOf = (v: readonly number[]): number => Math.max(...v) - Math.min(...v)

/** Dixon's Q = gap / range for n = 4 … 10 readings, two-sided, 99 % (Rorabacher 1991, from memory); more are judged as 10. */
const Q = [0.926, 0.821, 0.74, 0.68, 0.634, 0.598, 0.568]

/**
 * The readings of one distance that the others show to be slips, of readings that contradict one another; empty where it cannot be known
 * which. More than half, and two at least, agree (`most`: how far so many are apart at most), and no other agrees with any of them; or,
 * by a hand less steady than is taken, one is so much further from the rest than they are from one another.
 */
export function slipsIn(readings: readonly number[], most: (n: number) => number): readonly number[] {
  const sorted = [...readings].sort((a, b) => a - b)
  const n = sorted.length
  for (let size = n - 1; size >= 2 && size > n / 2; size--) {
    const groups = Array.from({ length: n - size + 1 }, (_, from) => from)
      .filter((from) => sorted[from + size - 1]! - sorted[from]! <= most(size))
      .map((from) => [...sorted.slice(0, from), ...sorted.slice(from + size)])
    const [others] = groups
    if (groups.length > 1) return []
    if (others === undefined) continue
    const rest = sorted.filter((v) => !others.includes(v))
    return others.every((o) => rest.every((r) => Math.abs(o - r) > most(2))) ? others : []
  }
  const q = Q[Math.min(n, 10) - 4]
  if (q === undefined) return []
  const range = rangeOf(sorted)
  const [low, high] = [sorted[1]! - sorted[0]!, sorted[n - 1]! - sorted[n - 2]!]
  return Math.max(low, high) > q * range ? [low > high ? sorted[0]! : sorted[n - 1]!] : []
}

/** How many σ the range of n readings is at most, at that probability: found by halving. */
export function rangeFactor(n: number, probability = SURE): number {
  let [low, high] = [0, 20]
  while (high - low > 1e-6) {
    const middle = (low + high) / 2
    if (rangeWithin(n, middle) < probability) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/** Trapezoids; for a smooth function that vanishes at both ends they are as good as exact. */
function rangeWithin(n: number, w: number): number {
  const step = 0.1
  let sum = 0
  for (let x = -8; x <= 8; x += step) sum += density(x) * (below(x + w) - below(x)) ** (n - 1)
  return n * step * sum
}

const density = (x: number): number => Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI)

/** Φ by its series ½ + φ(x) (x + x³/3 + x⁵/15 + …) (Marsaglia 2004, from memory). */
function below(x: number): number {
  if (Math.abs(x) > 8) return x > 0 ? 1 : 0
  let [term, sum] = [x, x]
  for (let k = 3; Math.abs(term) > 1e-16; k += 2) {
    term *= (x * x) / k
    sum += term
  }
  return 0.5 + density(x) * sum
}
