/** What wires and power have to say about a layout, in sentences with names and numbers (words.ts). */
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

export const unique = <T>(list: readonly T[]): T[] => [...new Set(list)]
