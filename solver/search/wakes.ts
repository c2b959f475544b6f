/** Who is told when a bound moves, and who waits in line to be run. */
import { Domains } from './domains.ts'
import type { Eager, Propagator } from './propagator.ts'

export class Wakes extends Domains {
  // by variable; most are never filled, and there can be a million
  protected readonly wakeLb: (Propagator[] | undefined)[] = []
  protected readonly wakeUb: (Propagator[] | undefined)[] = []
  protected readonly callLb: (Eager[] | undefined)[] = []
  protected readonly callUb: (Eager[] | undefined)[] = []
  /** Made and not yet called. */
  protected readonly fresh: Eager[] = []
  protected readonly queues: Propagator[][] = [[], [], []]

  override newVar(size: number): number {
    const v = super.newVar(size)
    this.wakeLb.push(undefined)
    this.wakeUb.push(undefined)
    this.callLb.push(undefined)
    this.callUb.push(undefined)
    return v
  }

  wakeOn(prop: Propagator, v: number, lower: boolean, upper: boolean): void {
    if (lower) into(this.wakeLb, v, prop)
    if (upper) into(this.wakeUb, v, prop)
  }

  callOn(one: Eager, v: number, lower: boolean, upper: boolean): void {
    if (lower) into(this.callLb, v, one)
    if (upper) into(this.callUb, v, one)
    if (this.fresh[this.fresh.length - 1] !== one) this.fresh.push(one)
  }

  /** Wakes `prop` when `lit` becomes true. */
  wakeOnTrue(prop: Propagator, lit: number): void {
    if (lit >= 0) this.wakeOn(prop, this.varOf(lit), (lit & 1) === 0, (lit & 1) === 1)
  }

  schedule(prop: Propagator): void {
    if (prop.queued) return
    prop.queued = true
    this.queues[prop.cost]!.push(prop)
  }
}

function into<T>(lists: (T[] | undefined)[], v: number, one: T): void {
  const list = lists[v]
  if (list) list.push(one)
  else lists[v] = [one]
}
