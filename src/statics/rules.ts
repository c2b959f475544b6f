/**
 * The project's limits of statics as rules that forbid layouts. A finding names as few placements as will do: a part that
 * could stand anywhere on its decks, or be left out, without saving the layout, is no cause of it; and what is one is a cause
 * as well wherever else it weighs on the same side. The search learns more from a short and wide cause.
 */
import type { Item, LazyFinding, LazyRule, Placement, Problem, Rect, Within } from '../../solver/index.ts'
import { bounds, prepare, undersideOver } from '../../solver/index.ts'
import { inradius, standsOn } from './tip.ts'
import { spanOf } from './tracks.ts'
import { type Weight, weightsOf } from './weights.ts'
import { asked } from './words.ts'
import {
  type Limit,
  leastOf,
  perGram,
  tipAnywhere,
  tipLimit,
  trackAnywhere,
  trackLimit,
  worstOfAll,
  worstShare,
} from './worst.ts'

/** Broken by less than this (grams × mm) is rounding. */
const SLACK = 1e-6

export const TIP_OVER = 'tip-over'
export const TRACK_LOAD = 'track-load'

/** The rules that the project asks for; none without its limits, or without a chassis. */
export function staticsRules(problem: Problem): LazyRule[] {
  const edges = standsOn(problem.chassis?.contact ?? [])
  if (edges.length === 0) return []
  const rules: LazyRule[] = []
  const { leastTipAngle, mostTrackShare } = problem
  if (leastTipAngle !== undefined) {
    const tangent = Math.tan((leastTipAngle * Math.PI) / 180)
    const limits = [tipAnywhere(inradius(edges) + 1e-6, tangent), ...edges.map((e) => tipLimit(e, tangent))]
    rules.push({
      name: TIP_OVER,
      text: asked.slope(leastTipAngle),
      find: (p, placements) =>
        broken(p, placements, limits, (weights) => {
          const angle = worstOfAll(edges, weights)?.angle ?? 0
          return angle < 0 ? asked.doesNotStand() : asked.tips(angle, leastTipAngle)
        }),
    })
  }
  if (mostTrackShare !== undefined) {
    const s = spanOf(edges)
    const sides = (['left', 'right'] as const).map((side) => trackLimit(s, side, mostTrackShare))
    const limits = [trackAnywhere(s, mostTrackShare), ...sides]
    rules.push({
      name: TRACK_LOAD,
      text: asked.share(mostTrackShare),
      find: (p, placements) =>
        broken(p, placements, limits, (weights) => {
          const w = worstShare(edges, weights)
          return asked.overloaded(w?.side ?? 'left', w?.share ?? 0, mostTrackShare)
        }),
    })
  }
  return rules
}

function broken(
  problem: Problem,
  placements: readonly Placement[],
  limits: readonly Limit[],
  text: (weights: readonly Weight[]) => string,
): LazyFinding[] {
  const weights = weightsOf(problem, placements)
  let worst: { limit: Limit; sum: number } | undefined
  for (const limit of limits) {
    const sum = weights.reduce((s, w) => s + leastOf(limit, w), 0)
    if (sum < -SLACK && (!worst || sum < worst.sum)) worst = { limit, sum }
    // a cause that has nothing to do with places says most
    if (worst && limit.x === 0 && limit.y === 0) break
  }
  if (!worst) return []
  return [{ ...causes(problem, placements, weights, worst.limit, worst.sum), text: text(weights) }]
}

