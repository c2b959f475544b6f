/**
 * The public door of the solver. A problem in, a layout or a conflict out; every layout has passed the checker.
 */
export * from './check/body.ts'
export { check } from './check/check.ts'
export { figureOf, figures } from './check/figures.ts'
export { type DeckOpening, type Layout, layoutOf, openingsOf } from './check/layout.ts'
export { type Cut, cutsOf } from './check/r5-holes.ts'
export { coveredPoints } from './check/r6-plug-in.ts'
export { coincides, serves } from './check/reuse.ts'
export { type End, endsOf, type Run, runOf } from './check/wire-length.ts'
export type { LazyFinding, LazyRule, Seated, Within } from './lazy.ts'
export { mountCuts, mountHoles } from './mount.ts'
export { isMost, objectivesOf } from './objectives.ts'
export type * from './problem.ts'
export { isProven } from './proven.ts'
export type * from './result.ts'
export { Session } from './session.ts'
export {
  area,
  bounds,
  centroid,
  containsPoint,
  discInside,
  discOverlaps,
  type Edge,
  moveShape,
  outlineOf,
  pointDistance,
  polygonCentroid,
  prepare,
  type Region,
  rectInside,
  rectOverlaps,
  rectsOverlap,
  regionInside,
  regionOverlaps,
  turnShape,
} from './shapes.ts'
export { asShown } from './shown.ts'
export { solve, solving } from './solve.ts'
export * from './terminals.ts'
export * from './units.ts'
export * from './what-if/index.ts'
export { calledIn, deckCalled } from './words.ts'
