/** Why nothing fits: an irreducible set of rules, by dropping one after the other (deletion filter, Chinneck & Dravnieks 1991). */
import { compile } from './compile.ts'
import { type Clock, inSlices } from './optimise.ts'
import type { Problem } from './problem.ts'
import type { SolveResult } from './result.ts'
import { Search } from './search/search.ts'

type Infeasible = Extract<SolveResult, { status: 'infeasible' }>

/** Of a problem that has no layout. Stops shrinking when the clock says so, and then says that too. */
export function* explain(problem: Problem, clock: Clock): Generator<undefined, Infeasible> {
  const model = compile(problem, { explaining: true })
  const search = new Search(model)
  const { instances } = model
  const member = (guard: number) => {
    const { rule, items, text } = instances.find((n) => n.guard === guard)!
    return { rule, items, text: text() }
  }
  const done = (guards: readonly number[], irreducible: boolean): Infeasible => ({
    status: 'infeasible',
    conflict: guards.map(member),
    conflictIrreducible: irreducible,
  })
  let core = instances.map((n) => n.guard)
  const needed: number[] = []
  const first = yield* inSlices(search, core, clock)
  if (first === 'found') throw new Error('a deck called infeasible has a layout')
  if (first === 'stopped') return done(core, false)
  core = inOrder(core, search.core)
  while (core.length > needed.length) {
    const candidate = core.find((g) => !needed.includes(g))!
    const without = core.filter((g) => g !== candidate)
    const verdict = yield* inSlices(search, without, clock)
    model.e.backTo(0)
    if (verdict === 'stopped') return done(core, false)
    if (verdict === 'found') needed.push(candidate)
    else core = inOrder(without, search.core)
  }
  return done(core, true)
}

/** Those of `all` that the core names; all of them where it names none (then anything is too much). */
const inOrder = (all: readonly number[], core: readonly number[]): number[] => all.filter((g) => core.includes(g))
