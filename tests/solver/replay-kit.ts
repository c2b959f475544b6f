/** Replays what a solve deduced and learned against layouts that the checker calls legal. */
import { check } from '../../solver/check/check.ts'
import { figures } from '../../solver/check/figures.ts'
import { compile } from '../../solver/compile.ts'
import type { ObjectiveName, Placement, Problem } from '../../solver/problem.ts'
import { ProofLog } from '../../solver/proof/steps.ts'
import type { SolveResult } from '../../solver/result.ts'
import { alike } from '../../solver/search/alike.ts'
import { leastByChain } from '../../solver/search/chain-limit.ts'
import type { Engine } from '../../solver/search/engine.ts'
import { type Goal, goalsOf } from '../../solver/search/goals.ts'
import type { Body, Model } from '../../solver/search/model.ts'
import { sameAfterTurn } from '../../solver/search/parts.ts'
import { firstAtLeast } from '../../solver/search/relation.ts'
import { Search } from '../../solver/search/search.ts'
import { type Candidate, chainsOf, wireEnds } from '../../solver/search/wire-ends.ts'
import type { WireGoal } from '../../solver/search/wire-goal.ts'
import { span } from '../../solver/search/within.ts'
import { bounds, prepare } from '../../solver/shapes.ts'
import { solving } from '../../solver/solve.ts'
import { type Turn, turnedSize, turnRect, um } from '../../solver/units.ts'
import { brute } from './oracle/brute.ts'
import { freeStands, nothingOff, seatedStands } from './oracle/candidates.ts'
import { placementsOf } from './oracle/compare.ts'
import { type Rng, rng } from './oracle/random.ts'
import { type Stand, stand } from './oracle/stand.ts'

interface Clause {
  readonly kind: 'given' | 'deduced' | 'learned' | 'bound'
  readonly by: string
  /** One of these holds. */
  readonly lits: readonly number[]
}

/** Keeps everything, each clause once. */
export class Recorder extends ProofLog {
  readonly every = true
  aborted = false
  readonly clauses = new Map<string, Clause>()
  readonly thresholds: { readonly goal: string; readonly value: number; readonly guard: number }[] = []

  get engine(): Engine {
    return this.e
  }

  private keep(kind: Clause['kind'], by: string, lits: readonly number[]): void {
    if (lits.includes(-1)) return
    const open = lits.filter((l) => l !== -2)
    const key = open.join()
    if (!this.clauses.has(key)) this.clauses.set(key, { kind, by, lits: open })
  }

  given(lits: readonly number[]): void {
    this.keep('given', 'given', lits)
  }

  asked(goal: string, value: number, guard: number): void {
    this.thresholds.push({ goal, value, guard })
  }

  deduced(lit: number, reason: ArrayLike<number>, by: object | undefined): void {
    this.keep('deduced', by?.constructor.name ?? '?', [lit, ...Array.from(reason, (l) => l ^ 1)])
  }

  learned(lits: ArrayLike<number>): void {
    this.keep('learned', 'learning', Array.from(lits))
  }

  forgot(): void {}

  protected wroteBound(goal: string | undefined, _value: number, held: readonly number[]): void {
    // why there is none is another matter
    if (goal === undefined) this.aborted = true
    this.keep(
      'bound',
      goal ?? 'no layout',
      held.map((l) => l ^ 1),
    )
  }
}

export interface Recorded {
  readonly log: Recorder
  /** A sentence where it throws. */
  readonly result: SolveResult | string
  /** Every layout that the solve went through. */
  readonly layouts: readonly (readonly Placement[])[]
}

/** A solve that keeps its proof. */
export function recorded(p: Problem, steps: number): Recorded {
  const log = new Recorder()
  const layouts: (readonly Placement[])[] = []
  const run = solving(
    p,
    { steps, signal: log, onProgress: (x) => void (x.placements && layouts.push(x.placements)) },
    log,
  )
  for (;;) {
    try {
      const next = run.next()
      if (next.done) return { log, result: next.value, layouts }
    } catch (e) {
      return { log, result: `throws ${e instanceof Error ? e.message : String(e)}`, layouts }
    }
  }
}

