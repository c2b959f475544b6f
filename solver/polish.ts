/**
 * The linear programme over a layout's fixed relations: with every pair's order kept, bodies slide along one axis to the
 * least wire length. Posed in grid steps (separations rounded up), so that every vertex is whole: the constraints are
 * differences of two unknowns, a totally unimodular system. One axis after the other, until neither gains.
 */
import lp from 'javascript-lp-solver'
import { check } from './check/check.ts'
import { figures } from './check/figures.ts'
import { firstFinding, type LazyRule } from './lazy.ts'
import type { Placement, Problem } from './problem.ts'
import type { Figures } from './result.ts'
import type { Chain } from './search/chains.ts'
import type { Body, Mode, Model } from './search/model.ts'
import { at } from './search/parts.ts'
import { modeAt } from './search/placed.ts'
import { type End, firstAtLeast } from './search/relation.ts'
import { chainsOf, riseBetween } from './search/wire-ends.ts'
import { um } from './units.ts'

type AxisName = 'x' | 'y'

export interface Polished {
  readonly placements: readonly Placement[]
  /** Σ length × conductors, Um. */
  readonly value: number
}

/**
 * A layout with less wire than `value` (Um), checked like any other; undefined where sliding gains nothing. `allowed` has
 * the last word: what was settled before wires must not get worse.
 */
export function polish(
  problem: Problem,
  model: Model,
  placements: readonly Placement[],
  value: number,
  allowed: (f: Figures) => boolean,
  lazy: readonly LazyRule[] = [],
): Polished | undefined {
  let best: Polished = { placements, value }
  for (let round = 0; round < 4; round++) {
    const before = best.value
    for (const axis of ['x', 'y'] as const) {
      const moved = slideLegally(problem, model, best.placements, axis)
      if (!moved || firstFinding(lazy, problem, moved)) continue
      const now = figures(problem, moved)
      const length = now.wireLength
      if (length < best.value && allowed(now)) best = { placements: moved, value: length }
    }
    if (best.value === before) break
  }
  return best.value < value ? best : undefined
}

/** What the programme knows nothing of (sweeps, holes, leads) may forbid a slide: bodies that it names stay, and the others slide. */
function slideLegally(
  problem: Problem,
  model: Model,
  placements: readonly Placement[],
  axis: AxisName,
): Placement[] | undefined {
  const stay = new Set<number>()
  for (let tries = 0; tries < 6; tries++) {
    const moved = slide(problem, model, placements, axis, stay)
    const findings = moved ? check(problem, moved) : []
    if (!moved || findings.length === 0) return moved
    const named = new Set(findings.flatMap((f) => f.items))
    const before = stay.size
    for (const q of moved) if (named.has(problem.items[q.item]!.id)) stay.add(q.host ?? q.item)
    if (stay.size === before) return undefined
  }
  return undefined
}

/** Where a body's corner is: `base` + grid·steps of the body that carries it (itself, or its host); nothing carries a fixed one. */
interface Slider {
  readonly mode: Mode
  readonly carrier: number
  readonly base: number
}

interface Programme {
  readonly constraints: Record<string, { min?: number; max?: number }>
  readonly variables: Record<string, Record<string, number>>
}

