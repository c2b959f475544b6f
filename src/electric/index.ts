/** Wires: how they run, how long to cut them, and what the routes let a solve learn. Pure functions of project and layout. */
export { type LaterMove, type LeadLength, type LeadLengths, leadLengths, type VariantLayout } from './lengths.ts'
export type { Blocked, Route, Routed } from './routes.ts'
export { type Bundle, inspectRoutes, type RoutesSeen } from './routes-findings.ts'
export type { Spot } from './routes-graph.ts'
export { routedRule } from './routes-rule.ts'
export { type EndKind, WIRING, type Wiring, wiringOf } from './routes-settings.ts'
export type { WireFinding } from './wire-finding.ts'
