/** What weighs where, for a layer of the plan: on each track, on each deck, and the centre of it all. */
import type { Placement, Problem } from '../../solver/index.ts'
import { balanceOf } from '../statics/balance.ts'
import { figures } from '../statics/figures.ts'
import { DIRECTIONS, standsOn, tipsBy } from '../statics/tip.ts'
import { GRAVITY, spanOf } from '../statics/tracks.ts'
import { massIn, weightsOf } from '../statics/weights.ts'
import type { Downhill, Layers } from './layers.ts'

interface TrackLoaded {
  readonly force: number
  readonly share: number
  /** Both as people read them, the share in per cent. */
  readonly said: { readonly force: string; readonly share: string }
}

export interface Loads {
  /** Newtons, and the share of what presses on the ground, 0 to 1; below 0 the track lifts. */
  readonly tracks: Readonly<Record<'left' | 'right', TrackLoaded>>
  /** Where the tracks run, mm in the decks' frame. */
  readonly span: { readonly left: number; readonly right: number; readonly back: number; readonly front: number }
  /** Corners of the contact's hull, mm. */
  readonly stands: readonly { readonly x: number; readonly y: number }[]
  /** In plan, mm. */
  readonly centre: { readonly x: number; readonly y: number }
  /** mm that the vertical through it may still move on this ground; negative: it tips. */
  readonly margin: number
  readonly tips: boolean
  /** Newtons of what stands on each deck, by the deck's index. */
  readonly decks: readonly number[]
}

const TOWARDS: Readonly<Record<Downhill, keyof typeof DIRECTIONS>> = {
  front: 'forward',
  back: 'back',
  left: 'left',
  right: 'right',
}

/** Without what comes later. Undefined without a chassis that says what it stands on, or without any mass. */
export function loadsOf(
  problem: Problem,
  placements: readonly Placement[],
  { slope, slopeToward, stack }: Pick<Layers, 'slope' | 'slopeToward' | 'stack'>,
): Loads | undefined {
  const ground = { slope, towards: DIRECTIONS[TOWARDS[slopeToward]] }
  const balance = balanceOf(problem, placements, ground)
  const loading = balance?.loadings.find((l) => l.stacks === stack && !l.later)
  if (!loading) return undefined
  const edges = standsOn(problem.chassis?.contact ?? [])
  const { left, right, leftForce, rightForce } = loading.tracks
  const forces = figures.forces({ left: leftForce, right: rightForce })
  const shares = figures.shares({ left, right }, slope === 0 ? problem.mostTrackShare : undefined)
  const decks = problem.decks.map(() => 0)
  const deckOf = new Map(placements.map((p) => [p.item, p.deck]))
  for (const w of weightsOf(problem, placements)) {
    const deck = w.item === undefined ? undefined : deckOf.get(w.item)
    if (deck !== undefined) decks[deck]! += (massIn(w, { stacks: stack, later: false }) / 1000) * GRAVITY
  }
  return {
    tracks: {
      left: { force: leftForce, share: left, said: { force: forces.left, share: shares.left } },
      right: { force: rightForce, share: right, said: { force: forces.right, share: shares.right } },
    },
    span: spanOf(edges),
    stands: edges.map((e) => e.from),
    centre: loading.gravity.centre,
    margin: loading.margin,
    tips: tipsBy(loading.margin),
    decks,
  }
}
