/**
 * The plain, slow, independent checker: R1–R10 of the contract, each in a file of its own, from the placements alone. It
 * shares units, types and shapes with the search, and nothing else.
 */
import type { Placement, Problem } from '../problem.ts'
import type { Finding } from '../result.ts'
import { layoutOf } from './layout.ts'
import { inside } from './r1-inside.ts'
import { apart } from './r2-apart.ts'
import { corridors } from './r3-corridors.ts'
import { zones } from './r4-zones.ts'
import { holes } from './r5-holes.ts'
import { plugIn } from './r6-plug-in.ts'
import { wires } from './r7-wires.ts'
import { height } from './r8-height.ts'
import { heads } from './r9-head.ts'
import { place } from './r10-place.ts'

/** All findings of a layout against R1–R10, in the rules' order; none = legal. Takes any placements, sensible or not. */
export function check(problem: Problem, placements: readonly Placement[]): Finding[] {
  const layout = layoutOf(problem, placements)
  return [inside, apart, corridors, zones, holes, plugIn, wires, height, heads, place].flatMap((rule) => rule(layout))
}
