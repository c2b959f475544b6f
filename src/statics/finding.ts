/** What statics has to say about a layout; its sentences are in words.ts. */
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
