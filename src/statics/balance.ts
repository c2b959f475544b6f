/** Balance of a layout as plain data (point 5 of the work): centre of gravity, tip-over and track load in every loading. */

import type { Placement, Problem } from '../../solver/index.ts'
import type { Degree, Millimetre } from '../model/quantities.ts'
import type { StaticsFinding } from './finding.ts'
import {
  DIRECTIONS,
  type Direction,
  type HullEdge,
  margin,
  onSlope,
  standsOn,
  tipsBy,
  tipTowards,
  worstTip,
} from './tip.ts'
import { type Ground, LEVEL, type TrackLoad, trackLoad } from './tracks.ts'
import { centreOfGravity, type Gravity, LOADINGS, type Loading, type Weight, weightsOf } from './weights.ts'
import { found } from './words.ts'
import { worstOfAll, worstShare } from './worst.ts'

export interface LoadedBalance extends Loading {
  readonly gravity: Gravity
  /** mm on the ground asked for, from where the vertical meets it to the nearest edge; negative: it tips there. */
  readonly margin: Millimetre
  /** Degrees of slope, downhill that way, on which it tips. */
  readonly tip: Readonly<Record<Direction, Degree>>
  /** The least slope that tips it, and downhill towards what, degrees anticlockwise from +x. */
  readonly worst: { readonly angle: Degree; readonly towards: Degree }
  readonly tracks: TrackLoad
}

export interface Balance {
  readonly ground: Ground
  /** The project's limits, where it has any. */
  readonly asked: { readonly leastTipAngle?: Degree | undefined; readonly mostTrackShare?: number | undefined }
  /** The four loadings; equal ones where nothing is stacked or comes later. */
  readonly loadings: readonly LoadedBalance[]
  /** Degrees; of all loadings in between as well. */
  readonly worstTip: Degree
  /** The largest share of one track of all loadings, on level ground. */
  readonly worstShare: { readonly side: 'left' | 'right'; readonly share: number }
  /** Later items that may reach out: the worst of all has them reach to the side where it is worst, the track loads of the loadings have not. */
  readonly reaching: readonly string[]
  readonly findings: readonly StaticsFinding[]
}

/** Undefined without a chassis with a contact that has area, or without any mass. */
export function balanceOf(
  problem: Problem,
  placements: readonly Placement[],
  ground: Ground = LEVEL,
): Balance | undefined {
  const edges = standsOn(problem.chassis?.contact ?? [])
  const weights = weightsOf(problem, placements)
  const loadings = LOADINGS.flatMap((l) => loaded(edges, weights, l, ground) ?? [])
  const tip = worstOfAll(edges, weights)
  const share = worstShare(edges, weights)
  if (!tip || !share || loadings.length === 0) return undefined
  const findings = findingsOf(problem, weights, tip.angle, share, loadings, ground)
  const { leastTipAngle, mostTrackShare } = problem
  return {
    ground,
    asked: { leastTipAngle, mostTrackShare },
    loadings,
    worstTip: tip.angle,
    worstShare: share,
    reaching: weights.flatMap((w) => (w.reach > 0 && w.item !== undefined ? [problem.items[w.item]!.id] : [])),
    findings,
  }
}

function loaded(
  edges: readonly HullEdge[],
  weights: readonly Weight[],
  loading: Loading,
  ground: Ground,
): LoadedBalance | undefined {
  const gravity = centreOfGravity(weights, loading)
  const worst = gravity && worstTip(edges, gravity)
  if (!gravity || !worst) return undefined
  const towards = (d: Direction): Degree => tipTowards(edges, gravity, DIRECTIONS[d])
  return {
    ...loading,
    gravity,
    margin: margin(edges, onSlope(gravity.centre, ground.slope, ground.towards)) - gravity.spread,
    tip: { forward: towards('forward'), back: towards('back'), left: towards('left'), right: towards('right') },
    worst: { angle: worst.angle, towards: (Math.atan2(worst.towards.y, worst.towards.x) * 180) / Math.PI },
    tracks: trackLoad(edges, gravity, ground),
  }
}

/** Only a `later` item's mass is a range; elsewhere these fields change nothing, which is seldom what was meant. */
function laterUnused(problem: Problem): StaticsFinding[] {
  const told = new Set<string>()
  return problem.items.flatMap((i): StaticsFinding[] => {
    const fields = (['laterMass', 'laterReach'] as const).filter((f) => i[f] !== undefined)
    if (i.later || fields.length === 0 || told.has(i.base)) return []
    told.add(i.base)
    const text = found.laterUnused(i.base, fields)
    return [{ kind: 'later-unused', topic: 'later', weight: 'worth-knowing', items: [i.id], text }]
  })
}

function findingsOf(
  problem: Problem,
  weights: readonly Weight[],
  tip: number,
  share: { side: 'left' | 'right'; share: number },
  loadings: readonly LoadedBalance[],
  ground: Ground,
): StaticsFinding[] {
  const heavy = [...weights].sort((a, b) => b.mass[1] * b.at.z - a.mass[1] * a.at.z)
  const items = [...new Set(heavy.flatMap((w) => (w.item === undefined ? [] : [problem.items[w.item]!.id])))].slice(
    0,
    3,
  )
  const findings = laterUnused(problem)
  const { leastTipAngle, mostTrackShare } = problem
  if (tip < 0) {
    const text = found.doesNotStand()
    findings.push({ kind: 'does-not-stand', topic: 'tip', weight: 'stops', items, text })
  } else if (leastTipAngle !== undefined && tip < leastTipAngle - 1e-9) {
    const text = found.tipsEarly(tip, leastTipAngle)
    findings.push({ kind: 'tips-early', topic: 'tip', weight: 'stops', items, text })
  }
  const least = Math.min(...loadings.map((l) => l.margin))
  if (ground.slope > 0 && tip >= 0 && tipsBy(least)) {
    const text = found.tipsOnSlope(ground.slope, -least)
    findings.push({ kind: 'tips-on-slope', topic: 'tip', weight: 'worth-knowing', items, text })
  }
  if (mostTrackShare !== undefined && share.share > mostTrackShare + 1e-9) {
    const text = found.trackOverloaded(share.side, share.share, mostTrackShare)
    findings.push({ kind: 'track-overloaded', topic: 'track', weight: 'stops', items, text })
  }
  return findings
}
