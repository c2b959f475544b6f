/** Why nothing fits: an irreducible set of rules, by dropping one after the other (deletion filter, Chinneck & Dravnieks 1991). */
import { type Clock, inSlices } from './clock.ts'
import { compile } from './compile.ts'
import { type Asked, asking, culprits, fewest } from './explain-items.ts'
import { sameOf, shrinkPlainly } from './explain-plain.ts'
import { askLazily, type LazyRule } from './lazy.ts'
import type { Item, Placement, Problem } from './problem.ts'
import { restrict } from './restrict.ts'
import type { SolveResult } from './result.ts'
import { longest } from './rules/r7-wires.ts'
import { Search } from './search/search.ts'
import { bounds, prepare } from './shapes.ts'
import { area } from './shapes-outline.ts'
import { type Rect, um } from './units.ts'
import { asksPlaced } from './words-asked.ts'

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
  const found = lazy.length > 0 ? undefined : yield* ofFew(must, clock)
  // what the part left out may have been needed after all
  const told = found ?? (yield* shrink(must, clock, lazy))
  if (!told || told === 'stopped') throw new Error('a deck called infeasible has a layout')
  return lazy.length > 0 ? told : yield* farOff(must, told, clock)
}

/** A conflict of some of the items only; undefined where these can be placed without the rest. */
function* ofFew(problem: Problem, clock: Clock): Generator<undefined, Infeasible | undefined> {
  const asked = asking(problem)
  const named = yield* culprits(asked, clock)
  if (fillDecks(problem, named)) return yield* ofTooMuch(asked, clock)
  const plugged = named.some((i) => problem.items[i]!.footprint.mount.kind === 'plug-in')
  const soon = yield* shrink(restrict(problem, named), clock, [], { conflicts: plugged ? PLUGGED : BRIEF })
  return soon === 'stopped' ? yield* ofTooMuch(asked, clock) : soon
}

/** Whether these alone nearly cover the decks that they may stand on: then it is seldom a few rules that forbid them. */
function fillDecks({ items, decks }: Problem, named: readonly number[]): boolean {
  const standing = named.map((i) => items[i]!).filter((i) => i.footprint.mount.kind !== 'plug-in')
  const on = [...new Set(standing.flatMap((i) => i.decks))].map((d) => area(decks[d]!.outline))
  return standing.length >= MANY && sum(standing.map(({ footprint: f }) => f.width * f.depth)) > FULL * sum(on)
}

/** A conflict of some of the items where there is too much for too little room: of few large ones, refuted plainly. */
export function* ofTooMuch(asked: Asked, clock: Clock): Generator<undefined, Infeasible | undefined> {
  const { problem } = asked
  const { items, without } = yield* fewest(asked, clock)
  const part = restrict(problem, items)
  const places = new Map(part.items.map((it, k) => [it.id, k]))
  const now = (i: number) => places.get(problem.items[i]!.id)
  const inPart = (layout: readonly Placement[]) =>
    layout.flatMap(({ host, ...p }): Placement[] => {
      const [item, on] = [now(p.item), host === undefined ? undefined : now(host)]
      return item === undefined ? [] : [{ ...p, item, ...(on === undefined ? {} : { host: on }) }]
    })
  const known = new Map([...without].map(([i, layout]) => [now(i)!, inPart(layout)]))
  const told = yield* shrink(part, clock, [], { without: known })
  return told === 'stopped' ? undefined : told
}

