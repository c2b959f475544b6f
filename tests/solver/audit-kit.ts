/** Holds every reason that a search gives against a layout that stands. */
import { figures } from '../../solver/index.ts'
import type { Placement } from '../../solver/problem.ts'
import type { Model } from '../../solver/search/model.ts'
import type { WireGoal } from '../../solver/search/wire-goal.ts'

/** Is the layout one that the search knows? Of turns that look alike it has one. */
export const isOf = ({ bodies }: Model, placements: readonly Placement[]): boolean =>
  placements.every((q) => {
    const { x, y, modes, maps } = bodies[q.item]!
    const k = modes.findIndex((m) => m.deck === q.deck && m.turn === q.turn && m.host === (q.host ?? -1))
    return k >= 0 && maps?.[k]?.at(x.values.indexOf(q.at.x), y.values.indexOf(q.at.y)) !== false
  })

/** What a search says from now on that is false in the layout is kept in `wrong`, and how often it could be told in `said`. */
export function audited(model: Model, goal: WireGoal, placements: readonly Placement[]) {
  const { e } = model
  const at = new Map(placements.map((q) => [q.item, q]))
  const wires = new Map(figures(model.problem, placements).wires.map((w) => [w.wire, w.length]))
  const there = new Map<number, number>()
  const isIn = (b: (typeof model.bodies)[number], m: (typeof b.modes)[number]) => {
    const q = at.get(b.index)
    return q !== undefined && q.deck === m.deck && q.turn === m.turn && (q.host ?? -1) === m.host
  }
  for (const b of model.bodies) {
    const q = at.get(b.index)
    there.set(e.varOf(b.present), q ? 1 : 0)
    for (const m of b.modes) there.set(e.varOf(m.lit), isIn(b, m) ? 1 : 0)
    if (q) for (const axis of ['x', 'y'] as const) there.set(b[axis].v, b[axis].values.indexOf(q.at[axis]))
  }
  for (const c of model.classes) there.set(e.varOf(c.lit), c.modes.some((m) => isIn(c.body, m)) ? 1 : 0)
  for (const l of goal.lengths) there.set(l.axis.v, l.stepOf(wires.get(l.wire) ?? 0))
  const truth = (lit: number): boolean | undefined => {
    if (lit < 0) return lit === -1
    const value = there.get(e.varOf(lit))
    const k = (lit >> 1) - e.base[e.varOf(lit)]!
    return value === undefined ? undefined : (lit & 1) === 0 ? value >= k : value < k
  }
  const wrong: string[] = []
  let said = 0
  const hold = (how: string, reason: readonly number[], lit: number) => {
    if (lit !== -2 && truth(lit) === undefined) return
    said++
    if (truth(lit) !== true && reason.every((l) => truth(l) === true)) wrong.push(`${how}: ${reason.join()} => ${lit}`)
  }
  const not = (lits: ArrayLike<number>) => Array.from(lits, (l) => e.not(l))
  const { imply, fail, learn, keep } = e
  let reason: number[] = []
  const { begin, why } = e
  Object.assign(e, {
    begin: () => {
      reason = []
      begin.call(e)
    },
    why: (l: number) => {
      reason.push(l)
      why.call(e, l)
    },
    imply: (l: number) => {
      hold('implied', reason, l)
      if (!reason.every((r) => e.isTrue(r)))
        wrong.push(`not true yet: ${reason.join()} => ${l} ${new Error().stack!.split('\n').slice(2, 4)}`)
      return imply.call(e, l)
    },
    fail: () => {
      hold('failed', reason, -2)
      if (!reason.every((r) => e.isTrue(r)))
        wrong.push(`not true yet: ${reason.join()} => ${new Error().stack!.split('\n').slice(2, 4)}`)
      return fail.call(e)
    },
    learn: (lits: Int32Array, lbd: number) => {
      hold('learned', not(lits), -2)
      learn.call(e, lits, lbd)
    },
    keep: (lits: readonly number[]) => {
      hold('kept', not(lits), -2)
      keep.call(e, lits)
    },
  } satisfies Partial<typeof e>)
  return {
    wrong,
    asked: (guard: number, holds: boolean) => there.set(e.varOf(guard), holds ? 1 : 0),
    get said() {
      return said
    },
  }
}
