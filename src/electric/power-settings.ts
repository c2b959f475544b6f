/** What the power checks reckon with (`settings.power`), and what stands for what a project leaves out. */

import { mm, type Um } from '../../solver/index.ts'
import { areaOf } from '../model/awg.ts'
import { applyVariant, type Project } from '../model/index.ts'
import type { Amp, AmpPerSquareMillimetre, Celsius, Ohm } from '../model/quantities.ts'

export interface PowerSettings {
  /** Gap between a radio and motors, their leads' exits, drivers and regulators, Um. */
  readonly radio: Um
  /** Gap round drivers and regulators, Um. */
  readonly heat: Um
  /** Of copper. */
  readonly density: AmpPerSquareMillimetre
  /** Through one breadboard contact. */
  readonly contactCurrent: Amp
  /** Of one breadboard contact. */
  readonly contactOhms: Ohm
  /** Part of the supply's voltage that leads may lose. */
  readonly drop: number
  /** Of the copper. */
  readonly temperature: Celsius
}

/**
 * All common practice, no source: 30 mm, 5 mm, 6 A/mm² in short leads in free air, 1 A and 30 mΩ (10–50 are quoted) a contact,
 * 5 % lost, and copper at 20 °C. Where the maker's sheet or local rules ask for more, that counts.
 */
export const POWER: PowerSettings = {
  radio: mm(30),
  heat: mm(5),
  density: 6,
  contactCurrent: 1,
  contactOhms: 0.03,
  drop: 0.05,
  temperature: 20,
}

/** Throws a RangeError where there is no such variant. */
export function powerSettingsOf(project: Project, variant: string): PowerSettings {
  const p = applyVariant(project, variant).settings?.power ?? {}
  return {
    radio: p.radio === undefined ? POWER.radio : mm(p.radio),
    heat: p.heat === undefined ? POWER.heat : mm(p.heat),
    density: p.density ?? POWER.density,
    contactCurrent: p.contactCurrent ?? POWER.contactCurrent,
    contactOhms: p.contactOhms ?? POWER.contactOhms,
    drop: p.drop ?? POWER.drop,
    temperature: p.temperature ?? POWER.temperature,
  }
}

/** What a lead of this gauge may carry, A (common practice, no source; see POWER). */
export const carries = (awg: number, settings: PowerSettings): Amp => areaOf(awg) * settings.density

/** Whether so many amperes are more than a limit; what is only an error of arithmetic is not. */
export const exceeds = (amps: Amp, limit: Amp): boolean => amps > limit + 1e-6 * Math.max(1, limit)
