/** What flows in each wire, for a layer of the plan. */
import type { FootprintFile } from '../../footprints/schema.ts'
import type { Placement, Problem } from '../../solver/index.ts'
import { inspectPower } from '../electric/index.ts'
import type { Project } from '../model/index.ts'
import type { Layers } from './layers.ts'

export interface Current {
  readonly wire: number
  readonly amps: number
  /** Volts lost along it, there and back. */
  readonly drop: number
}

/** Of the wires that carry something known; none where no placed part says what it gives or takes. */
export function currentsOf(
  project: Project,
  library: ReadonlyMap<string, FootprintFile>,
  problem: Problem,
  placements: readonly Placement[],
  drive: Layers['drive'],
): Current[] {
  const index = new Map(problem.wires.map((w, i) => [w.id, i]))
  const found = new Map<number, Current>()
  for (const supply of inspectPower(project, library, problem, placements).supplies)
    for (const lead of supply.states[drive].leads) {
      const wire = index.get(lead.wire)
      if (wire === undefined) continue
      const before = found.get(wire)
      if (!before || Math.abs(lead.amps) > before.amps)
        found.set(wire, { wire, amps: Math.abs(lead.amps), drop: lead.drop })
    }
  return [...found.values()].sort((a, b) => a.wire - b.wire)
}
