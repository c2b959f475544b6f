/** Where wires can end: exits, and the terminals of bodies, as engine axes. Made once; R7 and the wire objective share them. */
import type { Wire, WireEnd } from '../problem.ts'
import { type Chain, chains } from './chains.ts'
import { type Engine, TRUE } from './engine.ts'
import type { Body, Mode, Model } from './model.ts'
import { at } from './parts.ts'
import { fixedEnd } from './relation.ts'
import { still, type Tip } from './within.ts'

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
    const points = body.modes.map((m) => at(body.footprint, end.at, m.turn))
    const tip: Tip = {
      x: model.end(
        body,
        'x',
        points.map((p) => p.x),
      ),
      y: model.end(
        body,
        'y',
        points.map((p) => p.y),
      ),
    }
    const on = (deck: number) => body.modes.filter((m: Mode) => m.deck === deck)
    const decks = [...new Set(body.modes.map((m) => m.deck))].map((deck) => ({
      deck,
      lit: model.group(body, on(deck)),
    }))
    return { tip, lit: body.present, body, decks }
  })
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
