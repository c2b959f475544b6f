/**
 * What heads have to do with what comes off: an arm lies over what is lifted, or a head is lifted and its own arm lies under what
 * stays. Turned to where it does neither, at any tilt, it lets the thing go; where there is no such pan, one of the two comes off first.
 */
import { type Body, holesOn, type Layout, type Problem } from '../../solver/index.ts'
import type { DeckPlan } from './above.ts'
import { type HeadParts, headParts } from './head-parts.ts'
import { blockedPans } from './head-sweep.ts'
import { type Obstacle, rectOf } from './obstacles.ts'
import { type Interval, type Polygon, rectangle, without } from './plane.ts'

export interface Turning {
  readonly body: Body
  readonly parts: HeadParts
}

export const headsOf = (problem: Problem, { bodies }: Layout): Turning[] =>
  bodies.flatMap((body) => {
    const parts = headParts(problem, body)
    return parts ? [{ body, parts }] : []
  })

/** The body in plan, then the lands of its screws. */
export function columnsOf(body: Body): Polygon[] {
  const lands = holesOn(body.item.footprint, body.placement).map(({ hole, at }) => {
    const r = Math.max(hole.land, hole.diameter) / 2000
    const [x, y] = [at.x / 1000, at.y / 1000]
    return rectangle(x - r, y - r, x + r, y + r)
  })
  return [rectOf(body), ...lands]
}

const FAR = 1e6

type Upright = Pick<Obstacle, 'plan' | 'z' | 'openings'>

/** All that a lifted body passes, from where it stands up. */
export const aboveBody = (body: Body): Upright[] =>
  columnsOf(body).map((plan) => ({ plan, z: [body.bottom / 1000, FAR] }))

/** The same of a plate: what is over an opening alone lets it pass. */
export const abovePlate = ({ plan, openings, z }: DeckPlan): Upright => ({ plan, openings, z: [z[0], FAR] })

/** What keeps an arm from being lifted: it is anywhere below the top of a body or a plate, and not wholly under an opening. */
export const underBody = (body: Body): Upright => ({ plan: rectOf(body), z: [-FAR, body.top / 1000] })
export const underPlate = ({ plan, openings, z }: DeckPlan): Upright => ({ plan, openings, z: [-FAR, z[1]] })

/** The pan angles that clear all of these, at any tilt; undefined where every one does. */
export function clearPans({ parts }: Turning, things: readonly Upright[]): Interval[] | undefined {
  const blocked = things.flatMap((t) => blockedPans(parts, t))
  return blocked.length === 0 ? undefined : without(parts.pan, blocked)
}
