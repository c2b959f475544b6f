/** Where the robot's weight is and where it may be, for the 3D view: mm in the decks' frame, z over the ground. */
import type { Placement, Problem } from '../../solver/index.ts'
import { balanceOf } from '../statics/balance.ts'
import { figures } from '../statics/figures.ts'
import { DIRECTIONS, margin, onSlope, type Point2, standsOn, tipsBy } from '../statics/tip.ts'
import { type Span, spanOf } from '../statics/tracks.ts'
import { centreOfGravity, type Loading, type Point3, weightsOf } from '../statics/weights.ts'
import type { Downhill, Layers } from './layers.ts'

export interface Hanging {
  readonly centre: Point3
  /** Where the plumb line from it meets the ground. */
  readonly foot: Point2
  /** mm from there to the nearest edge of what it stands on; negative: it tips. */
  readonly margin: number
  readonly tips: boolean
  /** The same in mm as people read it, inside or, where it tips, outside. */
  readonly away: string
}

export interface Stood {
  /** Corners of the hull of the contact. */
  readonly stands: readonly Point2[]
  readonly span: Span
  /** With stacks as high as asked for, and without what comes later. */
  readonly now: Hanging
  /** Of the four loadings the one with the least margin. */
  readonly worst: Hanging & { readonly loading: Loading }
}

const TOWARDS: Readonly<Record<Downhill, keyof typeof DIRECTIONS>> = {
  front: 'forward',
  back: 'back',
  left: 'left',
  right: 'right',
}

/** `stacked`: 0 every stack at its lightest, 1 at its heaviest. Undefined without a chassis that says what it stands on, or any mass. */
export function stoodOf(
  problem: Problem,
  placements: readonly Placement[],
  { slope, slopeToward }: Pick<Layers, 'slope' | 'slopeToward'>,
  stacked: number,
): Stood | undefined {
  const ground = { slope, towards: DIRECTIONS[TOWARDS[slopeToward]] }
  const balance = balanceOf(problem, placements, ground)
  if (!balance) return undefined
  const edges = standsOn(problem.chassis?.contact ?? [])
  const between = weightsOf(problem, placements)
    .filter((w) => !w.later)
    .map((w) => {
      const mass = w.mass[0] + (w.mass[1] - w.mass[0]) * stacked
      return { ...w, mass: [mass, mass] as const }
    })
  const gravity = centreOfGravity(between, { stacks: 'lightest', later: false })
  const worst = balance.loadings.reduce((a, b) => (b.margin < a.margin ? b : a))
  if (!gravity) return undefined
  const foot = (centre: Point3): Point2 => onSlope(centre, slope, ground.towards)
  const hanging = (centre: Point3, away: number): Hanging => ({
    centre,
    foot: foot(centre),
    margin: away,
    tips: tipsBy(away),
    away: tipsBy(away) ? figures.outside(-away) : figures.margin(away),
  })
  return {
    stands: edges.map((e) => e.from),
    span: spanOf(edges),
    now: hanging(gravity.centre, margin(edges, foot(gravity.centre))),
    worst: {
      ...hanging(worst.gravity.centre, worst.margin),
      loading: { stacks: worst.stacks, later: worst.later },
    },
  }
}