function slide(
  problem: Problem,
  model: Model,
  placements: readonly Placement[],
  axis: AxisName,
  stay: ReadonlySet<number>,
): Placement[] | undefined {
  const { grid } = problem
  const sliders = new Map<number, Slider>()
  const p: Programme = { constraints: {}, variables: {} }
  const own = placements.filter((q) => q.host === undefined)
  for (const q of [...own, ...placements.filter((o) => o.host !== undefined)]) {
    const body = model.bodies[q.item]!
    const mode = modeAt(body.modes, q)
    if (!mode) return undefined
    if (q.host !== undefined) {
      const host = sliders.get(q.host)
      const stands = placements.find((o) => o.item === q.host)
      if (!host || !stands) return undefined
      sliders.set(q.item, { mode, carrier: host.carrier, base: host.base + q.at[axis] - stands.at[axis] })
      continue
    }
    const run = legalRun(body, mode, q, axis)
    const free = run !== undefined && run.hi > run.lo && q.at[axis] % grid === 0 && !stay.has(q.item)
    const base = free ? body[axis].values[run.lo]! : q.at[axis]
    sliders.set(q.item, { mode, carrier: free ? q.item : -1, base })
    if (!free) continue
    p.variables[`k${q.item}`] = { cost: 0, [`top${q.item}`]: 1 }
    p.constraints[`top${q.item}`] = { max: Math.floor((body[axis].values[run.hi]! - base) / grid) }
  }
  keepOrder(model, placements, sliders, axis, p, grid)
  if (!addWires(problem, model, sliders, placements, axis, p, grid)) return undefined
  const answer = lp.Solve({
    optimize: 'cost',
    opType: 'min',
    constraints: p.constraints,
    variables: p.variables,
  } as never) as Record<string, number | boolean>
  if (answer.feasible !== true) return undefined
  return placements.map((q) => {
    const s = sliders.get(q.item)!
    const steps = s.carrier < 0 ? 0 : Math.round(Number(answer[`k${s.carrier}`] ?? 0))
    return { ...q, at: { ...q.at, [axis]: um(s.base + grid * steps) } }
  })
}

/** The stretch of legal positions around the body along the axis, as indices; undefined where nothing is known. */
function legalRun(body: Body, mode: Mode, q: Placement, axis: AxisName): { lo: number; hi: number } | undefined {
  const map = body.maps?.[body.modes.indexOf(mode)]
  const kx = firstAtLeast(body.x.values, q.at.x)
  const ky = firstAtLeast(body.y.values, q.at.y)
  const { values } = body[axis]
  const start = axis === 'x' ? kx : ky
  if (!map) return undefined
  const legal = (k: number): boolean =>
    k >= 0 &&
    k < values.length &&
    (k === start || values[k]! - values[k - 1]! === values[1]! - values[0]! || k === 0) &&
    (axis === 'x' ? map.count(k, k, ky, ky) : map.count(kx, kx, k, k)) > 0
  let lo = start
  let hi = start
  while (legal(lo - 1)) lo--
  while (legal(hi + 1)) hi++
  return { lo, hi }
}

/** Every pair that only this axis keeps apart stays in its order. */
function keepOrder(
  model: Model,
  placements: readonly Placement[],
  sliders: ReadonlyMap<number, Slider>,
  axis: AxisName,
  p: Programme,
  grid: number,
): void {
  const where = new Map(placements.map((q) => [q.item, q]))
  let n = 0
  for (const g of model.relations) {
    const pa = where.get(g.a.index)
    const pb = where.get(g.b.index)
    const sa = sliders.get(g.a.index)
    const sb = sliders.get(g.b.index)
    if (!pa || !pb || !sa || !sb || !g.active(sa.mode, sb.mode)) continue
    const holding = g.four.filter((r) => r.holdsAt(g.a, pa, g.b, pb))
    const across = (i: number) => i >= 2 === (axis === 'x')
    if (holding.some((r) => across(g.four.indexOf(r)))) continue
    const r = holding[0]
    if (!r) continue
    const low = g.four.indexOf(r) % 2 === 0 ? sa : sb
    const high = low === sa ? sb : sa
    const [lowBody, highBody] = low === sa ? [g.a, g.b] : [g.b, g.a]
    const gap = offsetIn(r.a, lowBody, low.mode) - offsetIn(r.b, highBody, high.mode)
    if (low.carrier === high.carrier) continue
    // high.base + grid·h ≥ low.base + grid·l + gap, in whole steps
    const name = `apart${n++}`
    p.constraints[name] = { min: Math.ceil((low.base + gap - high.base) / grid) }
    if (high.carrier >= 0) p.variables[`k${high.carrier}`]![name] = 1
    if (low.carrier >= 0) p.variables[`k${low.carrier}`]![name] = -1
  }
}

const offsetIn = (end: End, body: Body, mode: Mode): number =>
  end.offsets[end.modes.length === 0 ? 0 : end.classOf[body.modes.indexOf(mode)]!]!

