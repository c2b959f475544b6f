/** Which deck, and where on it, a look through the picture means. Plain numbers, mm, z over the ground. */
import type { Problem } from '../../solver/index.ts'
import { boxOf } from '../store/outline.ts'

export interface Ray {
  readonly from: readonly [number, number, number]
  readonly along: readonly [number, number, number]
}

/** Where a ray comes through a height, mm; undefined where it never does. */
export function meetAt({ from, along }: Ray, z: number): { readonly x: number; readonly y: number } | undefined {
  const t = (z - from[2]) / along[2]
  return Number.isFinite(t) && t > 0 ? { x: from[0] + t * along[0], y: from[1] + t * along[1] } : undefined
}

/**
 * The deck that a carried item is meant for, and the point of its plane, mm: the one where it is as long as the ray meets that, else the
 * highest that it may stand on and that the ray meets. `over`: how far over its deck the item was taken.
 */
export function deckAt(
  problem: Problem,
  item: number,
  ray: Ray,
  lifts: readonly number[],
  over: number,
  now: number,
): { readonly deck: number; readonly x: number; readonly y: number } | undefined {
  const on = (deck: number) => {
    const d = problem.decks[deck]
    const at = d && meetAt(ray, d.z / 1000 + (lifts[deck] ?? 0) + over)
    if (!d || !at) return undefined
    const box = boxOf(d.outline)
    const within =
      at.x * 1000 >= box.x && at.y * 1000 >= box.y && at.x * 1000 <= box.x + box.w && at.y * 1000 <= box.y + box.h
    return { deck, ...at, within }
  }
  const own = on(now)
  if (own?.within) return own
  const others = (problem.items[item]?.decks ?? [])
    .filter((d) => d !== now)
    .sort((a, b) => (problem.decks[b]?.z ?? 0) - (problem.decks[a]?.z ?? 0))
    .flatMap((d) => on(d) ?? [])
  return others.find((o) => o.within) ?? own
}
