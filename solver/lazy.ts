/** The one door through which other knowledge (routes, power, tip-over) enters a solve. */
import type { Placement, Problem } from './problem.ts'
import type { Model } from './search/model.ts'
import type { Axis } from './search/relation.ts'
import { firstAtLeast } from './search/relation.ts'
import type { Search } from './search/search.ts'

/** A finding of a lazy rule. `placements`: items (indices) whose standing where they stand is alone enough to cause it. */
export interface LazyFinding {
  readonly placements: readonly number[]
  readonly text: string
  /**
   * Of an item among `placements` that could as well stand elsewhere: where its corner may lie, on its deck, at its turn and
   * on its host, for the finding to hold all the same, wherever the others are in theirs. Missing = only where it stands.
   */
  readonly within?: ReadonlyMap<number, Within>
  /** Likewise of an item that is plugged in, wherever its host stands and however that is turned: its seats on it. Goes before `within`. */
  readonly seated?: ReadonlyMap<number, Seated>
  /** Of those that are placed: the finding holds wherever they stand, at any turn. */
  readonly anywhere?: ReadonlySet<number>
}

/**
 * Least and most of the corner of a plugged-in part, turned against its host as it is, in the frame of the host's footprint, Um;
 * infinite where it does not matter. `anyHost`: on any other host of that footprint as well.
 */
export interface Seated {
  readonly u: readonly [number, number]
  readonly v: readonly [number, number]
  readonly anyHost: boolean
}

/** Least and most of the corner, Um; infinite where it does not matter. Where the item stands lies between. */
export interface Within {
  readonly x: readonly [number, number]
  readonly y: readonly [number, number]
}

/**
 * A rule that is asked only of whole layouts: a layout in, findings out, none = fine. It must be a pure function of the
 * problem and of the placements that its findings name, for the search never tries those together again. It may speak of
 * positions, turns and items by name, but must not tell copies of one item apart: these are placed in an order (`search/alike.ts`).
 */
export interface LazyRule {
  readonly name: string
  /** What it asks, as a clause: `the robot must …`; for conflicts. Missing = its name. */
  readonly text?: string
  find(problem: Problem, placements: readonly Placement[]): readonly LazyFinding[]
}

/** The first finding of any rule. */
export function firstFinding(
  rules: readonly LazyRule[],
  problem: Problem,
  placements: readonly Placement[],
): LazyFinding | undefined {
  for (const r of rules) for (const f of r.find(problem, placements)) return f
  return undefined
}

/** Makes a search ask the rules of every layout that it reaches, and learn from what they find. `guards`: a literal a rule, where conflicts are explained. */
export function askLazily(
  search: Search,
  model: Model,
  problem: Problem,
  rules: readonly LazyRule[],
  guards?: readonly number[],
): void {
  if (rules.length === 0) return
  const { e } = model
  search.veto = () => {
    const placements = search.placements()
    for (const [i, r] of rules.entries()) {
      const guard = guards?.[i]
      if (guard !== undefined && !e.isTrue(guard)) continue
      for (const f of r.find(problem, placements)) {
        const why = f.placements.flatMap((item) => standing(model, item, f))
        return guard === undefined ? why : [guard, ...why]
      }
    }
    return undefined
  }
}

/** The literals that say where a body stands, or within which bounds; that it is left out, where it is. */
function standing(model: Model, item: number, finding: LazyFinding): number[] {
  const { e } = model
  const body = model.bodies[item]!
  const mode = model.modeOf(body)
  if (!mode) return [e.not(body.present)]
  if (finding.anywhere?.has(item)) return [body.present]
  const within = finding.within?.get(item)
  const between = (a: Axis, [least, most]: readonly [number, number]): number[] => [
    e.ge(a.v, Math.min(firstAtLeast(a.values, least), e.lb[a.v]!)),
    e.lt(a.v, Math.max(firstAtLeast(a.values, most + 1), e.ub[a.v]! + 1)),
  ]
  // where conflicts are explained R6 may be dropped, and then seats say nothing of where a part is
  const seat = model.explaining ? undefined : finding.seated?.get(item)
  const way = seat && body.seating?.ways.find((w) => e.isTrue(w.lit))
  if (seat && way) {
    const { u, v } = body.seating!
    const on = seat.anyHost ? body.present : mode.lit
    return [on, way.lit, ...between(u, seat.u), ...between(v, seat.v)].filter((l) => l >= 0)
  }
  const where = within
    ? [...between(body.x, within.x), ...between(body.y, within.y)]
    : [body.x, body.y].flatMap((a) => [e.lbLit(a.v), e.ubLit(a.v)])
  return [mode.lit, ...where].filter((l) => l >= 0)
}
