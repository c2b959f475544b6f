/** Where one end of a lead may go later, and how long the lead is to be kept for it: what is cut shorter rules the move out. */
import { deckCalled, isHost, type Layout, runOf, type Um, um, type Wire } from '../../solver/index.ts'
import { type Blocked, type Route, wayAround } from './routes.ts'
import type { Obstacle } from './routes-obstacles.ts'
import { type Reach, waysOver } from './routes-over.ts'

/** A move of one end that the lead could be kept long enough for. Lengths to cut, Um. */
export interface LaterMove {
  readonly variant: string
  readonly item: string
  /** The breadboard or deck that it would go to. */
  readonly to: string
  /** Below this it reaches none of it. */
  readonly least: Um
  /** From here on it reaches all of it. */
  readonly most: Um
}

/** One end moves at a time: to any place on every other breadboard on the decks, or to the same place on another deck it may stand on. */
export function laterMoves(
  layout: Layout,
  obstacles: readonly Obstacle[],
  wire: Wire,
  route: Route | Blocked,
  extra: Um,
): LaterMove[] {
  const { problem } = layout
  // as it lies: of a counted item, at the copy that it runs to; where no way is open, as R7 measures
  const { from, to } = 'spots' in route ? route : (runOf(layout, wire) ?? {})
  if (!from || !to) return []
  const ends = [
    [from, to],
    [to, from],
  ] as const
  return ends.flatMap(([goes, stays]) => {
    const body = goes.item === undefined ? undefined : layout.bodyOf.get(goes.item)
    if (!body) return []
    const found: LaterMove[] = []
    const add = (to: string, deck: number, reached: Reach | undefined) => {
      if (!reached) return
      const { decks } = problem
      const more = Math.abs(decks[stays.deck]!.z - decks[deck]!.z) + extra
      const [least, most] = [um(reached.least + more), um(reached.most + more)]
      found.push({ variant: problem.variant, item: body.item.id, to, least, most })
    }
    if (body.host !== undefined) {
      for (const { item, index, deck, rect } of layout.bodies) {
        if (!isHost(item) || index === body.host || index === stays.item) continue
        const box = { x0: rect.x, y0: rect.y, x1: rect.x + rect.w, y1: rect.y + rect.h }
        add(item.id, deck, waysOver(layout, obstacles, stays, { deck, item: index, box }))
      }
    }
    const carrier = body.host === undefined ? body.item : problem.items[body.host]!
    for (const deck of carrier.decks) {
      if (deck === body.deck) continue
      const there = { deck, at: goes.at, item: body.index }
      const way = wayAround(layout, obstacles, stays, there).way ?? wayAround(layout, [], stays, there).way
      add(deckCalled(problem.decks[deck]!), deck, way && { least: way.length, most: way.length })
    }
    return found
  })
}

/** How long to keep a lead in one variant: for its own cut and every later move, but never more than there is of it. */
export const keptFor = (cut: number | undefined, later: readonly LaterMove[], limit: number): Um =>
  um(Math.min(limit, Math.max(0, cut ?? 0, ...later.map((m) => m.most))))
