/**
 * Normal positions (Herz 1972; Christofides & Whitlock 1977): on a plain rectangle every layout can be pushed left and
 * back until each body touches the edge or another body, so only sums of sizes need be tried. Only for decks where
 * nothing but R1 and R2 speaks of positions; elsewhere pushing could break a rule or cost wire.
 */
import type { Item, Problem } from '../problem.ts'
import { turnedSize } from '../units.ts'

/** Positions by item and axis (µm, ascending), or undefined where pushing is not harmless. */
export function normalPositions(problem: Problem): ((item: number, axis: 'x' | 'y') => Int32Array) | undefined {
  const deck = problem.decks[0]
  if (!deck || problem.decks.length > 1 || deck.outline.kind !== 'rect' || deck.outline.radius > 0) return undefined
  if (deck.openings.length + problem.zones.length + problem.wires.length > 0) return undefined
  if ([...problem.exits, ...problem.passes].some((o) => o.diameter !== undefined)) return undefined
  if (problem.chassis && problem.objective.includes('balance')) return undefined
  if (!problem.items.every(harmless)) return undefined
  const { outline } = deck
  const known = new Map<string, Int32Array>()
  return (item, axis) => {
    const key = `${problem.items[item]!.base}/${axis}`
    let out = known.get(key)
    if (!out) {
      const [low, size] = axis === 'x' ? [outline.x, outline.w] : [outline.y, outline.h]
      out = sums(problem, item, axis, low + problem.edgeClearance, size - 2 * problem.edgeClearance)
      known.set(key, out)
    }
    return out
  }
}

/** Nothing about the item depends on where it stands, but that it must not overlap. */
const harmless = (i: Item): boolean =>
  i.footprint.mount.kind === 'adhesive' &&
  i.footprint.corridors.length === 0 &&
  !i.footprint.head &&
  i.place.length === 0 &&
  Object.values(i.overhang).every((o) => o === 0)

/** Sums of the other items' sizes with clearance, in whole grid steps. */
function sums(problem: Problem, item: number, axis: 'x' | 'y', low: number, room: number): Int32Array {
  const { grid, itemClearance } = problem
  const start = Math.ceil(low / grid)
  const sizes = (i: Item): number[] => [
    ...new Set(
      i.turns.map((t) => {
        const s = turnedSize(i.footprint.width, i.footprint.depth, t)
        return axis === 'x' ? s.w : s.h
      }),
    ),
  ]
  // the edge need not be on the grid, nor the size a whole number of steps
  const most = Math.floor((low + room - Math.min(...sizes(problem.items[item]!))) / grid) - start
  if (most < 0) return new Int32Array(0)
  const can = new Uint8Array(most + 1)
  can[0] = 1
  problem.items.forEach((other, k) => {
    if (k === item) return
    const lengths = sizes(other).map((s) => Math.ceil((s + itemClearance) / grid))
    for (let at = most; at >= 0; at--)
      if (!can[at]) can[at] = lengths.some((l) => l <= at && l > 0 && can[at - l]) ? 1 : 0
  })
  const out: number[] = []
  can.forEach((yes, at) => {
    if (yes) out.push((start + at) * grid)
  })
  return Int32Array.from(out)
}