/** Legal layouts: those known, the best of brute force, and what single moves make of them. */
export function legalLayouts(p: Problem, known: readonly (readonly Placement[])[], seed: number, most: number) {
  const r = rng(seed)
  const out = new Map<string, readonly Placement[]>()
  const add = (l: readonly Placement[]): void => {
    const sorted = [...l].sort((a, b) => a.item - b.item)
    out.set(JSON.stringify(sorted), sorted)
  }
  for (const l of known) add(l)
  const b = brute(p, { limit: known.length > 0 ? 4000 : 20_000, feasibilityOnly: known.length > 0 })
  if (b.status === 'optimal') add(placementsOf(b.layout))
  for (let tries = 0; tries < 12 * most && out.size > 0 && out.size < most; tries++) {
    const next = moved(p, r, r.pick([...out.values()]))
    if (next && check(p, next).length === 0) add(next)
  }
  return [...out.values()].slice(-most)
}

/** One item stands elsewhere, or comes or goes. */
function moved(p: Problem, r: Rng, from: readonly Placement[]): Placement[] | undefined {
  const item = r.int(0, p.items.length - 1)
  const rest = from.filter((q) => q.item !== item)
  if (!p.items[item]!.required && r.chance(0.2)) return rest
  const plug = p.items[item]!.footprint.mount.kind === 'plug-in'
  const hosts = rest.filter((q) => p.items[q.item]!.footprint.breadboard && q.host === undefined)
  if (plug && hosts.length === 0) return undefined
  const host = plug ? r.pick(hosts) : undefined
  const stands = host
    ? seatedStands(p, item, stand(p, { ...host, x: host.at.x, y: host.at.y }))
    : freeStands(p, item, nothingOff)
  if (stands.length === 0) return undefined
  const layout: (Stand | undefined)[] = p.items.map(() => undefined)
  layout[item] = r.pick(stands)
  return [...rest, ...placementsOf(layout)]
}

/**
 * The layout, and, where that is no position of the model's, what becomes of it and its mirror images when all is pushed
 * left and back. (Only decks on which that costs nothing have such models: solver/bounds/normal.ts.)
 */
function* images(model: Model, layout: readonly Placement[]): Generator<readonly Placement[]> {
  yield layout
  const p = model.problem
  const box = bounds(prepare(p.decks[0]!.outline))
  if (p.decks.length > 1) return
  for (const flip of [[], ['x'], ['y'], ['x', 'y']] as ('x' | 'y')[][]) {
    const image = layout.map((q): Placement => {
      const f = p.items[q.item]!.footprint
      const { w, h } = turnedSize(f.width, f.depth, q.turn)
      const x = flip.includes('x') ? um(2 * box.x + box.w - w - q.at.x) : q.at.x
      const y = flip.includes('y') ? um(2 * box.y + box.h - h - q.at.y) : q.at.y
      return { ...q, at: { x, y } }
    })
    if (check(p, image).length > 0) continue
    yield pushed(p, image)
  }
}

/** Every body as far left, then as far back, as it goes step by step, until nothing moves. */
function pushed(p: Problem, layout: readonly Placement[]): Placement[] {
  let out = [...layout]
  for (let moving = true; moving; ) {
    moving = false
    for (const axis of ['x', 'y'] as const)
      for (let k = 0; k < out.length; k++)
        for (;;) {
          const q = out[k]!
          const next = [...out]
          next[k] = { ...q, at: { ...q.at, [axis]: um(q.at[axis] - p.grid) } }
          if (check(p, next).length > 0) break
          out = next
          moving = true
        }
  }
  return out
}

/** How far along its unturned board, Um, the corner of a plug-in part's body is. */
function along(p: Problem, layout: readonly Placement[], q: Placement): number {
  const board = layout.find((b) => b.item === q.host)!
  const f = p.items[board.item]!.footprint
  const part = p.items[q.item]!.footprint
  const size = turnedSize(part.width, part.depth, q.turn)
  const turned = turnedSize(f.width, f.depth, board.turn)
  const on = { x: um(q.at.x - board.at.x), y: um(q.at.y - board.at.y), ...size }
  return turnRect(on, turned.w, turned.h, ((4 - board.turn) & 3) as Turn).x
}

