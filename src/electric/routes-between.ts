/**
 * The least way between two rectangles round boxes, on the lines through all their sides: the escape graph of `routes-graph.ts`
 * with every crossing in the one rectangle as a start and every one in the other as a goal (Dijkstra 1959). No box reaches into
 * either rectangle. A way that starts between the lines can be slid to one of them without getting longer. Lengths in Um.
 */
import { crossingsOf, type Joint } from './routes-crossings.ts'
import { at, type Box, Heap } from './routes-graph.ts'

export interface Region {
  readonly deck: number
  /** Closed; may be a point. */
  readonly box: Box
}

/** Infinity where no way up to `most` joins them. `boxes` by deck. */
export function leastBetween(
  boxes: readonly (readonly Box[])[],
  from: Region,
  to: Region,
  joints: readonly Joint[],
  most: number,
): number {
  const corners = boxes.map((_, deck) =>
    [from, to].flatMap(({ deck: d, box: { x0, y0, x1, y1 } }) =>
      d === deck
        ? [
            { x: x0, y: y0 },
            { x: x1, y: y1 },
          ]
        : [],
    ),
  )
  const { grids, nodes, deckOf, across } = crossingsOf(boxes, corners, joints)
  const cost = new Float64Array(nodes).fill(Number.POSITIVE_INFINITY)
  const heap = new Heap()
  const reach = (node: number, value: number, x: number, y: number) => {
    if (value >= cost[node]!) return
    // what is left to go is known only on one deck
    const rest = joints.length === 0 ? distance(to.box, x, y) : 0
    if (value + rest > most) return
    cost[node] = value
    heap.push(value + rest, rest, node)
  }
  const start = grids[from.deck]!
  const { x0, y0, x1, y1 } = from.box
  for (let j = at(start.ys, y0); j <= at(start.ys, y1); j++) {
    for (let i = at(start.xs, x0); i <= at(start.xs, x1); i++)
      reach(start.base + j * start.xs.length + i, 0, start.xs[i]!, start.ys[j]!)
  }
  const done = new Uint8Array(nodes)
  for (let node = heap.pop(); node !== undefined; node = heap.pop()) {
    if (done[node] === 1) continue
    done[node] = 1
    const deck = deckOf[node]!
    const { xs, ys, right, up, base } = grids[deck]!
    const width = xs.length
    const here = node - base
    const i = here % width
    const j = (here - i) / width
    const [x, y, value] = [xs[i]!, ys[j]!, cost[node]!]
    if (deck === to.deck && distance(to.box, x, y) === 0) return value
    if (i + 1 < width && right[here] === 0) reach(node + 1, value + xs[i + 1]! - x, xs[i + 1]!, y)
    if (i > 0 && right[here - 1] === 0) reach(node - 1, value + x - xs[i - 1]!, xs[i - 1]!, y)
    if (j + 1 < ys.length && up[here] === 0) reach(node + width, value + ys[j + 1]! - y, x, ys[j + 1]!)
    if (j > 0 && up[here - width] === 0) reach(node - width, value + y - ys[j - 1]!, x, ys[j - 1]!)
    for (const next of across.get(node) ?? []) reach(next, value, x, y)
  }
  return Number.POSITIVE_INFINITY
}

/** Along x and y from a box to a point. */
const distance = (b: Box, x: number, y: number): number =>
  Math.max(0, b.x0 - x, x - b.x1) + Math.max(0, b.y0 - y, y - b.y1)
