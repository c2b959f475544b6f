/** What a mount makes in the deck. */
import type { Mount, MountHole } from './problem.ts'
import type { Rect } from './units.ts'

/** Round holes. */
export const mountHoles = (mount: Mount): readonly MountHole[] =>
  mount.kind === 'screw' || mount.kind === 'drop-in' ? mount.holes : []

/** Straight-sided openings: strap slots, a drop-in part's cut-out. */
export function mountCuts(mount: Mount): readonly Rect[] {
  if (mount.kind === 'strap') return mount.slots
  return mount.kind === 'drop-in' ? [mount.cutout] : []
}
