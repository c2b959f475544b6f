/** All rules, in the contract's order. Each file knows one rule; nothing else in the search does. */
import type { Model } from '../search/model.ts'
import { inside } from './r1-inside.ts'
import { apart } from './r2-apart.ts'
import { corridors } from './r3-corridors.ts'
import { zones } from './r4-zones.ts'
import { holes } from './r5-holes.ts'
import { plugIn } from './r6-plug-in.ts'
import { wires } from './r7-wires.ts'
import { height } from './r8-height.ts'
import { head } from './r9-head.ts'
import { place } from './r10-place.ts'

export interface Rule {
  post(model: Model): void
}

export const rules: readonly Rule[] = [inside, apart, corridors, zones, holes, plugIn, wires, height, head, place]
