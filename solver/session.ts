/** A solve that goes on: the model is compiled once, what was learned stays, and each hold is only an assumption. */
import { check } from './check/check.ts'
import { compile } from './compile.ts'
import type { Placement, Problem } from './problem.ts'
import type { Hold } from './result.ts'
import type { Model } from './search/model.ts'
import { firstAtLeast } from './search/relation.ts'
import { Search } from './search/search.ts'

export class Session {
  readonly problem: Problem
  private readonly model: Model
  private readonly search: Search

  /** Compiles the problem; takes some tens of milliseconds. */
  constructor(problem: Problem) {
    this.problem = problem
    this.model = compile(problem, { interchange: false, allTurns: true })
    this.search = new Search(this.model)
    this.search.lean = true
  }

  /**
   * A legal layout with the holds where they are, near `hint`: what need not move stays, though not proven fewest.
   * Undefined when there is none, or none was found within `conflicts`. Everything learned is kept: holds are
   * assumptions, so no learned clause rests on one.
   */
  next(holds: readonly Hold[], hint: readonly Placement[], conflicts = 2000): Placement[] | undefined {
    const { e } = this.model
    e.backTo(0)
    const assumed: number[] = []
    for (const h of holds) {
      const lits = this.standAt(h)
      if (!lits) return undefined
      assumed.push(...lits)
    }
    this.search.follow(hint)
    const until = e.conflicts + conflicts
    const verdict = this.search.run(assumed, () => e.conflicts >= until)
    const found = verdict === 'found' ? this.search.placements() : undefined
    e.backTo(0)
    if (found && check(this.problem, found).length > 0)
      throw new Error('the session made a layout that the checker refuses')
    return found
  }

  /** Literals that hold an item; undefined where it can never stand there. */
  private standAt(h: Hold): number[] | undefined {
    const { e } = this.model
    const body = this.model.bodies[h.item]!
    const modes = body.modes.filter((m) => m.deck === h.deck && m.turn === h.turn)
    if (modes.length === 0) return undefined
    const out = [body.present, ...body.modes.filter((m) => !modes.includes(m)).map((m) => e.not(m.lit))]
    for (const axis of ['x', 'y'] as const) {
      const { v, values } = body[axis]
      const k = firstAtLeast(values, h.at[axis])
      if (values[k] !== h.at[axis]) return undefined
      out.push(e.ge(v, k), e.lt(v, k + 1))
    }
    return out.filter((l) => l >= 0)
  }
}