/** The conflict, or another one of its items: what a body with no R1 is held to may lie far off its deck, where nothing was looked at. */
function* farOff(problem: Problem, found: Infeasible, clock: Clock): Generator<undefined, Infeasible> {
  const { conflict } = found
  const named = (list: Infeasible['conflict']) => new Set(list.flatMap((c) => c.items))
  const onDeck = named(conflict.filter((c) => c.rule === 'R1'))
  const held = named(conflict.filter((c) => c.rule === 'R7' || (c.rule === 'R10' && !asksPlaced(c))))
  // copies may be named together
  const has = (ids: ReadonlySet<string>, { id, base }: Item) => ids.has(id) || ids.has(base)
  const indices = (ids: ReadonlySet<string>) => [...problem.items.keys()].filter((i) => has(ids, problem.items[i]!))
  if (!found.conflictIrreducible || indices(held).every((i) => onDeck.has(problem.items[i]!.id))) return found
  const part = restrict(problem, indices(named(conflict)))
  const room = roomOf(part)
  const model = compile(part, { explaining: true, room })
  const those = new Set(conflict.map((c) => sameOf({ ...c, text: () => c.text })))
  const members = model.instances.filter((n) => those.has(sameOf(n)))
  const verdict = yield* inSlices(
    new Search(model),
    members.map((n) => n.guard),
    clock,
  )
  if (verdict === 'none') return found
  const wide = verdict === 'found' ? yield* shrink(part, clock, [], { room }) : undefined
  return wide && wide !== 'stopped' && wide.conflictIrreducible ? wide : { ...found, conflictIrreducible: false }
}

const sum = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0)

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
  return Math.max(0, ...past) + sum(sizes) + sum(nears) + sum(lengths) + problem.itemClearance * items.length
}

/** The share of decks that is no longer covered by chance: bodies that are too much for them are 0.94 of their area and more, others 0.2. */
const FULL = 0.9

/** Of fewer bodies what forbids them is found soon in any case. */
const MANY = 5

/** What a few rules forbid is refuted in so many conflicts, under a lid in 200 to 600; too much for too little room mostly is not. */
const BRIEF = 600

/** Too many parts for a board are, but in more. */
const PLUGGED = 20_000

interface How {
  /** So far beyond their decks bodies may stand, Um. */
  readonly room?: number
  /** Most conflicts in a refutation; what takes more is 'stopped'. */
  readonly conflicts?: number
  /** Plainly, as `shrinkPlainly` takes them. */
  readonly without?: ReadonlyMap<number, readonly Placement[]>
}

/** An irreducible conflict of the problem; undefined where it has a layout, 'stopped' where a refutation takes too long. */
function* shrink(
  problem: Problem,
  clock: Clock,
  lazy: readonly LazyRule[],
  { room, conflicts, without }: How = {},
): Generator<undefined, Infeasible | 'stopped' | undefined> {
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
  const plainly = without && (yield* shrinkPlainly(problem, instances, without, clock))
  const start = plainly ?? { core: instances, needed: [] }
  let core: readonly number[] = start.core.map((n) => n.guard)
  if (!plainly) {
    const first = yield* inSlices(search, core, clock, conflicts)
    if (first === 'found') return undefined
    if (first === 'stopped') return conflicts === undefined || clock.over() ? done(core, false) : first
    core = inOrder(core, search.core)
  }
  const needed = start.needed.map((n) => n.guard)
  const { left, open } = yield* deletion(search, core, needed, clock, conflicts)
  if (open && conflicts !== undefined && !clock.over()) return 'stopped'
  return done(left, !open)
}

/** What is left of a core with whatever it can do without dropped, one after the other; `open`: a refutation took too long, and more could go. */
function* deletion(
  search: Search,
  core: readonly number[],
  known: readonly number[],
  clock: Clock,
  conflicts: number | undefined,
): Generator<undefined, { readonly left: readonly number[]; readonly open: boolean }> {
  let left = core
  const needed = new Set(known)
  for (;;) {
    const candidate = left.find((g) => !needed.has(g))
    if (candidate === undefined) return { left, open: false }
    const rest = left.filter((g) => g !== candidate)
    const verdict = yield* inSlices(search, rest, clock, conflicts)
    search.model.e.backTo(0)
    if (verdict === 'stopped') return { left, open: true }
    if (verdict === 'found') needed.add(candidate)
    else left = inOrder(rest, search.core)
  }
}

/** Those of `all` that the core names; all of them where it names none (then anything is too much). */
const inOrder = (all: readonly number[], core: readonly number[]): number[] => all.filter((g) => core.includes(g))
