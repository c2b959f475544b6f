/** What wires and power have to say about a layout, in sentences with names and numbers. */
import type { ElectricFindingKind } from './finding-kinds.ts'

/** `stops`: it would not run, or harm could be done; `worth-knowing`: it runs, but somebody should know. */
export interface WireFinding {
  readonly kind: ElectricFindingKind
  readonly topic: 'route' | 'strain' | 'length' | 'power' | 'current' | 'brown-out' | 'protection' | 'heat' | 'radio'
  readonly weight: 'stops' | 'worth-knowing'
  /** Ids of items, wires, exits, zones and decks. */
  readonly items: readonly string[]
  readonly text: string
}

/** A figure for a sentence: at most `places` decimals, no trailing zeros. */
export const say = (value: number, places = 1): string => {
  const s = value.toFixed(places)
  return s.includes('.') ? s.replace(/\.?0+$/, '') : s
}

export const sayMm = (um: number): string => `${say(um / 1000)} mm`

/** `a`, `a and b`, `a, b and c`. */
export const names = (ids: readonly string[]): string =>
  ids.length < 2 ? (ids[0] ?? 'nothing') : `${ids.slice(0, -1).join(', ')} and ${ids[ids.length - 1]}`

export const unique = <T>(list: readonly T[]): T[] => [...new Set(list)]
