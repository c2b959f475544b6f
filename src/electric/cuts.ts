/** What to cut each lead of a layout to, laid round what stands in its way: for whoever cuts, as `inspect` says it. */
import { calledIn, type Placement, type Problem, type Um, um } from '../../solver/index.ts'
import type { LaidLead } from '../model/laid-lead.ts'
import { strokesOf } from '../model/wire-route.ts'
import { routesOf } from './routes.ts'
import { extraOf, limitOf, type Wiring } from './routes-settings.ts'
import { unique } from './wire-finding.ts'

/** The leads whose ends are placed, in the order of the problem's wires. */
export function laidLeads(problem: Problem, placements: readonly Placement[], wiring: Wiring): LaidLead[] {
  const { routes, blocked } = routesOf(problem, placements, wiring)
  const laid = routes.map(({ wire: index, length, from, to, spots }): LaidLead => {
    const wire = problem.wires[index]!
    const cut = um(length + extraOf(wiring, wire))
    const limit = limitOf(problem.exits, wire)
    const way = { length, cut, from, to, strokes: strokesOf(spots) }
    return { wire: index, way, by: [], ...(cut > limit ? { there: limit as Um } : {}) }
  })
  const shut = blocked.map(
    ({ wire, walls }): LaidLead => ({ wire, by: unique(walls.map((o) => calledIn(problem, o.name))) }),
  )
  return [...laid, ...shut].sort((a, b) => a.wire - b.wire)
}
