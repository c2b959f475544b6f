/** Random numbers that are the same on every machine: a 32-bit mix of a counter (Weyl sequence through a finaliser). */
export interface Dice {
  /** A whole number from lo to hi, both among them. */
  whole(lo: number, hi: number): number
  pick<T>(list: readonly T[]): T
  shuffle<T>(list: readonly T[]): T[]
}

/** `dice(7).whole(1, 6)` gives the same number every time. */
export function dice(seed: number): Dice {
  let n = Math.imul(seed, 0x9e3779b1) | 0
  const next = (): number => {
    n = (n + 0x6d2b79f5) | 0
    let t = Math.imul(n ^ (n >>> 15), n | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32
  }
  const whole = (lo: number, hi: number): number => lo + Math.floor(next() * (hi - lo + 1))
  return {
    whole,
    pick: (list) => list[whole(0, list.length - 1)]!,
    shuffle: (list) => {
      const out = [...list]
      for (let i = out.length - 1; i > 0; i--) {
        const k = whole(0, i)
        const held = out[i]!
        out[i] = out[k]!
        out[k] = held
      }
      return out
    },
  }
}
