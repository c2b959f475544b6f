/** Where a wire can take several ways, or end at several copies, one is picked: a sum of runs can be bounded, a least of sums hardly. */
import type { Chain } from '../search/chains.ts'
import type { Body, Model } from '../search/model.ts'
import { extreme } from '../search/relation.ts'
import { type Candidate, chainsOf, type WireEnds } from '../search/wire-ends.ts'

export type AxisName = 'x' | 'y'

export const pickKey = (wire: number, from: number, to: number): string => `${wire}:${from}:${to}`

export const only = <T>(list: readonly T[]): T | undefined => (list.length === 1 ? list[0] : undefined)

export class WirePicks {
  private readonly model: Model
  private readonly wires: readonly WireEnds[]
  /** Where a body would best stand, µm. */
  private readonly wanted: (b: Body, axis: AxisName) => number
  /** Literals of the chains of passes between two decks, one of which is picked. */
  readonly chains = new Map<string, readonly number[]>()
  /** Literals of the candidates of an end, one of which is picked; by wire and side. */
  readonly ends = new Map<string, readonly number[]>()
  /** By the variable of a chain's pick: the pick to decide on instead; −1 = none yet. */
  readonly choices = new Map<number, () => number>()

  constructor(model: Model, wires: readonly WireEnds[], wanted: (b: Body, axis: AxisName) => number) {
    this.model = model
    this.wires = wires
    this.wanted = wanted
    this.pickChains()
    this.pickEnds()
  }

  private pickChains(): void {
    const { e, problem } = this.model
    this.wires.forEach((w, i) => {
      const p = only(w.from)
      const q = only(w.to)
      if (!p || !q) return
      for (const dp of p.decks)
        for (const dq of q.decks) {
          if (dp.deck === dq.deck || problem.passes.length < 2) continue
          const list = chainsOf(this.model, dp.deck, dq.deck)
          if (list.length < 2) continue
          const picks = list.map(() => e.newBool())
          for (const l of picks) e.order.allow(e.varOf(l), 100)
          e.addClause([...[p.lit, q.lit, dp.lit, dq.lit].map((l) => e.not(l)), ...picks])
          e.atMostOne(picks)
          this.chains.set(pickKey(i, dp.deck, dq.deck), picks)
          const when = [p.lit, q.lit, dp.lit, dq.lit]
          const choice = () => this.choose(p, q, when, picks, list)
          for (const l of picks) this.choices.set(e.varOf(l), choice)
        }
    })
  }

  /** The chain that looks shortest, once it is sure that one is needed. */
  private choose(
    p: Candidate,
    q: Candidate,
    when: readonly number[],
    picks: readonly number[],
    list: readonly Chain[],
  ): number {
    const { e } = this.model
    if (!when.every((l) => e.isTrue(l)) || picks.some((l) => e.isTrue(l))) return -1
    const far = (c: Candidate, axis: AxisName, to: number): number => {
      const at = c.body ? this.wanted(c.body, axis) : c.tip[axis].axis.values[0]!
      const lo = extreme(e, c.tip[axis], 1) + at
      const hi = extreme(e, c.tip[axis], -1) + at
      return Math.max(0, lo - to, to - hi)
    }
    let best = -1
    let least = Number.POSITIVE_INFINITY
    list.forEach((c, k) => {
      if (e.isFalse(picks[k]!)) return
      const sum = far(p, 'x', c.x0) + far(p, 'y', c.y0) + far(q, 'x', c.x1) + far(q, 'y', c.y1) + c.between
      if (sum < least) {
        least = sum
        best = picks[k]!
      }
    })
    return best
  }

  /** Of several copies that an end may stand for, one is picked; the nearest is never worse, so no layout is lost. */
  private pickEnds(): void {
    const { e } = this.model
    this.wires.forEach((w, i) => {
      for (const [side, list] of [
        ['<', w.from],
        ['>', w.to],
      ] as const) {
        if (list.length < 2) continue
        const picks = list.map(() => e.newBool())
        list.forEach((c, k) => {
          e.order.allow(e.varOf(picks[k]!), 100)
          e.addClause([e.not(picks[k]!), c.lit])
          e.addClause([e.not(c.lit), ...picks])
          for (let o = 0; o < k; o++) e.addClause([e.not(picks[k]!), e.not(picks[o]!)])
        })
        this.ends.set(`${i}${side}`, picks)
      }
    })
  }
}
