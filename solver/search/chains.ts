/** The ways from deck to deck: chains of passes, each as its first point, its last, and the run between (Dijkstra 1959). */
import type { Pass, Problem } from '../problem.ts'

export interface Chain {
  readonly x0: number
  readonly y0: number
  readonly x1: number
  readonly y1: number
  /** Manhattan run between first and last pass, µm. */
  readonly between: number
}

const manhattan = (a: Pass, b: Pass) => Math.abs(a.at.x - b.at.x) + Math.abs(a.at.y - b.at.y)

/** All useful chains from deck `from` to another deck `to`; none = no way. */
export function chains(problem: Problem, from: number, to: number): Chain[] {
  const out: Chain[] = []
  problem.passes.forEach((first) => {
    if (!first.decks.includes(from)) return
    // a node is a pass and the deck it has led to
    const nodes = problem.passes.flatMap((pass) =>
      pass.decks.map((deck) => ({ pass, deck, far: Number.POSITIVE_INFINITY, done: false })),
    )
    const start = nodes.find((n) => n.pass === first && n.deck === other(first, from))
    if (!start) return
    start.far = 0
    for (;;) {
      let best: (typeof nodes)[number] | undefined
      for (const n of nodes) if (!n.done && n.far < (best?.far ?? Number.POSITIVE_INFINITY)) best = n
      if (!best) break
      best.done = true
      for (const n of nodes)
        if (other(n.pass, n.deck) === best.deck) n.far = Math.min(n.far, best.far + manhattan(best.pass, n.pass))
    }
    for (const n of nodes)
      if (n.deck === to && Number.isFinite(n.far))
        out.push({ x0: first.at.x, y0: first.at.y, x1: n.pass.at.x, y1: n.pass.at.y, between: n.far })
  })
  return out
}

const other = (p: Pass, deck: number): number => (p.decks[0] === deck ? p.decks[1] : p.decks[0])
