/** Wires and power: how leads run, how long to cut them, what routes teach a solve, what flows where. Pure functions of project and layout. */
export { type LaterMove, type LeadLength, type LeadLengths, leadLengths, type VariantLayout } from './lengths.ts'
export { inspectPins, type PinByPin } from './pins-inspect.ts'
export type { Blocked, Route, Routed } from './routes.ts'
export { type Bundle, inspectRoutes, type RoutesSeen } from './routes-findings.ts'
export type { Spot } from './routes-graph.ts'
export { routedRule } from './routes-rule.ts'
export { type EndKind, WIRING, type Wiring, wiringOf } from './routes-settings.ts'
export type { WireFinding } from './wire-finding.ts'
