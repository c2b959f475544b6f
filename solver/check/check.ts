/**
 * The plain, slow, independent checker: R1–R10 of the contract, each in a file of its own, from the placements alone. It
 * shares units, types, shapes and the words for findings with the search, and nothing else.
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

/** The rules of the contract, in order. */
const RULES = {
  R1: inside,
  R2: apart,
  R3: corridors,
  R4: zones,
  R5: holes,
  R6: plugIn,
  R7: wires,
  R8: height,
  R9: heads,
  R10: place,
}

/** All findings of a layout against R1–R10, or `only` some of them, in the rules' order; none = legal. Takes any placements, sensible or not. */
export function check(problem: Problem, placements: readonly Placement[], only?: ReadonlySet<string>): Finding[] {
  const layout = layoutOf(problem, placements)
  return Object.entries(RULES).flatMap(([name, rule]) => (only && !only.has(name) ? [] : rule(layout)))
}
