/**
 * The least and the most of the shortest ways from an end to all the places on a part, without asking for each place.
 *
 * On the escape graph (routes-graph.ts) with the part's sides as lines, no side of an obstacle runs through a cell. A vertical piece of
 * a way in a cell's column can be slid to either side of the column, a horizontal one likewise, so that the shortest way to a place in a
 * free cell passes a corner of it: its length is the least of four, the way to a corner and on from there along x and y. With the
 * lengths a, b, c, d to the corners at (0, 0), (w, 0), (0, h), (w, h) and a place at (x, y) the four are a + x + y, d + w − x + h − y,
 * b + w − x + y, c + x + h − y. The first two add up to a + d + w + h, the others to b + c + w + h, so that no place is farther than
 * half of the less. At x = (2w + d − a + b − c) / 4, y = (2h + d − a − b + c) / 4 all four are no less than that; and that place is in
 * the cell, for the lengths to two corners beside one another differ by no more than the side between them.
 *
 * What lies over or under a place is in nobody's way to it, so each group of places that have the same over them is searched by itself.
 * Beside a place there is only the clearance that there is: ways go straight on to it from where the whole clearance is kept. Where
 * something stands so near to the part the most may be more than it needs to be, by that clearance along x and y, and the least, for
 * which all of the part is taken to be as near, may be less. The most is never too little, the least never too much.
 */
import type { End, Layout } from '../../solver/index.ts'
import { asMet, type Fitted, meets } from './routes.ts'
import { type Crossings, crossingsOf } from './routes-crossings.ts'
import { at, type Box, type Grid, gridOf, Heap, type Spot } from './routes-graph.ts'
import type { Obstacle } from './routes-obstacles.ts'

/** A part as all the places on it where a lead may end. */
export interface Spread {
  readonly deck: number
  readonly item: number
  readonly box: Box
}

/** Along the decks, Um; `most` rounded up. */
export interface Reach {
  readonly least: number
  readonly most: number
}

/** Round what stands there; straight to places that no way leads to. Undefined where nothing joins the decks. */
export function waysOver(layout: Layout, obstacles: readonly Obstacle[], from: End, to: Spread): Reach | undefined {
  const beside = obstacles.filter((o) => o.deck === to.deck && o.wide.some((b) => overlap(b, to.box)))
  const met = beside.flatMap((o) => asMet(layout, o, from, to, [from]))
  const over = met.filter((f) => f.obstacle.boxes.some((b) => overlap(b, to.box)))
  const laid = (around: readonly Fitted[]): Found =>
    together(
      groupsOf(to.box, over).map((group) => {
        const mine = (o: Obstacle) => group.some((f) => f.obstacle === o)
        return search(layout, from, to, {
          active: around.filter((f) => !mine(f.obstacle)),
          rest: obstacles.filter((o) => !beside.includes(o)),
          edges: met,
          isHere: (x, y) => over.every((f) => mine(f.obstacle) === holds(f.obstacle, x, y)),
        })
      }),
    )
  // with what clearance all places keep no way is longer than a lead's, with the whole of it none is shorter
  const narrowed = beside.flatMap((o) => {
    const near = { ...o, clearance: Math.min(o.clearance, gapTo(o, to.box)) }
    return asMet(layout, near, from, to, [from]).map((f) => ({ ...f, obstacle: o }))
  })
  const narrow = laid(narrowed)
  const wide = met.length === 0 ? narrow : laid(met)
  const bare = narrow.all ? NOTHING : search(layout, from, to, { active: [], rest: [], edges: [], isHere: () => true })
  const least = Number.isFinite(narrow.least) ? narrow.least : bare.least
  const most = Math.max(wide.most, wide.all ? 0 : narrow.most, bare.most)
  return Number.isFinite(least) ? { least, most: Math.ceil(most) } : undefined
}

const overlap = (a: Box, b: Box): boolean => a.x0 < b.x1 && a.x1 > b.x0 && a.y0 < b.y1 && a.y1 > b.y0

const holds = (o: Obstacle, x: number, y: number): boolean =>
  o.boxes.some((b) => b.x0 < x && b.x1 > x && b.y0 < y && b.y1 > y)

/** How far an obstacle is from a box along the axis where it is farther. */
const gapTo = (o: Obstacle, { x0, y0, x1, y1 }: Box): number =>
  Math.max(0, Math.min(...o.boxes.map((b) => Math.max(b.x0 - x1, x0 - b.x1, b.y0 - y1, y0 - b.y1))))

