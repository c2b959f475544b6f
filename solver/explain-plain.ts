/**
 * Conflicts of too much for too little room. Where every rule stands behind a literal nothing knows of areas, and such a conflict is not even
 * refuted; a plain search that does not ask some of the rules is, for whatever it leaves out. And where a layout breaks one rule of the
 * conflict and no other, that one is needed (rotation of models: Belov & Marques-Silva 2011).
 */
import { check } from './check/check.ts'
import { type Clock, inSlices } from './clock.ts'
import { compile } from './compile.ts'
import type { Placement, Problem } from './problem.ts'
import { type Asks, type Instance, OutOfTime } from './search/model.ts'
import { Search } from './search/search.ts'
import { bounds, prepare } from './shapes.ts'
import { type Turn, turnedSize, um } from './units.ts'
import { asksPlaced } from './words-asked.ts'

/** Most conflicts in which all rules together are refuted. */
const TRY = 20_000

/** Most in which they mostly are without what is seldom needed. */
const BARE = 4000

/** What a try without some of them may take against that. */
const mostWithout = (conflicts: number): number => 1.5 * conflicts + 1000

/** Without these a body may stand where a plain search does not look. */
const TIED = ['R1', 'R6', 'R10']

/** A name may have blanks in it. */
const keyOf = (rule: string, items: readonly string[], text = ''): string =>
  JSON.stringify([rule, [...items].sort(), text])

/**
 * One of a rule's instances, in any model of the problem. Items say which, but for these, of which one item can have several: there the
 * text does, which is of the problem alone. (Others tell what bodies' modes come to, and where conflicts are explained there are more.)
 */
export const sameOf = ({ rule, items, text }: Pick<Instance, 'rule' | 'items' | 'text'>): string =>
  keyOf(rule, items, rule === 'R9' || rule === 'R10' ? text() : '')

const indexOf = (problem: Problem, id: string): number => problem.items.findIndex((i) => i.id === id)

/** In how many conflicts the problem, without the dropped rules, is refuted; or a layout of it; none = it does not say. */
function* refuted(
  problem: Problem,
  dropped: readonly Instance[],
  clock: Clock,
  /** Of one rule all items or none: those that are alike still are. */
  evenly: boolean,
  most: number,
  near: readonly Placement[] = [],
): Generator<undefined, number | readonly Placement[] | undefined> {
  const gone = new Set(dropped.map(sameOf))
  const asks: Asks = (rule, items, text) => !gone.has(sameOf({ rule, items, text }))
  let search: Search
  try {
    search = new Search(compile(problem, { asks, interchange: evenly, over: clock.over }))
  } catch (e) {
    if (e instanceof OutOfTime) return undefined
    throw e
  }
  search.sparse = true
  search.follow(near)
  const verdict = yield* inSlices(search, [], clock, most)
  if (verdict === 'stopped') return undefined
  if (verdict === 'none') return dropped.some((n) => TIED.includes(n.rule)) ? undefined : search.model.e.conflicts
  return search.placements()
}

/** Which of these a layout may break; undefined where what it breaks cannot be told from others. */
function broken(problem: Problem, core: readonly Instance[], layout: readonly Placement[]): Instance[] | undefined {
  const rules = new Set(core.map((n) => n.rule))
  const out = new Set<Instance>()
  for (const f of check(problem, layout, rules)) {
    if (f.rule === 'R7' || f.rule === 'R10') return undefined
    // findings name more: decks, openings, a part whose pins are in the way, and any of these may be called as an item is
    for (const n of core) if (n.rule === f.rule && n.items.every((i) => f.items.includes(i))) out.add(n)
  }
  return [...out]
}

/** Layouts without one item, with that item where it breaks the rule and perhaps no other. */
function* breaking(
  problem: Problem,
  { rule, items }: Instance,
  without: ReadonlyMap<number, readonly Placement[]>,
): Generator<readonly Placement[]> {
  for (const id of items) {
    const item = indexOf(problem, id)
    const others = without.get(item)
    const it = problem.items[item]
    if (!it || !others) continue
    if (rule === 'R1') {
      const deck = it.decks[0]!
      const { x, y, w } = bounds(prepare(problem.decks[deck]!.outline))
      // well beyond everything
      const off = (v: number) => um(Math.ceil((v + 1e6 * (item + 1)) / problem.grid) * problem.grid)
      yield [...others, { item, deck, at: { x: off(x + w), y: off(y) }, turn: it.turns[0]! }]
    }
    if (rule !== 'R2') continue
    const under = others.find((p) => items.includes(problem.items[p.item]!.id))
    if (!under || !it.decks.includes(under.deck)) continue
    const size = (i: number, turn: Turn) =>
      turnedSize(problem.items[i]!.footprint.width, problem.items[i]!.footprint.depth, turn)
    const host = size(under.item, under.turn)
    for (const turn of it.turns) {
      const own = size(item, turn)
      for (const u of [0.5, 0, 1])
        for (const v of [0.5, 0, 1]) {
          const on = (at: number, room: number) => um(Math.round((at + room) / problem.grid) * problem.grid)
          const at = { x: on(under.at.x, u * (host.w - own.w)), y: on(under.at.y, v * (host.h - own.h)) }
          yield [...others, { item, deck: under.deck, at, turn }]
        }
    }
  }
}

