/** What a layout measures (contract §5), worked out from the placements alone. */
import type { ObjectiveName, Placement, Problem } from '../problem.ts'
import type { Figures, WireLength } from '../result.ts'
import { polygonCentroid } from '../shapes.ts'
import { um } from '../units.ts'
import { isHost, tiePointsOn } from './body.ts'
import { type Layout, layoutOf } from './layout.ts'
import { cutsOf } from './r5-holes.ts'
import { coveredPoints } from './r6-plug-in.ts'
import { runOf } from './wire-length.ts'

/** Figures of any layout, legal or not. A wire between decks that no pass joins has no length and is not listed. */
export function figures(problem: Problem, placements: readonly Placement[]): Figures {
  const layout = layoutOf(problem, placements)
  const wires = wireLengths(layout)
  const balance = balanceOf(layout)
  return {
    freeTiePoints: freeTiePoints(layout),
    optionalValue: layout.bodies.reduce((sum, b) => (b.item.required ? sum : sum + b.item.value), 0),
    newHoles: cutsOf(layout).filter((c) => c.made && !c.body.item.later).length,
    wireLength: wires.reduce((sum, w) => sum + w.length * problem.wires[w.wire]!.conductors, 0),
    ...(balance === undefined ? {} : { balance }),
    wires,
  }
}

function wireLengths(layout: Layout): WireLength[] {
  return layout.problem.wires.flatMap((wire, index) => {
    const run = runOf(layout, wire)
    if (!run || run.length === Number.POSITIVE_INFINITY) return []
    return [{ wire: index, length: um(run.length), cut: um(run.length + wire.loop) }]
  })
}

/** Tie points of placed breadboards less those that plug-in parts on them cover, each counted once. */
function freeTiePoints(layout: Layout): number {
  let free = 0
  for (const board of layout.bodies) {
    if (!isHost(board.item)) continue
    const points = tiePointsOn(board.item.footprint, board.placement)
    const covered = new Set<number>()
    for (const part of layout.bodies) {
      if (part.host === board.index) for (const i of coveredPoints(part, points)) covered.add(i)
    }
    free += points.length - covered.size
  }
  return free
}

/** Um from the centre of gravity to the centroid of the contact polygon; 0 where nothing has mass, undefined without chassis. */
function balanceOf(layout: Layout): number | undefined {
  const { chassis } = layout.problem
  if (!chassis) return undefined
  let mass = chassis.mass
  let mx = chassis.mass * chassis.centre.x
  let my = chassis.mass * chassis.centre.y
  for (const b of layout.bodies) {
    if (b.item.later) continue
    const m = b.item.footprint.mass
    mass += m
    mx += m * (b.rect.x + b.rect.w / 2)
    my += m * (b.rect.y + b.rect.h / 2)
  }
  if (mass <= 0) return 0
  const c = polygonCentroid(chassis.contact)
  return Math.hypot(mx / mass - c.x, my / mass - c.y)
}

/** The figure that an objective counts; 0 where there is nothing to balance. */
export function figureOf(name: ObjectiveName, f: Figures): number {
  switch (name) {
    case 'free-tie-points':
      return f.freeTiePoints
    case 'optional-value':
      return f.optionalValue
    case 'new-holes':
      return f.newHoles
    case 'wire-length':
      return f.wireLength
    case 'balance':
      return f.balance ?? 0
  }
}
