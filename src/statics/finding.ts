/** What statics has to say about a layout, in sentences. */
import type { StaticsFindingKind } from './finding-kinds.ts'

/** `stops`: the job cannot be done so; `worth-knowing`: it can, but somebody should know. */
export type Weight = 'stops' | 'worth-knowing'

export type Topic = 'tip' | 'track' | 'head' | 'view' | 'access' | 'service' | 'later'

export interface StaticsFinding {
  readonly kind: StaticsFindingKind
  readonly topic: Topic
  readonly weight: Weight
  /** Ids of the items and decks concerned. */
  readonly items: readonly string[]
  readonly text: string
}

/** A figure for a sentence: at most `places` decimals, no trailing zeros. */
export const say = (value: number, places = 1): string => {
  const s = value.toFixed(places)
  return (s.includes('.') ? s.replace(/\.?0+$/, '') : s).replace(/^-0$/, '0')
}

/** `a`, `a and b`, `a, b and c`. */
export const names = (ids: readonly string[]): string =>
  ids.length < 2 ? (ids[0] ?? 'nothing') : `${ids.slice(0, -1).join(', ')} and ${ids[ids.length - 1]}`