export interface Shrunk {
  readonly core: readonly Instance[]
  /** Those of it without which there is a layout. */
  readonly needed: readonly Instance[]
}

/**
 * A part of `all` that has no layout either, and which of it are known to be needed. `without`: for items of the problem, all the others in
 * a legal layout. None where `all` is not refuted in time.
 */
export function* shrinkPlainly(
  problem: Problem,
  all: readonly Instance[],
  without: ReadonlyMap<number, readonly Placement[]>,
  clock: Clock,
): Generator<undefined, Shrunk | undefined> {
  const bare = yield* refuted(problem, all.filter(isOther), clock, true, BARE)
  const first = typeof bare === 'number' ? bare : yield* refuted(problem, [], clock, true, TRY)
  if (typeof first !== 'number') return undefined
  const part = new Part(problem, all, without, clock, mostWithout(first))
  if (typeof bare === 'number') part.core = all.filter((n) => !isOther(n))
  else yield* part.dropKinds()
  part.lookAt()
  yield* part.narrow(part.core.filter((n) => n.rule !== 'R1' && !isPlaced(n)))
  return { core: part.core, needed: part.core.filter((n) => part.needed.has(n)) }
}

/** What is left of a conflict while it is cut down. */
class Part {
  private readonly problem: Problem
  private readonly all: readonly Instance[]
  private readonly without: ReadonlyMap<number, readonly Placement[]>
  private readonly clock: Clock
  /** Conflicts in a try. */
  private readonly most: number
  core: readonly Instance[]
  readonly needed = new Set<Instance>()

  constructor(
    problem: Problem,
    all: readonly Instance[],
    without: ReadonlyMap<number, readonly Placement[]>,
    clock: Clock,
    most: number,
  ) {
    this.problem = problem
    this.all = all
    this.without = without
    this.clock = clock
    this.most = most
    this.core = all
  }

  /** Most rules have no part in it: as many at once as can be, then rule by rule, zone by zone. */
  *dropKinds(): Generator<undefined, void> {
    const named = new Set(this.problem.items.map((i) => i.id))
    const about = (n: Instance) =>
      keyOf(
        n.rule,
        n.items.filter((i) => !named.has(i)),
      )
    const others = this.core.filter(isOther)
    if (others.length === 0 || (yield* this.leaveOut(others))) return
    const kinds = new Set(others.map(about))
    if (kinds.size > 1) for (const key of kinds) yield* this.leaveOut(this.core.filter((n) => about(n) === key))
  }

  /** Of each, whether a known layout without an item shows that it is needed. */
  lookAt(): void {
    const { problem, without, needed } = this
    for (const one of this.core) {
      if (this.clock.over()) return
      if (isPlaced(one)) {
        if (without.has(indexOf(problem, one.items[0]!))) needed.add(one)
        continue
      }
      for (const layout of breaking(problem, one, without)) {
        this.learn(layout)
        if (needed.has(one)) break
      }
    }
  }

  /** Leaves out what it can of these: together, then in halves, as to refute what can do without takes longer than to find a layout of what cannot. */
  *narrow(list: readonly Instance[]): Generator<undefined, void> {
    const open = list.filter((n) => !this.needed.has(n))
    const near = open.flatMap((n) => n.items.map((id) => this.without.get(indexOf(this.problem, id)))).find((l) => l)
    if (!near || this.clock.over() || (yield* this.leaveOut(open, near)) || open.length === 1) return
    const half = open.length >> 1
    yield* this.narrow(open.slice(0, half))
    yield* this.narrow(open.slice(half))
  }

  /** Whether it is a conflict without these; then they are gone. */
  private *leaveOut(some: readonly Instance[], near?: readonly Placement[]): Generator<undefined, boolean> {
    const rest = this.core.filter((n) => !some.includes(n))
    const dropped = this.all.filter((n) => !rest.includes(n))
    const found = yield* refuted(this.problem, dropped, this.clock, near === undefined, this.most, near)
    if (typeof found === 'number') this.core = rest
    else if (found) this.learn(found)
    return typeof found === 'number'
  }

  /** A layout that breaks one of them and no other: that one is needed. */
  private learn(layout: readonly Placement[]): void {
    const those = broken(this.problem, this.core, layout)
    if (those?.length === 1) this.needed.add(those[0]!)
  }
}

/** Most conflicts do without these. */
const isOther = ({ rule }: Instance): boolean => rule !== 'R2' && !TIED.includes(rule)

const isPlaced = (n: Instance): boolean => n.rule === 'R10' && asksPlaced({ ...n, text: n.text() })