/** Items whose standing (or absence) alone keeps the sum negative, whatever the others do, and how far they may move for that. */
function causes(
  problem: Problem,
  placements: readonly Placement[],
  weights: readonly Weight[],
  limit: Limit,
  sum: number,
): Pick<LazyFinding, 'placements' | 'within'> {
  const boxes = problem.decks.map((d) => bounds(prepare(d.outline)))
  const lowestHost = lowestHostTop(problem)
  // What the sum may gain if the item were elsewhere, or left out, or placed where it is not.
  const gains = problem.items.map((item, index) => {
    const now = weights.reduce((s, w) => (w.item === index ? s + leastOf(limit, w) : s), 0)
    let best = mostOf(problem, index, limit, boxes, lowestHost)
    if (!item.required) best = Math.max(best, 0)
    return { index, gain: Math.max(0, best - now) }
  })
  const free = new Set<number>()
  let left = sum
  for (const { index, gain } of gains.sort((a, b) => a.gain - b.gain)) {
    if (left + gain >= -SLACK) break
    left += gain
    free.add(index)
  }
  const named = problem.items.flatMap((_, i) => (free.has(i) ? [] : [i]))
  // A plug-in part's height is its host's, so that what names the part names the host.
  const hosts = placements.flatMap((p) => (p.host !== undefined && !free.has(p.item) ? [p.host] : []))
  const standing = placements.filter((p) => named.includes(p.item))
  const axes = (['x', 'y'] as const).filter((a) => limit[a] !== 0)
  // what is left is shared out, so that all may move at once
  const share = (-SLACK - left) / (standing.length * axes.length)
  const within = new Map<number, Within>(hosts.map((h) => [h, { x: ANYWHERE, y: ANYWHERE }]))
  for (const p of standing) {
    const most = heaviest(problem.items[p.item]!)
    const bound = (axis: 'x' | 'y'): readonly [number, number] => {
      const slope = most * Math.abs(limit[axis])
      if (slope === 0) return ANYWHERE
      const room = Math.floor((share / slope) * 1000)
      const at = p.at[axis]
      return limit[axis] > 0 ? [Number.NEGATIVE_INFINITY, at + room] : [at - room, Number.POSITIVE_INFINITY]
    }
    within.set(p.item, { x: bound('x'), y: bound('y') })
  }
  return { placements: [...new Set([...named, ...hosts])], within }
}

const ANYWHERE = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY] as const

/** Grams that an item can weigh at most, with what stands on it. */
const heaviest = (item: Item): number => {
  const own = item.footprint.mass
  return (item.later ? Math.max(own, item.laterMass ?? own) : own) + (item.stackMass?.[1] ?? 0)
}

/** The lowest top over its deck of anything that a part may be plugged into, mm; never above 0. */
const lowestHostTop = (problem: Problem): number =>
  problem.items.reduce((least, { footprint: f }) => {
    return f.breadboard ? Math.min(least, (undersideOver(f) + f.height) / 1000) : least
  }, 0)

/** The most that an item's weights can add to a sum, wherever on its decks its middle stands. */
function mostOf(problem: Problem, index: number, limit: Limit, boxes: readonly Rect[], lowestHost: number): number {
  const item = problem.items[index]!
  const f = item.footprint
  const over = Math.max(...Object.values(item.overhang)) / 1000
  const plug = f.mount.kind === 'plug-in'
  const own: readonly [number, number] = item.later ? [0, item.laterMass ?? f.mass] : [f.mass, f.mass]
  const [light, heavy] = item.stackMass ?? [0, 0]
  const stack: readonly [number, number] = item.later ? [0, heavy] : [light, heavy]
  return item.decks.reduce((most, d) => {
    const box = boxes[d]!
    // higher is worse for tipping and the same for tracks, so the lowest height that it can have bounds what it adds
    const under = problem.decks[d]!.z / 1000 + (plug ? lowestHost : undersideOver(f) / 1000)
    const at = (z: number, reach: number): number => {
      const corner = (x: number, y: number) => perGram(limit, { at: { x: x / 1000, y: y / 1000, z }, reach })
      const far = Math.max(
        corner(box.x, box.y),
        corner(box.x + box.w, box.y),
        corner(box.x, box.y + box.h),
        corner(box.x + box.w, box.y + box.h),
      )
      return far + over * Math.hypot(limit.x, limit.y) * Math.SQRT2
    }
    const top = under + f.height / 1000
    const best =
      worstMass(at(under + f.height / 2000, (item.laterReach ?? 0) / 1000), own) +
      worstMass(at(top + item.stack / 2000, 0), stack)
    return Math.max(most, best)
  }, Number.NEGATIVE_INFINITY)
}

const worstMass = (value: number, mass: readonly [number, number]): number => value * mass[value < 0 ? 1 : 0]
