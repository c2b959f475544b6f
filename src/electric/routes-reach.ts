/**
 * How far those that make a lead too short may move, all at once, and it still is too short. A search that learns this does not
 * try the places beside, one by one.
 *
 * What is proven for a range of shifts of each item. An obstacle shifted by s covers, for each of its boxes, that box widened by the
 * room there is and shifted by s. What all shifts in a range have in common is its core: the box less what it may move, widened by
 * the least room. An obstacle that may come to lie over an end is in nobody's way there, and has no core. So the cores are
 * covered at every place in the range, and what is longer than `most` among them is so among the obstacles themselves. A moved
 * end lies in its own rectangle of shifts. The way from any place in the one rectangle to any in the other is no shorter than the
 * shortest from rectangle to rectangle, which is what is searched.
 */
import type { Body, End, Layout, Within } from '../../solver/index.ts'
import { leastBetween } from './routes-between.ts'
import type { Box } from './routes-graph.ts'
import type { Obstacle } from './routes-obstacles.ts'

/** Two ends that no way up to `most` (Um along the decks) joins, because of `needs` alone. */
export interface TooLong {
  readonly from: End
  readonly to: End
  readonly most: number
  readonly needs: readonly Obstacle[]
}

/** How far an item may move to each side, Um. */
interface Room {
  left: number
  right: number
  back: number
  front: number
}

const SIDES = ['left', 'right', 'back', 'front'] as const
export const STILL: Readonly<Room> = { left: 0, right: 0, back: 0, front: 0 }

/** Farther than any body on a deck may move. */
const FAR = 1e8

/** Searches of a way for one finding; after so many the ranges stay as wide as they are, so that a lead of many copies holds nobody up. */
const MOST_LOOKS = 2000

/** Of each of these items that is placed: where its corner may be. Never wrong, and not always the most. */
export function reachOf(layout: Layout, items: readonly number[], pairs: readonly TooLong[]): Map<number, Within> {
  const bodies = items.flatMap((i) => layout.bodyOf.get(i) ?? [])
  const rooms = new Map(bodies.map((b): [number, Room] => [b.index, { ...STILL }]))
  let looks = MOST_LOOKS
  const holds = () => pairs.every((p) => looks-- > 0 && isTooLong(layout, p, rooms))
  const { grid } = layout.problem
  const sides = bodies.flatMap((b) => SIDES.map((side) => ({ room: rooms.get(b.index)!, side })))

  // a side that does not matter is worth most
  const rest = sides.filter(({ room, side }) => {
    room[side] = FAR
    if (holds()) return false
    room[side] = 0
    return true
  })
  // then all the others alike, then one by one what is left
  const widen = (some: typeof sides) => {
    const before = some.map(({ room, side }) => room[side])
    const fits = (steps: number): boolean => {
      some.forEach(({ room, side }, i) => {
        room[side] = before[i]! + steps * grid
      })
      return holds()
    }
    let steps = 0
    let next = 1
    while (fits(next)) {
      steps = next
      next *= 2
    }
    for (let lo = steps, hi = next; hi - lo > 1; ) {
      const mid = (lo + hi) >> 1
      if (fits(mid)) steps = lo = mid
      else hi = mid
    }
    some.forEach(({ room, side }, i) => {
      room[side] = before[i]! + steps * grid
    })
  }
  if (rest.length > 0) widen(rest)
  for (const one of rest) widen([one])

  return new Map(
    bodies.map((b): [number, Within] => {
      const { at } = b.placement
      const { left, right, back, front } = rooms.get(b.index)!
      return [b.index, { x: [at.x - left, at.x + right], y: [at.y - back, at.y + front] }]
    }),
  )
}

/** Whether the ends are too far from each other along the decks, wherever in their rooms all stand. */
export function isTooLong(layout: Layout, pair: TooLong, rooms: ReadonlyMap<number, Readonly<Room>>): boolean {
  const { from, to, most, needs } = pair
  const roomOf = (item: number | undefined) => (item === undefined ? undefined : rooms.get(item)) ?? STILL
  const [a, b] = [from, to].map((end) => ({ deck: end.deck, box: around(end.at, roomOf(end.item), STILL) }))
  const own = [from, to].flatMap(({ item }) => (item === undefined ? [] : (layout.bodyOf.get(item) ?? [])))
  const carriers = own.flatMap((body) => {
    const host = body.host === undefined ? undefined : layout.bodyOf.get(body.host)
    return host ? [body, host] : [body]
  })
  const passes = from.deck === to.deck ? [] : layout.problem.passes
  const boxes: Box[][] = layout.problem.decks.map(() => [])
  for (const o of needs) {
    if (carriers.some((c) => c.index === o.item || (o.item === undefined && mayHold(c, roomOf(c.index), o)))) continue
    const room = roomOf(o.item)
    const ends = [from, to].filter((e) => e.deck === o.deck).map((e) => around(e.at, roomOf(e.item), room))
    if (ends.some((e) => o.boxes.some((box) => gapOf(box, e) < 0))) continue
    const ways = passes.filter((p) => p.decks.includes(o.deck)).map((p) => around(p.at, STILL, room))
    for (const box of o.boxes) {
      const least = [...ends, ...ways.filter((w) => !inside(w, box))].map((p) => Math.max(0, gapOf(box, p)))
      const core = coreOf(box, room, Math.min(o.clearance, ...least))
      if (core.x0 < core.x1 && core.y0 < core.y1) boxes[o.deck]!.push(core)
    }
  }
  return leastBetween(boxes, a!, b!, passes, most) > most
}

/** Where a point may be, as one sees it that may move itself. */
const around = (p: { x: number; y: number }, own: Readonly<Room>, other: Readonly<Room>): Box => ({
  x0: p.x - own.left - other.right,
  x1: p.x + own.right + other.left,
  y0: p.y - own.back - other.front,
  y1: p.y + own.front + other.back,
})

const coreOf = (box: Box, room: Readonly<Room>, clearance: number): Box => ({
  x0: box.x0 + room.right - clearance,
  x1: box.x1 - room.left + clearance,
  y0: box.y0 + room.front - clearance,
  y1: box.y1 - room.back + clearance,
})

/** How far two boxes are from each other along the axis where that is farther; below 0 where their insides, or a point and an inside, meet. */
const gapOf = (a: Box, b: Box): number => Math.max(a.x0 - b.x1, b.x0 - a.x1, a.y0 - b.y1, b.y0 - a.y1)

/** Whether all of the first is inside the second, off its sides. */
const inside = (a: Box, b: Box): boolean => a.x0 > b.x0 && a.x1 < b.x1 && a.y0 > b.y0 && a.y1 < b.y1

/** Whether what belongs to the deck may come to lie under a part wholly. */
function mayHold(body: Body, room: Readonly<Room>, obstacle: Obstacle): boolean {
  if (body.deck !== obstacle.deck) return false
  const { x, y, w, h } = body.rect
  const { boxes } = obstacle
  const most = (pick: (b: Box) => number) => boxes.reduce((m, b) => Math.max(m, pick(b)), Number.NEGATIVE_INFINITY)
  const meets = (lo: number, hi: number, from: number, to: number) => Math.max(lo, from) <= Math.min(hi, to)
  return (
    meets(most((b) => b.x1) - x - w, -most((b) => -b.x0) - x, -room.left, room.right) &&
    meets(most((b) => b.y1) - y - h, -most((b) => -b.y0) - y, -room.back, room.front)
  )
}