/** What lies over places at once, for each of the places that its sides make. */
function groupsOf(place: Box, over: readonly Fitted[]): Fitted[][] {
  const sides = (lo: 'x0' | 'y0', hi: 'x1' | 'y1') => {
    const all = over.flatMap((f) => f.obstacle.boxes.flatMap((b) => [b[lo], b[hi]]))
    const inside = all.filter((v) => v > place[lo] && v < place[hi])
    return [...new Set([place[lo], ...inside, place[hi]])].sort((a, b) => a - b)
  }
  const groups = new Map<string, Fitted[]>()
  const [xs, ys] = [sides('x0', 'x1'), sides('y0', 'y1')]
  for (let i = 1; i < xs.length; i++)
    for (let j = 1; j < ys.length; j++) {
      const [x, y] = [(xs[i - 1]! + xs[i]!) / 2, (ys[j - 1]! + ys[j]!) / 2]
      const here = over.filter((f) => holds(f.obstacle, x, y))
      groups.set(here.map((f) => over.indexOf(f)).join(' '), here)
    }
  return [...groups.values()]
}

interface Found {
  readonly least: number
  readonly most: number
  /** Whether every place was reached. */
  readonly all: boolean
}

const NOTHING: Found = { least: Number.POSITIVE_INFINITY, most: 0, all: true }

const together = (list: readonly Found[]): Found =>
  list.reduce(
    (sum, f) => ({
      least: Math.min(sum.least, f.least),
      most: Math.max(sum.most, f.most),
      all: sum.all && f.all,
    }),
    NOTHING,
  )

interface Among {
  /** In the way from the beginning. */
  readonly active: readonly Fitted[]
  /** Taken in only when a way runs into them, as in `wayAround`. */
  readonly rest: readonly Obstacle[]
  /** Whose sides no cell may have on both sides of it. */
  readonly edges: readonly Fitted[]
  /** Whether a place is one of those that are asked for. */
  readonly isHere: (x: number, y: number) => boolean
}

function search(layout: Layout, from: End, to: Spread, { active: first, rest, edges, isHere }: Among): Found {
  const { decks } = layout.problem
  const joints = from.deck === to.deck ? [] : layout.problem.passes
  const corners = [to.box, ...edges.flatMap((f) => f.obstacle.boxes)].flatMap((b) => [
    { x: b.x0, y: b.y0 },
    { x: b.x1, y: b.y1 },
  ])
  const spots = decks.map((_, d) => [...(from.deck === d ? [from.at] : []), ...(to.deck === d ? corners : [])])
  const active = [...first]
  let others = rest
  for (;;) {
    const boxes = decks.map((_, d) => active.flatMap((f) => (f.obstacle.deck === d ? f.boxes : [])))
    const graph = crossingsOf(boxes, spots, joints)
    const ways = waysFrom(graph, from)
    const grid = graph.grids[to.deck]!
    // straight on to what lies nearer to an obstacle than its clearance
    const bare = first.flatMap((f) => (f.obstacle.deck === to.deck ? f.obstacle.boxes : []))
    goOn(gridOf(bare, linesOf(grid), grid.base), to.box, ways)
    const runs = runsOf(graph, ways, to)
    const met = others
      .filter((o) => runs.some((spots) => meets({ spots }, o.deck, o.wide)))
      .flatMap((o) => asMet(layout, o, from, to, [from]))
      .filter((f) => runs.some((spots) => meets({ spots }, f.obstacle.deck, f.boxes)))
    if (met.length === 0) return farthest(grid, ways, to.box, isHere)
    active.push(...met)
    const taken = new Set(met.map((f) => f.obstacle))
    others = others.filter((o) => !taken.has(o))
  }
}

interface Ways {
  readonly cost: Float64Array
  readonly before: Int32Array
}

/** The shortest way to every crossing (Dijkstra 1959). */
function waysFrom({ grids, nodes, deckOf, across }: Crossings, from: End): Ways {
  const cost = new Float64Array(nodes).fill(Number.POSITIVE_INFINITY)
  const before = new Int32Array(nodes).fill(-1)
  const done = new Uint8Array(nodes)
  const heap = new Heap()
  const reach = (node: number, value: number, came: number) => {
    if (value >= cost[node]!) return
    cost[node] = value
    before[node] = came
    heap.push(value, 0, node)
  }
  const start = grids[from.deck]!
  reach(start.base + at(start.ys, from.at.y) * start.xs.length + at(start.xs, from.at.x), 0, -1)
  for (let node = heap.pop(); node !== undefined; node = heap.pop()) {
    if (done[node] === 1) continue
    done[node] = 1
    const value = cost[node]!
    beside(grids[deckOf[node]!]!, node, (next, length) => reach(next, value + length, node))
    for (const next of across.get(node) ?? []) reach(next, value, node)
  }
  return { cost, before }
}

