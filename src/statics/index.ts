/** The public door of statics: balance and its limits. Pure functions of a problem and its placements; results are plain data. */
export { type Balance, balanceOf, type LoadedBalance } from './balance.ts'
export type { StaticsFinding } from './finding.ts'
export { staticsRules, TIP_OVER, TRACK_LOAD } from './rules.ts'
export { DIRECTIONS, type Direction } from './tip.ts'
export { GRAVITY, type Ground, LEVEL, type TrackLoad } from './tracks.ts'
export { type Gravity, LOADINGS, type Loading } from './weights.ts'
