/** Copper wire: the resistance of a gauge. Sources: copper at 20 °C 1/58 Ω·mm²/m (IEC 60028), +0.393 % a kelvin. */
import { areaOf } from '../model/awg.ts'
import type { Celsius, OhmPerMetre } from '../model/quantities.ts'

/** Ohm-metres of annealed copper at 20 °C, IEC 60028: 1/58 Ω·mm²/m. */
const COPPER = 1 / 58e6
/** Per kelvin, of the value at 20 °C. */
const COPPER_PER_KELVIN = 0.003_93
/**
 * Stranded wire is longer than it looks, its strands being twisted: 4.99 for 4.89 Ω/1000 ft at 16 AWG, 7.95 for 7.77 at
 * 18 AWG in the NEC's table 8 of chapter 9.
 */
const STRANDED = 1.022

export interface Copper {
  /** °C, default 20. */
  readonly temperature?: Celsius
  readonly stranded?: boolean
}

/** Ohms of one metre of one conductor. */
export const ohmsPerMetre = (awg: number, { temperature = 20, stranded = false }: Copper = {}): OhmPerMetre =>
  (COPPER / (areaOf(awg) * 1e-6)) * (1 + COPPER_PER_KELVIN * (temperature - 20)) * (stranded ? STRANDED : 1)
