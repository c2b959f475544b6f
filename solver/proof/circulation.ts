/**
 * A circulation that earns much: Σ flow·gain over arcs with capacities, flow conserved at every node. Whatever circulation is
 * found, what it earns is a lower bound of Σ capacity·max(0, gain + x_tail − x_head) over the capped arcs, for all x that hold
 * x_head − x_tail ≥ gain on the others (weak duality), so a mistake here can only make a proof fail. Found by pushing flow
 * around cycles that earn, until there is none (Klein 1967).
 */
import { exactly } from './constraints.ts'

export interface Arc {
  readonly tail: number
  readonly head: number
  readonly gain: number
  readonly cap: number
}

const MOST_CYCLES = 2000

/**
 * Nodes 0 … n−1. Stops as soon as more than `enough` is earned. Infinite where the uncapped arcs contradict each other, NaN where the
 * sum has more digits than a number holds.
 */
export function earn(n: number, arcs: readonly Arc[], enough: number): number {
  const flow = new Float64Array(arcs.length)
  let sum = 0
  for (let round = 0; round < MOST_CYCLES && sum <= enough; round++) {
    const cycle = earningCycle(n, arcs, flow)
    if (!cycle) break
    let amount = Number.POSITIVE_INFINITY
    // around the cycle first: of each arc by itself, the products may be too large to be exact while their sum is small
    let gain = 0
    for (const k of cycle) {
      amount = Math.min(amount, k & 1 ? flow[k >> 1]! : arcs[k >> 1]!.cap - flow[k >> 1]!)
      gain = exactly(gain + (k & 1 ? -1 : 1) * arcs[k >> 1]!.gain)
    }
    if (!(gain > 0)) break
    if (amount === Number.POSITIVE_INFINITY) return Number.POSITIVE_INFINITY
    for (const k of cycle) flow[k >> 1]! += k & 1 ? -amount : amount
    sum = exactly(sum + amount * gain)
  }
  return sum
}

/** A cycle of arcs with room (2a along arc a, 2a + 1 against it) whose gains sum to more than 0 (Bellman 1958; Ford 1956). */
function earningCycle(n: number, arcs: readonly Arc[], flow: Float64Array): number[] | undefined {
  const far = new Float64Array(n)
  const via = new Int32Array(n).fill(-1)
  const from = (k: number) => (k & 1 ? arcs[k >> 1]!.head : arcs[k >> 1]!.tail)
  let last = -1
  for (let pass = 0; pass <= n; pass++) {
    last = -1
    for (let a = 0; a < arcs.length; a++) {
      const { tail, head, gain, cap } = arcs[a]!
      if (flow[a]! < cap && far[tail]! + gain > far[head]!) {
        far[head] = far[tail]! + gain
        via[head] = 2 * a
        last = head
      }
      if (flow[a]! > 0 && far[head]! - gain > far[tail]!) {
        far[tail] = far[head]! - gain
        via[tail] = 2 * a + 1
        last = tail
      }
    }
    if (last === -1) return undefined
  }
  // still better after n passes: going back n steps from there leads onto a cycle
  let at = last
  for (let i = 0; i < n; i++) at = from(via[at]!)
  const out: number[] = []
  for (let u = at; out.length === 0 || u !== at; ) {
    const k = via[u]!
    out.push(k)
    u = from(k)
  }
  return out
}
