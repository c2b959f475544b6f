/**
 * What a head's parts meet, exactly: for one tilt the pan angles, for one pan the tilt angles, and the pan angles at any tilt. An
 * obstacle is an upright prism, so that only what of a part lies in its heights matters, seen from above.
 */
import type { HeadParts, MovingPart } from './head-parts.ts'
import type { Obstacle } from './obstacles.ts'
import { cut, type Interval, joined, type Polygon, radians, rectangle, turned, without } from './plane.ts'
import { aheadWithin, blockedAngles, distances, heldAngles } from './turning.ts'

type Upright = Pick<Obstacle, 'plan' | 'z' | 'openings'>

/** About the pivot. */
const about = (h: HeadParts, plan: Polygon): Polygon => plan.map((p) => ({ x: p.x - h.pivot.x, y: p.y - h.pivot.y }))

const band = (h: HeadParts, o: Upright): Interval => [o.z[0] - h.height, o.z[1] - h.height]

const tiltsOf = (part: MovingPart, tilt: Interval): Interval => (part.tilts ? tilt : [0, 0])

function pansOf(h: HeadParts, part: MovingPart, o: Upright, tilt: Interval): Interval[] {
  const still = about(h, o.plan)
  const openings = (o.openings ?? []).map((p) => about(h, p))
  if (distances(still)[0] >= farthest(h, part)) return []
  const range: Interval = [h.pan[0] + h.base, h.pan[1] + h.base]
  return aheadWithin(part.side, tiltsOf(part, tilt), band(h, o)).flatMap(([near, far]) => {
    const plan = rectangle(part.across[0], near + h.ahead, part.across[1], far + h.ahead)
    const held = openings.flatMap((opening) => heldAngles(plan, opening, range))
    return blockedAngles(plan, still, range)
      .flatMap((blocked) => without(blocked, held))
      .map(([a, b]): Interval => [a - h.base, b - h.base])
  })
}

/** No part of it is ever farther from the pivot in plan: most obstacles are beyond, and quickly told. */
const farthest = (h: HeadParts, part: MovingPart): number =>
  Math.hypot(
    Math.max(Math.abs(part.across[0]), Math.abs(part.across[1])),
    Math.abs(h.ahead) + Math.max(...part.side.map((p) => Math.hypot(p.x, p.y))),
  )

/** Pan angles at which one tilt, or any tilt of a range, meets the obstacle. */
export const blockedPans = (h: HeadParts, o: Upright, tilt: Interval = h.tilt, part?: MovingPart): Interval[] =>
  joined((part ? [part] : h.parts).flatMap((p) => pansOf(h, p, o, tilt)))

/** Tilt angles at which one pan meets the obstacle: exact where the obstacle is convex in plan, else a bound on the safe side. */
export function blockedTilts(h: HeadParts, o: Obstacle, pan: number): Interval[] {
  const still = turned(about(h, o.plan), -radians(pan + h.base))
  const [lo, hi] = band(h, o)
  return joined(
    h.parts.flatMap((part) => {
      const strip = cut(cut(still, 1, 0, part.across[0]), -1, 0, -part.across[1])
      const across = strip.map((p) => p.x)
      // what only touches the part's side is not met
      if (strip.length < 3 || Math.max(...across) - Math.min(...across) < 1e-9) return []
      const ys = strip.map((p) => p.y - h.ahead)
      const side = rectangle(Math.min(...ys), lo, Math.max(...ys), hi)
      return blockedAngles(part.side, side, part.tilts ? h.tilt : [0, 0]).map((i) => (part.tilts ? i : h.tilt))
    }),
  )
}

export interface Profile {
  /** Heights over the ground, mm. */
  readonly z: Interval
  /** Farthest from the pivot that anything reaches in these heights, at any tilt, mm; 0: nothing. */
  readonly reach: number
}

export interface Swept {
  readonly reach: number
  readonly z: Interval
  readonly profile: readonly Profile[]
}

/** By what it depends on, as text: it says nothing of where the head stands, and a layout on its way changes many times a second. */
const known = new Map<string, Swept>()
const KEPT = 32
const BANDS = 12

/** What the parts sweep: the farthest they reach, and between which heights; with a profile in bands of equal height. */
export function sweptBy(h: HeadParts): Swept {
  const key = JSON.stringify([h.parts, h.tilt, h.height, h.ahead])
  const old = known.get(key)
  if (old) return old
  const made = workedOut(h)
  const oldest = known.keys().next().value
  if (oldest !== undefined && known.size >= KEPT) known.delete(oldest)
  known.set(key, made)
  return made
}

function workedOut(h: HeadParts): Swept {
  const heights = h.parts.flatMap((part) => {
    // heights are what is ahead after a quarter turn more
    const up = turned(part.side, -Math.PI / 2)
    return aheadWithin(up, tiltsOf(part, h.tilt), ALL).flat()
  })
  const low = h.height + Math.min(...heights)
  const high = h.height + Math.max(...heights)
  const within = (z: Interval): number =>
    h.parts.reduce((most, part) => {
      const side = Math.max(Math.abs(part.across[0]), Math.abs(part.across[1]))
      const ahead = aheadWithin(part.side, tiltsOf(part, h.tilt), z).flat()
      return ahead.reduce((m, y) => Math.max(m, Math.hypot(side, y + h.ahead)), most)
    }, 0)
  const step = (high - low) / BANDS
  const profile = Array.from({ length: BANDS }, (_, i): Profile => {
    const z: Interval = [low + i * step, low + (i + 1) * step]
    return { z, reach: within([z[0] - h.height, z[1] - h.height]) }
  })
  return { reach: within(ALL), z: [low, high], profile }
}

const ALL: Interval = [-1e9, 1e9]