/** The same layout as the search names it: of turns that look alike the one it knows; copies deck by deck, from left to right, or board by board, along each. */
function* namings(model: Model, layout: readonly Placement[]): Generator<Placement[]> {
  const { problem, bodies } = model
  const turned = layout.map((p): Placement => {
    const body = bodies[p.item]!
    const has = (turn: number) => body.modes.some((m) => m.turn === turn && m.deck === p.deck)
    if (has(p.turn)) return p
    const turn = body.item.turns.find((t) => has(t) && sameAfterTurn(body.footprint, t, p.turn))
    return turn === undefined ? p : { ...p, turn }
  })
  // what is plugged in is named by its board's new name
  const plugged = (g: readonly number[]) => Number(bodies[g[0]!]!.seating !== undefined)
  const groups = alike(problem).sort((a, b) => plugged(a) - plugged(b))
  for (let set = 0; set < 1 << groups.length; set++) {
    const name = new Map<number, number>()
    groups.forEach((copies, k) => {
      if (!(set & (1 << k))) return
      const key = (p: Placement): readonly [number, number] =>
        p.host === undefined ? [p.deck, p.at.x] : [name.get(p.host) ?? p.host, along(problem, turned, p)]
      const placed = turned
        .filter((p) => copies.includes(p.item))
        .sort((a, b) => key(a)[0] - key(b)[0] || key(a)[1] - key(b)[1])
      placed.forEach((p, i) => void name.set(p.item, copies[i]!))
    })
    const now = (i: number) => name.get(i) ?? i
    yield turned.map((p) => ({ ...p, item: now(p.item), ...(p.host === undefined ? {} : { host: now(p.host) }) }))
  }
}

/** Literals that say where everything stands; undefined where the model has no such position. */
function literals(model: Model, layout: readonly Placement[]): number[] | undefined {
  const { e } = model
  const out: number[] = []
  for (const b of model.bodies) {
    const p = layout.find((q) => q.item === b.index)
    if (!p) {
      out.push(e.not(b.present))
      continue
    }
    const mode = b.modes.find((m) => m.deck === p.deck && m.turn === p.turn && m.host === (p.host ?? -1))
    const kx = firstAtLeast(b.x.values, p.at.x)
    const ky = firstAtLeast(b.y.values, p.at.y)
    if (!mode || b.x.values[kx] !== p.at.x || b.y.values[ky] !== p.at.y) return undefined
    out.push(b.present, mode.lit, e.ge(b.x.v, kx), e.lt(b.x.v, kx + 1), e.ge(b.y.v, ky), e.lt(b.y.v, ky + 1))
  }
  return out.filter((l) => l >= 0)
}

/** Relations as the layout has them: one that holds is true, or, now and then, left open. */
function relations(model: Model, layout: readonly Placement[], r: Rng): number[] {
  const at = (b: Body) => layout.find((p) => p.item === b.index)
  return model.relations.flatMap((g) => {
    const p = at(g.a)
    const q = at(g.b)
    if (!p || !q) return []
    return g.four.flatMap((one) => (one.holdsAt(g.a, p, g.b, q) && r.chance(0.8) ? [one.lit] : []))
  })
}

/** Decides all of it on an engine; false = it contradicts what the engine knows. Leaves the engine as it then stands. */
function holds(e: Engine, lits: readonly number[]): boolean {
  if (!e.ok) return false
  e.backTo(0)
  if (!e.propagate()) return false
  for (const l of lits) {
    if (e.isTrue(l)) continue
    if (e.isFalse(l)) return false
    e.decide(l)
    if (!e.propagate()) return false
  }
  return true
}

/** Of the chains of passes that each wire could take, and of the copies it could end at, the nearest: the search may pick any, but promises a length only by these. */
function nearest(model: Model, wires: Goal): number[] {
  const { e, problem } = model
  const { picks, ends } = (wires as WireGoal).flow
  const deckOf = (c: Candidate): number => (c.body ? model.modeOf(c.body)!.deck : c.decks[0]!.deck)
  const between = (p: Candidate, q: Candidate): number => {
    const [dp, dq] = [deckOf(p), deckOf(q)]
    if (dp === dq) return span(e, p.tip.x, q.tip.x, 1).least + span(e, p.tip.y, q.tip.y, 1).least
    return (
      leastByChain(e, p.tip, q.tip, chainsOf(model, dp, dq)) + Math.abs(problem.decks[dp]!.z - problem.decks[dq]!.z)
    )
  }
  const out: number[] = []
  for (const [i, w] of wireEnds(model).entries()) {
    const [from, to] = [w.from, w.to].map((list) => list.flatMap((c, k) => (e.isTrue(c.lit) ? [{ c, k }] : [])))
    let best: { readonly far: number; readonly p: number; readonly q: number } | undefined
    for (const p of from!)
      for (const q of to!) {
        const far = between(p.c, q.c)
        if (!best || far < best.far) best = { far, p: p.k, q: q.k }
      }
    // where the other end is nothing, any will do
    const p = best?.p ?? from![0]?.k
    const q = best?.q ?? to![0]?.k
    const [a, b] = [ends.get(`${i}<`), ends.get(`${i}>`)]
    if (a && p !== undefined) out.push(a[p]!)
    if (b && q !== undefined) out.push(b[q]!)
  }
  for (const [key, lits] of picks) {
    const [wire, from, to] = key.split(':').map(Number) as [number, number, number]
    const { tip: p } = wireEnds(model)[wire]!.from[0]!
    const { tip: q } = wireEnds(model)[wire]!.to[0]!
    const lengths = chainsOf(model, from, to).map((c) => leastByChain(e, p, q, [c]))
    const best = lengths.indexOf(Math.min(...lengths))
    if (best >= 0) out.push(lits[best]!)
  }
  return out
}

