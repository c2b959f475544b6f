/** Large neighbourhood search (Shaw 1998): most of a layout held, a few bodies that stand close together set free. */
import type { Placement } from '../problem.ts'
import { turnedSize } from '../units.ts'
import type { Model } from './model.ts'
import { modeAt } from './placed.ts'
import { firstAtLeast } from './relation.ts'

/** Same numbers on every run. */
export class Dice {
  private state = 88172645

  /** Whole number in 0 … n−1. */
  roll(n: number): number {
    // xorshift (Marsaglia 2003)
    let x = this.state
    x ^= x << 13
    x ^= x >>> 17
    x ^= x << 5
    this.state = x
    return (x >>> 0) % n
  }
}

/**
 * Literals that hold all of a layout but about `free` of its bodies; what is left out stays free to come in. Held where
 * they stand, or (`sliding`) only in their order, so that they can close ranks.
 */
export function holdMost(
  model: Model,
  placements: readonly Placement[],
  free: number,
  sliding: boolean,
  dice: Dice,
): number[] {
  const { e } = model
  const middle = (p: Placement) => {
    const f = model.bodies[p.item]!.footprint
    const { w, h } = turnedSize(f.width, f.depth, p.turn)
    return { x: p.at.x + w / 2, y: p.at.y + h / 2 }
  }
  if (placements.length === 0) return []
  const chosen = placements[dice.roll(placements.length)]!
  const centre = middle(chosen)
  // mostly on one deck: what stands above or below seldom hinders
  const away = dice.roll(4) > 0 ? 1e6 : 0
  const far = placements.map((p) => {
    const m = middle(p)
    // a little chance, so that two rounds round one body differ
    const d = (Math.abs(m.x - centre.x) + Math.abs(m.y - centre.y)) * (1 + dice.roll(100) / 100)
    return { p, d: p.deck === chosen.deck ? d : d + away }
  })
  far.sort((a, b) => a.d - b.d || a.p.item - b.p.item)
  // now and then a deck as a whole
  const here = away > 0 && model.problem.decks.length > 1 && dice.roll(3) === 0
  const loose = new Set((here ? far.filter((f) => f.p.deck === chosen.deck) : far.slice(0, free)).map((f) => f.p.item))
  // what is plugged in goes with its host
  for (const p of placements) if (p.host !== undefined && loose.has(p.host)) loose.add(p.item)
  const lits: number[] = []
  for (const p of placements) {
    if (loose.has(p.item)) continue
    const body = model.bodies[p.item]!
    const mode = modeAt(body.modes, p)
    if (!mode) continue
    lits.push(mode.lit)
    if (sliding) continue
    for (const [a, at] of [
      [body.x, p.at.x],
      [body.y, p.at.y],
    ] as const) {
      const k = firstAtLeast(a.values, at)
      lits.push(e.ge(a.v, k), e.lt(a.v, k + 1))
    }
  }
  if (sliding) lits.push(...orders(model, placements, loose))
  return lits.filter((l) => l >= 0)
}

/** For every pair of which neither is loose: a relation that holds. */
export function orders(model: Model, placements: readonly Placement[], loose: ReadonlySet<number>): number[] {
  const where = new Map(placements.map((p) => [p.item, p]))
  return [...model.relations, ...model.onBoards].flatMap((g) => {
    const a = where.get(g.a.index)
    const b = where.get(g.b.index)
    if (!a || !b || loose.has(a.item) || loose.has(b.item)) return []
    const [ma, mb] = [modeAt(g.a.modes, a), modeAt(g.b.modes, b)]
    if (!ma || !mb || !g.active(ma, mb)) return []
    const r = g.four.find((o) => g.holds(o, where))
    return r && r.lit >= 0 ? [r.lit] : []
  })
}

/** Literals that leave out what a layout leaves out. */
export function leftOut(model: Model, placements: readonly { readonly item: number }[]): number[] {
  const there = new Set(placements.map((p) => p.item))
  const { e } = model
  return model.bodies.flatMap((b) => (there.has(b.index) || e.isFalse(b.present) ? [] : [e.not(b.present)]))
}
