/** What `later` items will draw: on top of what a pack gives today, told beside it. No lead leads to them yet. */
import type { Amp, Hour } from '../model/quantities.ts'
import { drawn, type SupplySeen } from './power.ts'
import type { PowerModel } from './power-model.ts'
import { idOf } from './power-roles.ts'

export interface LaterLoad {
  /** Ids of the items. */
  readonly items: readonly string[]
  /** Running, today's included. */
  readonly amps: Amp
  /** Until the cells' capacity is used up. */
  readonly hours?: Hour
}

/** By supply, where a later item says what it draws. It counts with the one pack whose volts are between its `min` and `max`. */
export function laterLoads(model: PowerModel, supplies: readonly SupplySeen[]): Map<SupplySeen, LaterLoad> {
  const packs = supplies.filter((s) => s.domain.source.power.supply && !s.domain.source.power.output)
  const found = new Map<SupplySeen, LaterLoad>()
  for (const part of model.later) {
    const load = part.power.load!
    const { min = 0, max = Number.POSITIVE_INFINITY } = load
    const fitting = packs.filter((s) => s.domain.volts >= min && s.domain.volts <= max)
    const [pack] = fitting
    if (!pack || fitting.length > 1) continue
    const before = found.get(pack)
    const amps = (before?.amps ?? pack.states.running.amps) + drawn(load, 'running')
    const { capacity, parallel } = pack.domain.source.power.supply!
    const hours = capacity === undefined || amps <= 0 ? {} : { hours: (capacity * (parallel ?? 1)) / amps }
    found.set(pack, { items: [...(before?.items ?? []), idOf(part)], amps, ...hours })
  }
  return found
}
