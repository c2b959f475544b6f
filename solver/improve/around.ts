/** Rounds in which most of the best layout is held: what a whole search takes long to reach is often near. */
import { holdMost, leftOut } from '../search/neighbourhood.ts'
import type { Pursuit } from './pursuit.ts'

/** Conflicts in a round. */
const ROUND = 100

export class Around {
  private readonly p: Pursuit
  /** How many bodies are set free. */
  private free = 5

  constructor(p: Pursuit) {
    this.p = p
  }

  /** Until `stale` of them in a row gain nothing. */
  *rounds(stale: number): Generator<undefined, void> {
    const { p } = this
    const { model, goal, best, clock } = p.by
    const least = Math.max(p.grain, goal.step)
    let leap = least
    for (let i = 0, idle = 0; idle < stale && !p.isDone && !clock.over(); i++) {
      const guard = p.ask(p.beyond(p.value, Math.min(leap, p.gap)))
      const most = holdMost(model, best.placements, this.free, i % 4 !== 3, p.dice)
      if (!p.coarse) most.push(...leftOut(model, best.placements))
      const verdict = yield* p.look(guard, most, ROUND)
      if (verdict === 'found') {
        leap *= 2
        idle = 0
        continue
      }
      leap = least
      idle++
      this.free = verdict === 'none' ? Math.min(this.free + 1, best.placements.length) : Math.max(3, this.free - 1)
    }
  }
}
