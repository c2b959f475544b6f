/** What to cut each lead of a layout to, laid round what stands in its way: for whoever cuts, as `inspect` says it. */
import { calledIn, layoutOf, type Placement, type Problem, type Um, um, type Wire } from '../../solver/index.ts'
import type { LaidLead } from '../model/laid-lead.ts'
import { strokesOf } from '../model/wire-route.ts'
import { keptFor, type LaterMove, laterMoves } from './later-moves.ts'
import { type Route, routesIn } from './routes.ts'
import { obstaclesOf } from './routes-obstacles.ts'
import { extraOf, limitOf, type Wiring } from './routes-settings.ts'
import { unique } from './wire-finding.ts'

/** The leads whose ends are placed, in the order of the problem's wires. */
export function laidLeads(problem: Problem, placements: readonly Placement[], wiring: Wiring): LaidLead[] {
  const layout = layoutOf(problem, placements)
  const obstacles = obstaclesOf(layout, wiring)
  const { routes, blocked } = routesIn(layout, obstacles)
  const kept = (wire: Wire, route: Route, cut: Um): Pick<LaidLead, 'keep'> => {
    const later = laterMoves(layout, obstacles, wire, route, extraOf(wiring, wire))
    const farthest = later.reduce<LaterMove | undefined>((f, m) => (!f || m.most > f.most ? m : f), undefined)
    if (!farthest) return {}
    const least = keptFor(cut, later, limitOf(problem.exits, wire))
    return { keep: { least, item: farthest.item, to: farthest.to } }
  }
  const laid = routes.map((route): LaidLead => {
    const { wire: index, length, from, to, spots } = route
    const wire = problem.wires[index]!
    const cut = um(length + extraOf(wiring, wire))
    const limit = limitOf(problem.exits, wire)
    const way = { length, cut, from, to, strokes: strokesOf(spots) }
    return { wire: index, way, by: [], ...(cut > limit ? { there: limit as Um } : {}), ...kept(wire, route, cut) }
  })
  // What is not to be cut yet is not told how long to keep.
  const shut = blocked.map(
    ({ wire, walls }): LaidLead => ({ wire, by: unique(walls.map((o) => calledIn(problem, o.name))) }),
  )
  return [...laid, ...shut].sort((a, b) => a.wire - b.wire)
}
