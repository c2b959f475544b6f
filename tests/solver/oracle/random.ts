/** A small seeded generator of pseudo-random numbers (xorshift32 after Marsaglia 2003, J. Stat. Softw. 8(14)), so that every deck can be made again. */
export interface Rng {
  /** In [0, 1). */
  next(): number
  /** Whole number in [lo, hi]. */
  int(lo: number, hi: number): number
  /** True with this probability. */
  chance(p: number): boolean
  pick<T>(list: readonly T[]): T
  shuffle<T>(list: readonly T[]): T[]
}

export function rng(seed: number): Rng {
  let s = (Math.imul(seed + 1, 0x9e3779b1) ^ 0x5bd1e995) | 0 || 1
  const next = (): number => {
    s ^= s << 13
    s ^= s >>> 17
    s ^= s << 5
    return (s >>> 0) / 4294967296
  }
  for (let k = 0; k < 8; k++) next()
  const int = (lo: number, hi: number): number => lo + Math.floor(next() * (hi - lo + 1))
  const shuffle = <T>(list: readonly T[]): T[] => {
    const a = [...list]
    for (let i = a.length - 1; i > 0; i--) {
      const j = int(0, i)
      const t = a[i] as T
      a[i] = a[j] as T
      a[j] = t
    }
    return a
  }
  return { next, int, chance: (p) => next() < p, pick: (list) => list[int(0, list.length - 1)]!, shuffle }
}

/** So many seeds, one after the other. */
export const seeds = (many: number, from: number): number[] => Array.from({ length: many }, (_, k) => from + k)
