/** The public door of inspection: everything that electric and statics say about one layout, as one report. */
export type { BeforePower } from './before-power.ts'
export { type CheckList, checkListOf } from './check-list.ts'
export { type InspectOptions, inspect } from './inspect.ts'
export type { Finding, LeadKept, LeadRoute, LeadsSeen, Missing, Report, Spot } from './report.ts'
export type { Step } from './step.ts'