/** One unknown a stretch of wire for its length along the axis, at least either difference of its ends. */
function addWires(
  problem: Problem,
  model: Model,
  sliders: ReadonlyMap<number, Slider>,
  placements: readonly Placement[],
  axis: AxisName,
  p: Programme,
  grid: number,
): boolean {
  const where = new Map(placements.map((q) => [q.item, q.at]))
  let any = false
  problem.wires.forEach((w, wire) => {
    const [from, to] = [w.from, w.to].map((end): Tip[] => {
      if (end.kind === 'exit') {
        const { at, deck } = problem.exits[end.exit]!
        return [{ carrier: -1, base: at[axis], at, deck }]
      }
      return end.ref.items.flatMap((item) => {
        const s = sliders.get(item)
        if (!s) return []
        const tip = at(problem.items[item]!.footprint, end.at, s.mode.turn)
        const corner = where.get(item)!
        const now = { x: corner.x + tip.x, y: corner.y + tip.y }
        return [{ carrier: s.carrier, base: s.base + tip[axis], at: now, deck: s.mode.deck }]
      })
    }) as [Tip[], Tip[]]
    const run = shortest(model, from, to)
    if (!run) return
    const { a, b, chain } = run
    if (chain) {
      const [first, last] = axis === 'x' ? [chain.x0, chain.x1] : [chain.y0, chain.y1]
      any = stretch(p, `${wire}a`, a, { carrier: -1, base: first }, w.conductors, grid) || any
      any = stretch(p, `${wire}b`, { carrier: -1, base: last }, b, w.conductors, grid) || any
    } else any = stretch(p, `${wire}`, a, b, w.conductors, grid) || any
  })
  return any
}

/** A wire from tip to tip; without a chain of passes on one deck. */
interface Run {
  readonly a: Tip
  readonly b: Tip
  readonly chain: Chain | undefined
}

/** The copies and the chain of passes that a wire takes as things stand: it keeps to them while bodies slide. */
function shortest(model: Model, from: readonly Tip[], to: readonly Tip[]): Run | undefined {
  let best: Run | undefined
  let least = Number.POSITIVE_INFINITY
  const apart = (p: { x: number; y: number }, x: number, y: number) => Math.abs(p.x - x) + Math.abs(p.y - y)
  for (const a of from)
    for (const b of to)
      for (const chain of a.deck === b.deck ? [undefined] : chainsOf(model, a.deck, b.deck)) {
        const far = chain
          ? apart(a.at, chain.x0, chain.y0) +
            chain.between +
            apart(b.at, chain.x1, chain.y1) +
            riseBetween(model, a.deck, b.deck)
          : apart(a.at, b.at.x, b.at.y)
        if (far >= least) continue
        least = far
        best = { a, b, chain }
      }
  return best
}

/** A point along the axis that slides: `carrier` and `base` as in `Slider`. */
type Point = Pick<Slider, 'carrier' | 'base'>

/** Where a wire may end, and where that is now. */
interface Tip extends Point {
  readonly at: { readonly x: number; readonly y: number }
  readonly deck: number
}

function stretch(p: Programme, id: string, a: Point, b: Point, weight: number, grid: number): boolean {
  if (a.carrier === b.carrier || weight <= 0) return false
  const d = `d${id}`
  p.variables[d] = { cost: weight, [`${d}+`]: 1, [`${d}-`]: 1 }
  // d ≥ ±(a − b), in grid steps; the constant part need not be whole, which moves the optimum by no vertex
  const apart = (a.base - b.base) / grid
  p.constraints[`${d}+`] = { min: apart }
  p.constraints[`${d}-`] = { min: -apart }
  for (const [tip, sign] of [
    [a, -1],
    [b, 1],
  ] as const) {
    if (tip.carrier < 0) continue
    const k = p.variables[`k${tip.carrier}`]!
    k[`${d}+`] = (k[`${d}+`] ?? 0) + sign
    k[`${d}-`] = (k[`${d}-`] ?? 0) - sign
  }
  return true
}
