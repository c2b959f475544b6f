/** The lines of all decks as one graph, for searches that keep no count of bends: crossings are its nodes, lengths in Um. */
import { at, type Box, type Grid, gridOf } from './routes-graph.ts'

/** Where decks are joined, at no length. */
export interface Joint {
  readonly at: { readonly x: number; readonly y: number }
  readonly decks: readonly [number, number]
}

export interface Crossings {
  /** By deck. */
  readonly grids: readonly Grid[]
  readonly nodes: number
  readonly deckOf: readonly number[]
  /** Nodes of other decks that are at the same place. */
  readonly across: ReadonlyMap<number, readonly number[]>
}

/** On the lines through the boxes' sides, the joints, and `spots`; all by deck. */
export function crossingsOf(
  boxes: readonly (readonly Box[])[],
  spots: readonly (readonly { readonly x: number; readonly y: number }[])[],
  joints: readonly Joint[],
): Crossings {
  const grids: Grid[] = []
  let nodes = 0
  boxes.forEach((b, deck) => {
    const here = joints.filter((j) => j.decks.includes(deck)).map((j) => j.at)
    const grid = gridOf(b, [...spots[deck]!, ...here], nodes)
    grids.push(grid)
    nodes += grid.xs.length * grid.ys.length
  })
  const across = new Map<number, number[]>()
  for (const j of joints) {
    const [a, b] = j.decks.map((d) => nodeAt(grids[d]!, j.at.x, j.at.y))
    across.set(a!, [...(across.get(a!) ?? []), b!])
    across.set(b!, [...(across.get(b!) ?? []), a!])
  }
  const deckOf = grids.flatMap((g, d) => Array<number>(g.xs.length * g.ys.length).fill(d))
  return { grids, nodes, deckOf, across }
}

const nodeAt = (g: Grid, x: number, y: number): number => g.base + at(g.ys, y) * g.xs.length + at(g.xs, x)
