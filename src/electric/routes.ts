/**
 * The ways that leads take on the decks. R7 of the contract measures a wire as if nothing stood in its way; a lead has to go
 * round what does, so its routed length is never less, and equal where the straight way is free.
 */
import {
  type End,
  endsOf,
  type Layout,
  layoutOf,
  type Placement,
  type Problem,
  type Um,
  um,
  type Wire,
} from '../../solver/index.ts'
import { type Box, crosses, type Link, type Spot, shortestWay, type Way } from './routes-graph.ts'
import { type Obstacle, obstaclesOf } from './routes-obstacles.ts'
import type { Wiring } from './routes-settings.ts'

export interface Route {
  /** Index into the problem's wires. */
  readonly wire: number
  readonly from: End
  readonly to: End
  /** Corners and ends; where a lead changes deck, one spot on each. */
  readonly spots: readonly Spot[]
  /** Along the deck and between decks, Um. */
  readonly length: Um
  /** As R7 measures it, Um: never more. */
  readonly straight: Um
  /** What the lead goes round. */
  readonly round: readonly Obstacle[]
}

/** A wire that no way on the decks joins. `walls`: what shuts it in. */
export interface Blocked {
  readonly wire: number
  readonly walls: readonly Obstacle[]
}

export interface Routed {
  readonly routes: readonly Route[]
  readonly blocked: readonly Blocked[]
}

/** All leads of a layout whose ends are there. */
export function routesOf(problem: Problem, placements: readonly Placement[], wiring: Wiring): Routed {
  const layout = layoutOf(problem, placements)
  return routesIn(layout, obstaclesOf(layout, wiring))
}

/** The same where the obstacles are known. */
export function routesIn(layout: Layout, obstacles: readonly Obstacle[]): Routed {
  const routes: Route[] = []
  const blocked: Blocked[] = []
  layout.problem.wires.forEach((wire, index) => {
    const found = routeOf(layout, obstacles, wire, index)
    if (found === undefined) return
    if ('spots' in found) routes.push(found)
    else blocked.push(found)
  })
  return { routes, blocked }
}

/** The shortest route over the copies at both ends; undefined for a wire that does not count. */
export function routeOf(
  layout: Layout,
  obstacles: readonly Obstacle[],
  wire: Wire,
  index: number,
): Route | Blocked | undefined {
  const pairs = endsOf(layout, wire.from).flatMap((from) => endsOf(layout, wire.to).map((to) => ({ from, to })))
  if (pairs.length === 0) return undefined
  // The nearest pair first: the straight length of the others often tells that they cannot be shorter.
  const near = pairs
    .map((p) => ({ ...p, straight: straightLength(layout, p.from, p.to) }))
    .sort((a, b) => a.straight - b.straight)
  let best: Route | undefined
  const walls = new Set<Obstacle>()
  for (const { from, to, straight } of near) {
    if (!Number.isFinite(straight) || (best && straight >= best.length)) continue
    const { way, active } = wayAround(layout, obstacles, from, to)
    if (!way) for (const o of active) walls.add(o)
    else {
      const length = um(way.length + rise(layout, from, to))
      if (!best || length < best.length) {
        best = { wire: index, from, to, spots: way.spots, length, straight: um(near[0]!.straight), round: active }
      }
    }
  }
  return best ?? { wire: index, walls: [...walls] }
}

const rise = (layout: Layout, from: End, to: End): number =>
  Math.abs(layout.problem.decks[from.deck]!.z - layout.problem.decks[to.deck]!.z)

/** R7's length between two ends: the way with nothing in it; Infinity where no chain of passes joins the decks. */
function straightLength(layout: Layout, from: End, to: End): number {
  const way = among(layout, [], from, to)
  return way ? way.length + rise(layout, from, to) : Number.POSITIVE_INFINITY
}

/**
 * The shortest way round what is in it. Obstacles are taken in only when a way runs into them: a way that is shortest among
 * some and meets none of the rest is shortest among all. `active`: those taken in, which alone make the way so long, or bar it.
 * Stops early where the way, or even the way among those, is longer than `enough` (Um along the decks).
 */
export function wayAround(
  layout: Layout,
  obstacles: readonly Obstacle[],
  from: End,
  to: End,
  enough = Number.POSITIVE_INFINITY,
): { way: Way | undefined; active: Obstacle[] } {
  let rest = obstacles
  const active: Fitted[] = []
  let way = straightWay(layout, obstacles, from, to)
  if (way) return { way, active: [] }
  for (;;) {
    way = among(layout, active, from, to)
    if (!way || way.length > enough) break
    const run = way
    // with all its clearance first, which is quick; then as this lead meets it
    const near = new Set(rest.filter((o) => meets(run, o.deck, o.wide)))
    const met = [...near]
      .flatMap((o) => asMet(layout, o, from, to, [from, to]))
      .filter((f) => meets(run, f.obstacle.deck, f.boxes))
    if (met.length === 0) break
    active.push(...met)
    const taken = new Set(met.map((f) => f.obstacle))
    rest = rest.filter((o) => !taken.has(o))
  }
  return { way, active: active.map((f) => f.obstacle) }
}

