/**
 * What the trade's standards say about screws, holes and drills, each with its source. Lengths in mm. The values of ISO 273,
 * 4762, 4032, 7089 and 2768 and of BS 328 were read in reprinted tables; what is from memory says so.
 */
import type { Um } from '../../solver/index.ts'
import { hardware } from './words-tables.ts'

export const THREADS = ['M2', 'M2.5', 'M3', 'M4', 'M5'] as const
export type Thread = (typeof THREADS)[number]
export const SERIES = ['fine', 'medium', 'coarse'] as const
export type Series = (typeof SERIES)[number]

/** Clearance holes, ISO 273:1979. */
export const CLEARANCE: Readonly<Record<Thread, Readonly<Record<Series, number>>>> = {
  M2: { fine: 2.2, medium: 2.4, coarse: 2.6 },
  'M2.5': { fine: 2.7, medium: 2.9, coarse: 3.1 },
  M3: { fine: 3.2, medium: 3.4, coarse: 3.6 },
  M4: { fine: 4.3, medium: 4.5, coarse: 4.8 },
  M5: { fine: 5.3, medium: 5.5, coarse: 5.8 },
}

/** Tolerance classes of ISO 286 for the series of clearance holes, ISO 273:1979. */
export const HOLE_CLASS: Readonly<Record<Series, string>> = { fine: 'H12', medium: 'H13', coarse: 'H14' }

/** Plain washers, normal series, ISO 7089: outside diameter (max) and nominal thickness. */
export const WASHER: Readonly<Record<Thread, { readonly diameter: number; readonly thickness: number }>> = {
  M2: { diameter: 5, thickness: 0.3 },
  'M2.5': { diameter: 6, thickness: 0.5 },
  M3: { diameter: 7, thickness: 0.5 },
  M4: { diameter: 9, thickness: 0.8 },
  M5: { diameter: 10, thickness: 1 },
}

/** Hexagon nuts, style 1, ISO 4032: width across flats and height (max). */
export const NUT: Readonly<Record<Thread, { readonly flats: number; readonly height: number }>> = {
  M2: { flats: 4, height: 1.6 },
  'M2.5': { flats: 5, height: 2 },
  M3: { flats: 5.5, height: 2.4 },
  M4: { flats: 7, height: 3.2 },
  M5: { flats: 8, height: 4.7 },
}

/** A kind of screw: largest head diameter of each thread, and the lengths that its standard lists. */
export interface Screw {
  readonly name: string
  readonly standard: string
  readonly head: Readonly<Record<Thread, number>>
  /** Shortest and longest; the sizes between are `LENGTHS`. From memory. */
  readonly lengths: Readonly<Record<Thread, readonly [number, number]>>
}

/** Socket head cap screws, ISO 4762, with the larger, knurled head. */
export const SCREW: Screw = {
  name: hardware.socketHead,
  standard: 'ISO 4762',
  head: { M2: 3.98, 'M2.5': 4.68, M3: 5.68, M4: 7.22, M5: 8.72 },
  lengths: { M2: [3, 20], 'M2.5': [4, 25], M3: [5, 30], M4: [6, 40], M5: [8, 50] },
}

/** Nominal lengths of the first choice, ISO 888; from memory. */
export const LENGTHS = [2, 2.5, 3, 4, 5, 6, 8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100]

/** Pitch of the coarse thread, ISO 261 (as ISO 4762's table repeats it). */
export const PITCH: Readonly<Record<Thread, number>> = { M2: 0.4, 'M2.5': 0.45, M3: 0.5, M4: 0.7, M5: 0.8 }

/** `M2.5` out of `M2.5`, `M2.5×0.45` or `m2.5x12`; undefined where the table above has no such thread. */
export function threadOf(screw: string | undefined): Thread | undefined {
  const name = /^\s*M\s*(\d+(?:\.\d+)?)(?![\d.])/i.exec(screw ?? '')?.[1]
  return name === undefined ? undefined : THREADS.find((t) => Number(t.slice(1)) === Number(name))
}

/** The clearance hole that this diameter is, in mm: `fitOf(3.4)` → `{ thread: 'M3', series: 'medium' }`. No two of them are alike. */
export function fitOf(diameter: number): { readonly thread: Thread; readonly series: Series } | undefined {
  for (const thread of THREADS)
    for (const series of SERIES) if (Math.abs(CLEARANCE[thread][series] - diameter) < 5e-4) return { thread, series }
  return undefined
}

/**
 * The nearest standard metric drill at or above a diameter, in mm: steps of 0.05 from 1.0 to 2.95 and of 0.1 from 3.0 to 13.9
 * (the size rule of BS 328). Undefined outside of that. `drillFor(mm(2.96))` → `3`
 */
export function drillFor(diameter: Um): number | undefined {
  if (diameter < 1000 || diameter > 13_900) return undefined
  const step = diameter <= 2950 ? 50 : 100
  return (Math.ceil(diameter / step) * step) / 1000
}

const TOLERANCES: readonly (readonly [upTo: number, plusMinus: number])[] = [
  [6, 0.1],
  [30, 0.2],
  [120, 0.3],
  [400, 0.5],
  [1000, 0.8],
]

/** General tolerance ± of a length in mm, ISO 2768-1 class m, from 0.5 to 1000 mm; a value on a border belongs below it. `toleranceOf(30)` → `0.2` */
export const toleranceOf = (length: number): number | undefined =>
  length < 0.5 ? undefined : TOLERANCES.find(([upTo]) => length <= upTo)?.[1]

/** The shortest length of ISO 888 that is no shorter, mm; undefined beyond 100. `lengthFor(13.2)` → `16` */
export const lengthFor = (least: number): number | undefined => LENGTHS.find((l) => l >= least - 1e-9)
