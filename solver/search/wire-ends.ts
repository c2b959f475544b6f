/** Where wires can end: exits, and the terminals of bodies, as engine axes. Made once; R7 and the wire objective share them. */
import type { Wire, WireEnd } from '../problem.ts'
import { leastByChain } from './chain-limit.ts'
import { type Chain, chains } from './chains.ts'
import { type Engine, type Propagator, TRUE } from './engine.ts'
import type { Body, Mode, Model } from './model.ts'
import { at } from './parts.ts'
import { fixedEnd } from './relation.ts'
import { span, still, type Tip, tipOn } from './within.ts'

/** One thing that an end can stand for, when `lit` holds. */
export interface Candidate {
  readonly tip: Tip
  readonly lit: number
  /** Absent for an exit. */
  readonly body?: Body
  /** Literals "on that deck", for the decks it may be on. */
  readonly decks: readonly { readonly deck: number; readonly lit: number }[]
}

export interface WireEnds {
  readonly wire: Wire
  readonly index: number
  readonly from: readonly Candidate[]
  readonly to: readonly Candidate[]
}

export function wireEnds(model: Model): readonly WireEnds[] {
  model.wires ??= model.problem.wires.map((wire, index) => ({
    wire,
    index,
    from: candidates(model, wire.from),
    to: candidates(model, wire.to),
  }))
  return model.wires
}

function candidates(model: Model, end: WireEnd): Candidate[] {
  const { e, problem } = model
  if (end.kind === 'exit') {
    const exit = problem.exits[end.exit]!
    const tip = { x: fixedEnd(still(e, exit.at.x), 0), y: fixedEnd(still(e, exit.at.y), 0) }
    return [{ tip, lit: TRUE, decks: [{ deck: exit.deck, lit: TRUE }] }]
  }
  return end.ref.items.map((i) => {
    const body = model.bodies[i]!
    const tip = tipOn(model, body, (m) => at(body.footprint, end.at, m.turn))
    const on = (deck: number) => body.modes.filter((m: Mode) => m.deck === deck)
    const decks = [...new Set(body.modes.map((m) => m.deck))].map((deck) => ({
      deck,
      lit: model.group(body, on(deck)),
    }))
    return { tip, lit: body.present, body, decks }
  })
}

/** Wakes `prop` whenever an end comes or goes, moves, or is on fewer decks. */
export function wakeByEnds(e: Engine, prop: Propagator, { from, to }: WireEnds): void {
  for (const c of [...from, ...to]) {
    e.wakeOnTrue(prop, c.lit)
    e.wakeOnTrue(prop, e.not(c.lit))
    for (const end of [c.tip.x, c.tip.y]) {
      e.wakeOn(prop, end.axis.v, true, true)
      for (const m of end.modes) e.wakeOnTrue(prop, e.not(m))
    }
    for (const d of c.decks) {
      e.wakeOnTrue(prop, d.lit)
      e.wakeOnTrue(prop, e.not(d.lit))
    }
  }
}

/** A wire counts once both its ends are sure to be there. */
export const isSure = (e: Engine, { from, to }: WireEnds): boolean =>
  from.some((c) => e.isTrue(c.lit)) && to.some((c) => e.isTrue(c.lit))

/** The least length, µm, that the ends' boxes allow; 0 where nothing is known. */
export function leastLength(model: Model, { from, to }: WireEnds): number {
  const { e } = model
  let least = Number.POSITIVE_INFINITY
  for (const p of from) {
    if (e.isFalse(p.lit)) continue
    for (const q of to) {
      if (e.isFalse(q.lit)) continue
      for (const dp of p.decks) {
        if (e.isFalse(dp.lit)) continue
        for (const dq of q.decks) {
          if (e.isFalse(dq.lit)) continue
          const far = leastBetween(model, p.tip, q.tip, dp.deck, dq.deck)
          if (Number.isNaN(far)) return 0
          if (far < least) least = far
        }
      }
    }
  }
  return Number.isFinite(least) ? least : 0
}

/** With the ends on these decks; ∞ where no way leads from one to the other, NaN where an end has nowhere left to be. */
export function leastBetween(model: Model, p: Tip, q: Tip, dp: number, dq: number): number {
  const { e } = model
  if (dp === dq) return span(e, p.x, q.x, 1).least + span(e, p.y, q.y, 1).least
  return leastByChain(e, p, q, chainsOf(model, dp, dq)) + riseBetween(model, dp, dq)
}

/** Between the top faces of two decks (indices), Um. */
export function riseBetween({ problem: { decks } }: Model, a: number, b: number): number {
  return Math.abs(decks[a]!.z - decks[b]!.z)
}

/** Says which decks an end may still be on. */
export function whyDecks(e: Engine, { decks }: Candidate): void {
  if (decks.length === 1) return
  const on = decks.find((d) => e.isTrue(d.lit))
  if (on) e.why(on.lit)
  else for (const d of decks) if (e.isFalse(d.lit)) e.why(e.not(d.lit))
}

/** Chains of passes between two decks, found once. */
export function chainsOf(model: Model, from: number, to: number): readonly Chain[] {
  const key = from * model.problem.decks.length + to
  let list = model.chains.get(key)
  if (!list) {
    list = chains(model.problem, from, to)
    model.chains.set(key, list)
  }
  return list
}
