/** Why nothing fits: an irreducible set of rules, by dropping one after the other (deletion filter, Chinneck & Dravnieks 1991). */
import { type Clock, inSlices } from './clock.ts'
import { compile } from './compile.ts'
import { askLazily, type LazyRule } from './lazy.ts'
import type { Item, Problem } from './problem.ts'
import { restrict } from './restrict.ts'
import type { SolveResult } from './result.ts'
import { longest } from './rules/r7-wires.ts'
import { alike } from './search/alike.ts'
import { Search } from './search/search.ts'
import { bounds, prepare } from './shapes.ts'
import { type Rect, um } from './units.ts'
import { asked } from './words.ts'

type Infeasible = Extract<SolveResult, { status: 'infeasible' }>

/** Of a problem that has no layout, with `held` items placed whether required or not. Stops shrinking when the clock says so, and then says that too. */
export function* explain(
  problem: Problem,
  held: readonly number[],
  clock: Clock,
  lazy: readonly LazyRule[] = [],
): Generator<undefined, Infeasible> {
  const must = { ...problem, items: problem.items.map((i, k) => (held.includes(k) ? { ...i, required: true } : i)) }
  // a lazy rule may look at any item, so nothing is left out where there is one
  const part = lazy.length > 0 ? must : restrict(must, yield* culprits(must, clock))
  // what the part left out may have been needed after all
  const found = (yield* shrink(part, clock, lazy)) ?? (yield* shrink(must, clock, lazy))
  if (!found) throw new Error('a deck called infeasible has a layout')
  return lazy.length > 0 ? found : yield* farOff(must, found, clock)
}

/** The conflict, or another one of its items: what a body with no R1 is held to may lie far off its deck, where nothing was looked at. */
function* farOff(problem: Problem, found: Infeasible, clock: Clock): Generator<undefined, Infeasible> {
  const { conflict } = found
  const named = (list: Infeasible['conflict']) => new Set(list.flatMap((c) => c.items))
  const onDeck = named(conflict.filter((c) => c.rule === 'R1'))
  const held = named(
    conflict.filter((c) => c.rule === 'R7' || (c.rule === 'R10' && c.text !== asked.placed(c.items[0]!))),
  )
  // copies may be named together
  const has = (ids: ReadonlySet<string>, { id, base }: Item) => ids.has(id) || ids.has(base)
  const indices = (ids: ReadonlySet<string>) => [...problem.items.keys()].filter((i) => has(ids, problem.items[i]!))
  if (!found.conflictIrreducible || indices(held).every((i) => onDeck.has(problem.items[i]!.id))) return found
  const part = restrict(problem, indices(named(conflict)))
  const room = roomOf(part)
  const model = compile(part, { explaining: true, room })
  const members = model.instances.filter((n) =>
    conflict.some((c) => c.rule === n.rule && c.items.join() === n.items.join() && c.text === n.text()),
  )
  const verdict = yield* inSlices(
    new Search(model),
    members.map((n) => n.guard),
    clock,
  )
  if (verdict === 'none') return found
  const wide = verdict === 'found' ? yield* shrink(part, clock, [], room) : undefined
  return wide?.conflictIrreducible ? wide : { ...found, conflictIrreducible: false }
}

/** So far beyond its deck, µm, something may hold a body: by what is fixed there, and by what is held to that. */
function roomOf(problem: Problem): number {
  const { decks, exits, zones, items, wires } = problem
  const boxes = decks.map((d) => bounds(prepare(d.outline)))
  const fixed = [
    ...exits.map(({ at }): Rect => ({ ...at, w: um(0), h: um(0) })),
    ...zones.map((z) => bounds(prepare(z.shape))),
    ...items.flatMap((i) => i.place.flatMap((p) => (p.kind === 'inside' ? [bounds(prepare(p.shape))] : []))),
  ]
  const past = boxes.flatMap((d) =>
    [...boxes, ...fixed].flatMap((f) => [d.x - f.x, d.y - f.y, f.x + f.w - d.x - d.w, f.y + f.h - d.y - d.h]),
  )
  const sizes = items.map(({ footprint: { width, depth, head } }) => Math.max(width, depth) + (head?.reach ?? 0))
  const nears = items.flatMap((i) => i.place.map((p) => (p.kind === 'near' || p.kind === 'edge' ? p.within : 0)))
  const lengths = wires.map((w) => longest(problem, w)).filter(Number.isFinite)
  const sum = (list: readonly number[]) => list.reduce((a, b) => a + b, 0)
  return Math.max(0, ...past) + sum(sizes) + sum(nears) + sum(lengths) + problem.itemClearance * items.length
}

/** An irreducible conflict of the problem; undefined where it has a layout. */
function* shrink(
  problem: Problem,
  clock: Clock,
  lazy: readonly LazyRule[],
  room?: number,
): Generator<undefined, Infeasible | undefined> {
  const model = compile(problem, { explaining: true, lazy: lazy.length > 0, room })
  const search = new Search(model)
  const guards = lazy.map((r) => model.instance(r.name, [], () => r.text ?? r.name))
  askLazily(search, model, problem, lazy, guards)
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
  if (first === 'found') return undefined
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

/** Items that cannot all be placed, as few as one refutation names; most conflicts are between two or three. */
function* culprits(problem: Problem, clock: Clock): Generator<undefined, number[]> {
  const model = compile(problem, { optional: true })
  const search = new Search(model)
  const required = model.bodies.filter((b) => b.item.required)
  const verdict = yield* inSlices(
    search,
    required.map((b) => b.present),
    clock,
  )
  const groups = alike(problem)
  // of items that are alike the later ones are placed only after the earlier
  const named = required.filter((b) =>
    [b.index, ...(groups.find((g) => g.includes(b.index)) ?? [])].some(
      (i) => i >= b.index && search.core.includes(model.bodies[i]!.present),
    ),
  )
  return (verdict === 'none' && named.length > 0 ? named : required).map((b) => b.index)
}

/** Those of `all` that the core names; all of them where it names none (then anything is too much). */
const inOrder = (all: readonly number[], core: readonly number[]): number[] => all.filter((g) => core.includes(g))