/** The assumptions under which the model takes the layout, or one that is worth the same; undefined where it has no place for it. */
function standing(
  p: Problem,
  search: Search,
  layout: readonly Placement[],
  met: readonly number[],
  wires: Goal | undefined,
  r: Rng,
): number[] | undefined {
  const { model } = search
  for (const image of images(model, layout))
    for (const named of namings(model, image)) {
      const lits = literals(model, named)
      if (!lits || check(p, named).length > 0) continue
      model.e.backTo(0)
      const there = [...lits, ...relations(model, named, r)]
      if (search.run(there, () => false) !== 'found') continue
      const assumed = [...there, ...(wires ? nearest(model, wires) : []), ...met]
      model.e.backTo(0)
      if (search.run(assumed, () => false) === 'found') return assumed
    }
  return undefined
}

/** Complaints: sentences about whatever excludes a legal layout. `counts` sums up how much was looked at. */
export function replayComplaints(
  p: Problem,
  seed: number,
  steps: number,
  counts: { layouts: number; clauses: number; learned: number; tight: number },
): string[] {
  const { log, result, layouts } = recorded(p, steps)
  const all = legalLayouts(p, layouts, seed, 10)
  const out: string[] = []
  if (typeof result === 'string') out.push(`seed ${seed}: ${result}`)
  else if (result.status === 'infeasible' && all.length > 0)
    out.push(`seed ${seed}: called infeasible, but a legal layout is known`)
  const model = compile(p, { held: [], turns: new Map() })
  const goals = new Map<string, Goal>()
  if (layouts.length > 0) for (const g of goalsOf(model)) if (g.goal) goals.set(g.name, g.goal)
  const begun = new Set<Goal>()
  for (const t of log.thresholds) {
    // a goal makes what it needs when its turn comes
    for (const g of goals.values()) {
      if (!begun.has(g)) g.begin?.()
      begun.add(g)
      if (g.name === t.goal) break
    }
    if (model.e.newBool() !== t.guard) throw new Error('the solve and its replay number their variables differently')
    goals.get(t.goal)!.require(t.value, t.guard)
  }
  const search = new Search(model)
  const clauses = [...log.clauses.values()]
  counts.learned += clauses.filter((c) => c.kind === 'learned').length
  counts.clauses += clauses.length
  const r = rng(seed + 77)
  for (const layout of all) {
    const f = figures(p, layout)
    const value = (name: ObjectiveName) =>
      ({
        'free-tie-points': f.freeTiePoints,
        'optional-value': f.optionalValue,
        'new-holes': f.newHoles,
        'wire-length': f.wireLength,
        balance: f.balance ?? 0,
      })[name]
    // a threshold's literal is true where the layout meets it, with a hair to spare where values are no whole numbers
    const met = log.thresholds.map((t) => {
      const goal = goals.get(t.goal)!
      const spare = (value(t.goal as ObjectiveName) / goal.scale - t.value) * goal.sign
      return spare >= (goal.step === 1 ? -1e-9 : 1e-3) ? t.guard : t.guard ^ 1
    })
    if (met.some((l) => (l & 1) === 0)) counts.tight++
    counts.layouts++
    const say = `seed ${seed}, layout ${JSON.stringify(layout)}`
    const found = standing(p, search, layout, met, goals.get('wire-length'), r)
    if (!found) {
      out.push(`${say}: the model itself has no place for it`)
      continue
    }
    const { e } = model
    for (const c of clauses)
      if (c.lits.every((l) => e.isFalse(l)))
        out.push(`${say}: excluded by a clause ${c.kind} by ${c.by}: ${c.lits.join(' ')}`)
    if (!holds(log.engine, found)) out.push(`${say}: excluded by all that the solve's engine knows`)
  }
  return out
}
