/**
 * What weighs how much, and where. Masses stand at the middle of their bodies, as the contract's balance has them (§5), a
 * stack's halfway up the height reserved for it. A mass known as a range, and a `later` item that may be there or not, are
 * ranges here, so that the worst of all loadings can be asked for (worst.ts). Lengths are mm, masses grams.
 */

import { type Body, layoutOf, type Placement, type Problem, toMm } from '../../solver/index.ts'
import type { Gram, Millimetre } from '../model/quantities.ts'

export interface Point3 {
  readonly x: Millimetre
  readonly y: Millimetre
  readonly z: Millimetre
}

export interface Weight {
  /** Index of the item; none for the chassis. */
  readonly item?: number
  readonly kind: 'chassis' | 'item' | 'stack'
  /** It may be there or not. */
  readonly later: boolean
  readonly at: Point3
  /** Lightest and heaviest, where it is there. */
  readonly mass: readonly [Gram, Gram]
  /** How far in plan the mass may lie from `at`. */
  readonly reach: Millimetre
}

/** All that weighs something, the chassis first. Empty without a chassis: nothing then says what the robot stands on. */
export function weightsOf(problem: Problem, placements: readonly Placement[]): Weight[] {
  const { chassis } = problem
  if (!chassis) return []
  const { x, y, z } = chassis.centre
  const own: Weight = {
    kind: 'chassis',
    later: false,
    at: { x: toMm(x), y: toMm(y), z: toMm(z) },
    mass: [chassis.mass, chassis.mass],
    reach: 0,
  }
  return [own, ...layoutOf(problem, placements).bodies.flatMap(weightsOfBody)].filter((w) => w.mass[1] > 0)
}

function weightsOfBody(b: Body): Weight[] {
  const { item } = b
  const x = (b.rect.x + b.rect.w / 2) / 1000
  const y = (b.rect.y + b.rect.h / 2) / 1000
  const at = { x, y, z: (b.bottom + b.top) / 2000 }
  const top = { x, y, z: (b.top + b.reach) / 2000 }
  const own = item.footprint.mass
  const [light, heavy] = item.stackMass ?? [0, 0]
  const { later } = item
  const mass = later ? (item.laterMass ?? own) : own
  const reach = later ? (item.laterReach ?? 0) / 1000 : 0
  return [
    { item: b.index, kind: 'item', later, at, mass: [mass, mass], reach },
    { item: b.index, kind: 'stack', later, at: top, mass: [light, heavy], reach: 0 },
  ]
}

/** Which of the loadings: every stack at its lightest or heaviest, `later` items there or not. */
export interface Loading {
  readonly stacks: 'lightest' | 'heaviest'
  readonly later: boolean
}

export const LOADINGS: readonly Loading[] = [
  { stacks: 'lightest', later: false },
  { stacks: 'heaviest', later: false },
  { stacks: 'lightest', later: true },
  { stacks: 'heaviest', later: true },
]

export const massIn = (w: Weight, loading: Loading): Gram =>
  w.later && !loading.later ? 0 : w.mass[loading.stacks === 'lightest' ? 0 : 1]

/** Least and most that it weighs in any loading. */
export const rangeOf = ({ later, mass }: Pick<Weight, 'later' | 'mass'>): readonly [Gram, Gram] => [
  later ? 0 : mass[0],
  mass[1],
]

/** `spread` is how far the centre may move in plan, for what `later` items reach. */
export interface Gravity {
  readonly mass: Gram
  readonly centre: Point3
  readonly spread: Millimetre
}

/** Mass-weighted mean (any statics textbook). Undefined where nothing has mass. */
export function centreOfGravity(weights: readonly Weight[], loading: Loading): Gravity | undefined {
  let mass: Gram = 0
  const sum = { x: 0, y: 0, z: 0, spread: 0 }
  for (const w of weights) {
    const m = massIn(w, loading)
    mass += m
    sum.x += m * w.at.x
    sum.y += m * w.at.y
    sum.z += m * w.at.z
    sum.spread += m * w.reach
  }
  if (mass <= 0) return undefined
  return { mass, centre: { x: sum.x / mass, y: sum.y / mass, z: sum.z / mass }, spread: sum.spread / mass }
}
