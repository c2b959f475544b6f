/** Power of one layout, for page and command line: supplies, leads, heat and findings. */

import type { FootprintFile } from '../../footprints/schema.ts'
import type { Placement, Problem } from '../../solver/index.ts'
import type { Project } from '../model/index.ts'
import type { Amp, Hour, Millimetre, Volt, Watt } from '../model/quantities.ts'
import { type State, type SupplyState, suppliesOf } from './power.ts'
import { powerFindings } from './power-findings.ts'
import { type LaterLoad, laterLoads } from './power-later.ts'
import { type PowerModel, powerModel } from './power-model.ts'
import { type PowerSettings, powerSettingsOf } from './power-settings.ts'
import type { Routed } from './routes.ts'
import { wiringOf } from './routes-settings.ts'
import type { WireFinding } from './wire-finding.ts'
import { power } from './words.ts'

export interface SupplyFigures {
  readonly supply: string
  /** With nothing drawn. */
  readonly volts: Volt
  readonly hours: { readonly idle?: Hour; readonly running?: Hour }
  readonly states: Readonly<Record<State, StateFigures>>
  /** With the `later` items that say what they will draw. */
  readonly later?: LaterLoad
}

export interface StateFigures {
  readonly amps: Amp
  readonly volts: Volt
  readonly loads: readonly { readonly name: string; readonly amps: Amp; readonly volts: Volt }[]
  /** `length` to cut, mm; `drop` in all its conductors. */
  readonly leads: readonly {
    readonly wire: string
    readonly awg: number
    readonly length: Millimetre
    readonly amps: Amp
    readonly drop: Volt
  }[]
  readonly regulators: readonly { readonly name: string; readonly volts: Volt; readonly watts: Watt }[]
}

export interface PowerSeen {
  readonly supplies: readonly SupplyFigures[]
  readonly findings: readonly WireFinding[]
  readonly cautions: readonly string[]
}

/** Of the variant that `problem` is. Nothing where no placed part gives power. `routed`: where the routes are known already. */
export function inspectPower(
  project: Project,
  library: ReadonlyMap<string, FootprintFile>,
  problem: Problem,
  placements: readonly Placement[],
  routed?: Routed,
): PowerSeen {
  const settings = powerSettingsOf(project, problem.variant)
  const wiring = wiringOf(project, problem.variant)
  return powerSeen(powerModel(project, library, problem, placements, wiring, settings, routed), settings)
}

/** The same of a model that is made already. */
export function powerSeen(model: PowerModel, settings: PowerSettings): PowerSeen {
  const supplies = suppliesOf(model)
  const later = laterLoads(model, supplies)
  return {
    supplies: supplies.map((s) => ({
      supply: s.name,
      volts: s.domain.volts,
      hours: s.hours,
      ...(later.has(s) ? { later: later.get(s)! } : {}),
      states: {
        idle: figuresOf(model, s.states.idle),
        running: figuresOf(model, s.states.running),
        stall: figuresOf(model, s.states.stall),
      },
    })),
    findings: powerFindings(model, supplies, settings, later),
    cautions: supplies.length === 0 ? [] : power.cautions,
  }
}

const figuresOf = (model: PowerModel, { amps, volts, loads, leads, regulators }: SupplyState): StateFigures => ({
  amps,
  volts,
  loads: loads.map((l) => ({ name: l.name, amps: l.amps, volts: l.volts })),
  leads: leads.map(({ lead, amps, drop }) => ({ wire: lead.id, awg: lead.awg, length: lead.length, amps, drop })),
  regulators: regulators.map((r) => ({ name: model.nameOf(r.item), volts: r.volts, watts: r.watts })),
})
