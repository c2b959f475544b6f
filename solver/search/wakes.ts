/** Who is told when a bound moves, and who waits in line to be run. */
import type { ProofLog } from '../proof/steps.ts'
import { Domains } from './domains.ts'
import type { Eager, Propagator } from './propagator.ts'

/** Those called at once; beside each the variables of its literal and of what it is needed for. */
interface Calls {
  readonly vs: number[]
  readonly needs: number[]
  readonly ones: Eager[]
}

/** Numbers, first in, first out. */
interface Line {
  readonly waiting: number[]
  next: number
}

export class Wakes extends Domains {
  log?: ProofLog
  // by variable; most are never filled, and there can be a million
  private readonly wakeLb: (number[] | undefined)[] = []
  private readonly wakeUb: (number[] | undefined)[] = []
  private readonly callLb: (Calls | undefined)[] = []
  private readonly callUb: (Calls | undefined)[] = []
  /** Made and not yet called. */
  protected readonly fresh: Eager[] = []
  private readonly props: Propagator[] = []
  private readonly numbers = new Map<Propagator, number>()
  private readonly costs: number[] = []
  private readonly queued: boolean[] = []
  private readonly lines: readonly Line[] = [0, 1, 2].map(() => ({ waiting: [], next: 0 }))

  override newVar(size: number): number {
    const v = super.newVar(size)
    this.wakeLb.push(undefined)
    this.wakeUb.push(undefined)
    this.callLb.push(undefined)
    this.callUb.push(undefined)
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
    if (lower) into(this.wakeLb, v, n)
    if (upper) into(this.wakeUb, v, n)
  }

  callOn(one: Eager, v: number, lower: boolean, upper: boolean): void {
    for (const lists of lower ? (upper ? [this.callLb, this.callUb] : [this.callLb]) : [this.callUb]) {
      const list = lists[v]
      if (list) {
        list.vs.push(one.v)
        list.needs.push(one.need)
        list.ones.push(one)
      } else lists[v] = { vs: [one.v], needs: [one.need], ones: [one] }
    }
    if (this.fresh[this.fresh.length - 1] !== one) this.fresh.push(one)
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
    const list = upper ? this.wakeUb[v] : this.wakeLb[v]
    if (list) for (let i = 0; i < list.length; i++) this.enqueue(list[i]!)
  }

  /** Calls whoever is to be told at once that this bound has moved; false as soon as one of them says so. */
  protected callAt(v: number, upper: boolean): boolean {
    const calls = upper ? this.callUb[v] : this.callLb[v]
    if (!calls) return true
    const { vs, needs, ones } = calls
    const { ub, log } = this
    for (let i = 0; i < vs.length; i++) {
      if (ub[needs[i]!] !== 1 || ub[vs[i]!] !== 1) continue
      const one = ones[i]!
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

function into(lists: (number[] | undefined)[], v: number, n: number): void {
  const list = lists[v]
  if (list) list.push(n)
  else lists[v] = [n]
}
