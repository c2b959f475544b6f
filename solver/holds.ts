/** What it is to hold an item: it must stand where it is, which off the grid it cannot. */
import type { Problem } from './problem.ts'
import type { Hold } from './result.ts'

/** Held items as items that must stand where they are, if they are there. */
export function withHolds(problem: Problem, holds: readonly Hold[]): Problem {
  if (holds.length === 0) return problem
  const items = [...problem.items]
  for (const { item, deck, at, turn } of holds) {
    const held = items[item]!
    items[item] = { ...held, place: [...held.place, { kind: 'at', deck, at, turn }] }
  }
  return { ...problem, items }
}

/** The first that is held off the grid, where nothing but an entry of its own that fixes the axis, or a host, lets it stand. */
export function heldOffGrid(problem: Problem, holds: readonly Hold[]): Hold | undefined {
  return holds.find(({ item, at }) => {
    const { footprint, place } = problem.items[item]!
    if (footprint.mount.kind === 'plug-in') return false
    const fixes = (axis: 'x' | 'y') => place.some((e) => e.kind === 'at' || (e.kind === 'centred' && e.axis === axis))
    return (['x', 'y'] as const).some((axis) => at[axis] % problem.grid !== 0 && !fixes(axis))
  })
}