/** Goes on inside a box, from all that is reached there; `grid` has other walls on the same lines. */
function goOn(grid: Grid, box: Box, { cost, before }: Ways): void {
  const { xs, ys, base } = grid
  const isIn = (node: number) => {
    const i = (node - base) % xs.length
    const [x, y] = [xs[i]!, ys[(node - base - i) / xs.length]!]
    return x >= box.x0 && x <= box.x1 && y >= box.y0 && y <= box.y1
  }
  const heap = new Heap()
  for (let node = base; node < base + xs.length * ys.length; node++)
    if (Number.isFinite(cost[node]) && isIn(node)) heap.push(cost[node]!, 0, node)
  for (let node = heap.pop(); node !== undefined; node = heap.pop()) {
    const value = cost[node]!
    beside(grid, node, (next, length) => {
      if (value + length >= cost[next]! || !isIn(next)) return
      cost[next] = value + length
      before[next] = node!
      heap.push(value + length, 0, next)
    })
  }
}

function beside({ xs, ys, right, up, base }: Grid, node: number, visit: (next: number, length: number) => void): void {
  const width = xs.length
  const here = node - base
  const i = here % width
  const j = (here - i) / width
  if (i + 1 < width && right[here] === 0) visit(node + 1, xs[i + 1]! - xs[i]!)
  if (i > 0 && right[here - 1] === 0) visit(node - 1, xs[i]! - xs[i - 1]!)
  if (j + 1 < ys.length && up[here] === 0) visit(node + width, ys[j + 1]! - ys[j]!)
  if (j > 0 && up[here - width] === 0) visit(node - width, ys[j]! - ys[j - 1]!)
}

const linesOf = ({ xs, ys }: Grid) => [...xs.map((x) => ({ x, y: ys[0]! })), ...ys.map((y) => ({ x: xs[0]!, y }))]

/** The pieces of the ways to all crossings on the part, each once. */
function runsOf({ grids, deckOf }: Crossings, { cost, before }: Ways, to: Spread): [Spot, Spot][] {
  const spot = (node: number): Spot => {
    const deck = deckOf[node]!
    const { xs, ys, base } = grids[deck]!
    const i = (node - base) % xs.length
    return { deck, x: xs[i]!, y: ys[(node - base - i) / xs.length]! }
  }
  const seen = new Set<number>()
  const runs: [Spot, Spot][] = []
  const { xs, ys, base } = grids[to.deck]!
  for (let j = at(ys, to.box.y0); j <= at(ys, to.box.y1); j++)
    for (let i = at(xs, to.box.x0); i <= at(xs, to.box.x1); i++) {
      let node = base + j * xs.length + i
      if (!Number.isFinite(cost[node])) continue
      for (; before[node]! >= 0 && !seen.has(node); node = before[node]!) {
        seen.add(node)
        runs.push([spot(before[node]!), spot(node)])
      }
    }
  return runs
}

/** Over the cells of a box; the sum stands at the top of this file. */
function farthest({ xs, ys, base }: Grid, { cost }: Ways, box: Box, isHere: Among['isHere']): Found {
  const cells: Found[] = []
  for (let j = at(ys, box.y0); j < at(ys, box.y1); j++)
    for (let i = at(xs, box.x0); i < at(xs, box.x1); i++) {
      if (!isHere((xs[i]! + xs[i + 1]!) / 2, (ys[j]! + ys[j + 1]!) / 2)) continue
      const node = base + j * xs.length + i
      const [a, b, c, d] = [node, node + 1, node + xs.length, node + xs.length + 1].map((n) => cost[n]!) as [
        number,
        number,
        number,
        number,
      ]
      const least = Math.min(a, b, c, d)
      const sides = xs[i + 1]! - xs[i]! + ys[j + 1]! - ys[j]!
      const most = (Math.min(a + d, b + c) + sides) / 2
      cells.push(Number.isFinite(most) ? { least, most, all: true } : { ...NOTHING, all: false })
    }
  return together(cells)
}
