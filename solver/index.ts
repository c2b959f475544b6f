/**
 * The public door of the solver. A problem in, a layout or a conflict out; every layout has passed the checker.
 */
export { check } from './check/check.ts'
export { figures } from './check/figures.ts'
export type * from './problem.ts'
export type * from './result.ts'
export { solve, solving } from './solve.ts'
export * from './units.ts'
