/** What a plate has of its own, whatever stands on it: holes that are taken to be there already (contract §8). */
import type { Deck } from '../../solver/index.ts'

/** How many there are of each diameter, mm, the widest first; those that stand twice in a file are one. */
export function thereAlready({ holes }: Deck): { readonly count: number; readonly diameter: number }[] {
  const counts = new Map<number, number>()
  const once = new Set(holes.map(({ at, diameter }) => `${at.x} ${at.y} ${diameter}`))
  for (const hole of once) {
    const diameter = Number(hole.split(' ')[2]) / 1000
    counts.set(diameter, (counts.get(diameter) ?? 0) + 1)
  }
  return [...counts].map(([diameter, count]) => ({ diameter, count })).sort((a, b) => b.diameter - a.diameter)
}
