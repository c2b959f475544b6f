/** Who is told when a bound moves, and who waits in line to be run. */
import type { ProofLog } from '../proof/steps.ts'
import { Domains } from './domains.ts'
import { Lists } from './lists.ts'
import type { Eager, Propagator } from './propagator.ts'

/** Numbers, first in, first out. */
interface Line {
  readonly waiting: number[]
  next: number
}

export class Wakes extends Domains {
  log?: ProofLog
  // by twice the variable, one more for the upper bound
  private readonly wakes = new Lists(1)
  /** Those called at once: the variable of their literal, that of what they are needed for, and their number. */
  private readonly calls = new Lists(3)
  private readonly eagers: Eager[] = []
  /** Made and not yet called. */
  protected readonly fresh: Eager[] = []
  private readonly props: Propagator[] = []
  private readonly numbers = new Map<Propagator, number>()
  private readonly costs: number[] = []
  private readonly queued: boolean[] = []
  private readonly lines: readonly Line[] = [0, 1, 2].map(() => ({ waiting: [], next: 0 }))

  override newVar(size: number): number {
    const v = super.newVar(size)
    this.wakes.reserve(2 * this.count)
    this.calls.reserve(2 * this.count)
    return v
  }

  private numberOf(prop: Propagator): number {
    // one that is being posted speaks many times in a row
    const last = this.props.length - 1
    if (this.props[last] === prop) return last
    let n = this.numbers.get(prop)
    if (n === undefined) {
      n = this.props.length
      this.numbers.set(prop, n)
      this.props.push(prop)
      this.costs.push(prop.cost)
      this.queued.push(false)
    }
    return n
  }

  wakeOn(prop: Propagator, v: number, lower: boolean, upper: boolean): void {
    const n = this.numberOf(prop)
    if (lower) this.wakeAt(2 * v, n)
    if (upper) this.wakeAt(2 * v + 1, n)
  }

  private wakeAt(key: number, n: number): void {
    const at = this.wakes.add(key)
    this.wakes.items[at] = n
  }

  callOn(one: Eager, v: number, lower: boolean, upper: boolean): void {
    // one that is being made speaks many times in a row
    if (this.eagers[this.eagers.length - 1] !== one) {
      this.eagers.push(one)
      this.fresh.push(one)
    }
    if (lower) this.callAtKey(2 * v, one)
    if (upper) this.callAtKey(2 * v + 1, one)
  }

  private callAtKey(key: number, one: Eager): void {
    const at = this.calls.add(key)
    const { items } = this.calls
    items[at] = one.v
    items[at + 1] = one.need
    items[at + 2] = this.eagers.length - 1
  }

  /** Wakes `prop` when `lit` becomes true. */
  wakeOnTrue(prop: Propagator, lit: number): void {
    if (lit >= 0) this.wakeOn(prop, this.varOf(lit), (lit & 1) === 0, (lit & 1) === 1)
  }

  schedule(prop: Propagator): void {
    this.enqueue(this.numberOf(prop))
  }

  private enqueue(n: number): void {
    if (this.queued[n]) return
    this.queued[n] = true
    this.lines[this.costs[n]!]!.waiting.push(n)
  }

  /** Puts in line whoever waits for this bound to move. */
  protected wake(v: number, upper: boolean): void {
    const { listOf, start, end, items } = this.wakes
    const list = listOf[2 * v + (upper ? 1 : 0)]!
    if (list === 0) return
    const stop = end[list]!
    for (let i = start[list]!; i < stop; i++) this.enqueue(items[i]!)
  }

  /** Calls whoever is to be told at once that this bound has moved; false as soon as one of them says so. */
  protected callAt(v: number, upper: boolean): boolean {
    const { listOf, start, end, items } = this.calls
    const list = listOf[2 * v + (upper ? 1 : 0)]!
    if (list === 0) return true
    const { ub, log, eagers } = this
    const stop = end[list]!
    for (let i = start[list]!; i < stop; i += 3) {
      if (ub[items[i + 1]!] !== 1 || ub[items[i]!] !== 1) continue
      const one = eagers[items[i + 2]!]!
      if (log) log.speaker = one
      // called from here alone, so that what is called most is compiled for one kind
      if (!one.propagate()) return false
    }
    return true
  }

  /** The next in line, of the cheapest kind. */
  protected nextInLine(): Propagator | undefined {
    for (let cost = 0; cost < 3; cost++) {
      const line = this.lines[cost]!
      if (line.next === line.waiting.length) continue
      const n = line.waiting[line.next++]!
      if (line.next === line.waiting.length) {
        line.waiting.length = 0
        line.next = 0
      }
      this.queued[n] = false
      return this.props[n]
    }
    return undefined
  }

  protected emptyLines(): void {
    for (const line of this.lines) {
      for (let i = line.next; i < line.waiting.length; i++) this.queued[line.waiting[i]!] = false
      line.waiting.length = 0
      line.next = 0
    }
  }
}