/** A way of one bend or none that meets nothing, where there is one: most leads need no search. */
function straightWay(layout: Layout, obstacles: readonly Obstacle[], from: End, to: End): Way | undefined {
  if (from.deck !== to.deck) return undefined
  const { deck } = from
  const spot = (x: number, y: number) => ({ deck, x, y })
  const [a, b] = [spot(from.at.x, from.at.y), spot(to.at.x, to.at.y)]
  const length = Math.abs(a.x - b.x) + Math.abs(a.y - b.y)
  const level = a.x === b.x || a.y === b.y
  const ways = level ? [[a, b]] : [spot(b.x, a.y), spot(a.x, b.y)].map((corner) => [a, corner, b])
  return ways.map((spots): Way => ({ length, spots })).find((way) => isClear(layout, obstacles, from, to, way))
}

/** Whether a way meets nothing, as the lead between these ends meets it. */
const isClear = (layout: Layout, obstacles: readonly Obstacle[], from: End, to: End, way: Way): boolean =>
  obstacles.every(
    (o) =>
      !meets(way, o.deck, o.wide) ||
      asMet(layout, o, from, to, [from, to]).every((f) => !meets(way, f.obstacle.deck, f.boxes)),
  )

/** The way among these obstacles only. */
export function wayAmong(layout: Layout, obstacles: readonly Obstacle[], from: End, to: End): Way | undefined {
  return among(
    layout,
    obstacles.flatMap((o) => asMet(layout, o, from, to, [from, to])),
    from,
    to,
  )
}

export interface Fitted {
  readonly obstacle: Obstacle
  readonly boxes: readonly Box[]
}

export function meets(way: Pick<Way, 'spots'>, deck: number, boxes: readonly Box[]): boolean {
  const { spots } = way
  for (let i = 1; i < spots.length; i++) {
    const a = spots[i - 1]!
    const b = spots[i]!
    if (b.deck !== deck) continue
    for (const box of boxes) if (crosses(a, b, box)) return true
  }
  return false
}

function among(layout: Layout, fitted: readonly Fitted[], from: End, to: End): Way | undefined {
  const boxes: Box[][] = layout.problem.decks.map(() => [])
  for (const f of fitted) boxes[f.obstacle.deck]!.push(...f.boxes)
  const start = { deck: from.deck, x: from.at.x, y: from.at.y }
  const end = { deck: to.deck, x: to.at.x, y: to.at.y }
  return shortestWay(boxes, start, end, from.deck === to.deck ? [] : linksOf(layout))
}

const linksOf = (layout: Layout): Link[] => layout.problem.passes.map((p) => ({ x: p.at.x, y: p.at.y, decks: p.decks }))

/**
 * An obstacle as it is for one lead. The part that the lead ends on, its host, and whatever lies over or under the end, are in
 * nobody's way here. Beside an end (or a pass) there is only the clearance that there is. `placed`: the ends of which it is known
 * where they are on what carries them.
 */
export function asMet(
  layout: Layout,
  obstacle: Obstacle,
  from: Omit<End, 'at'>,
  to: Omit<End, 'at'>,
  placed: readonly End[],
): Fitted[] {
  const own = [from, to].flatMap(({ item }) =>
    item === undefined ? [] : [item, layout.bodyOf.get(item)?.host ?? item],
  )
  if (obstacle.item !== undefined && own.includes(obstacle.item)) return []
  const ends = placed.filter((e) => e.deck === obstacle.deck).map((e) => e.at)
  if (ends.some((p) => obstacle.boxes.some((b) => depth(b, p) > 0))) return []
  if (obstacle.item === undefined && own.some((i) => holds(layout, i, obstacle))) return []
  const passes = from.deck === to.deck ? [] : layout.problem.passes.filter((p) => p.decks.includes(obstacle.deck))
  const near = [...ends, ...passes.map((p) => p.at)]
  const boxes = obstacle.boxes.map((b) => {
    const room = near.map((p) => -depth(b, p)).filter((d) => d >= 0)
    const c = Math.min(obstacle.clearance, ...room)
    return { x0: b.x0 - c, y0: b.y0 - c, x1: b.x1 + c, y1: b.y1 + c }
  })
  return [{ obstacle, boxes: boxes.filter((b) => b.x0 < b.x1 && b.y0 < b.y1) }]
}

/** How far a point is inside a box (over 0), or outside along the axis where it is farther. */
const depth = (b: Box, p: { readonly x: number; readonly y: number }): number =>
  Math.min(p.x - b.x0, b.x1 - p.x, p.y - b.y0, b.y1 - p.y)

/** Whether what belongs to the deck lies under a part wholly. */
function holds(layout: Layout, item: number, obstacle: Obstacle): boolean {
  const body = layout.bodyOf.get(item)
  if (!body || body.deck !== obstacle.deck) return false
  const { x, y, w, h } = body.rect
  return obstacle.boxes.every((b) => b.x0 >= x && b.y0 >= y && b.x1 <= x + w && b.y1 <= y + h)
}
