/** Who is told when a bound moves, and who waits in line to be run. */
import { Domains } from './domains.ts'
import type { Eager, Propagator } from './propagator.ts'

export class Wakes extends Domains {
  protected readonly wakeLb: Propagator[][] = []
  protected readonly wakeUb: Propagator[][] = []
  protected readonly callLb: Eager[][] = []
  protected readonly callUb: Eager[][] = []
  /** Made and not yet called. */
  protected readonly fresh: Eager[] = []
  protected readonly queues: Propagator[][] = [[], [], []]

  override newVar(size: number): number {
    const v = super.newVar(size)
    this.wakeLb.push([])
    this.wakeUb.push([])
    this.callLb.push([])
    this.callUb.push([])
    return v
  }

  wakeOn(prop: Propagator, v: number, lower: boolean, upper: boolean): void {
    if (lower) this.wakeLb[v]!.push(prop)
    if (upper) this.wakeUb[v]!.push(prop)
  }

  callOn(one: Eager, v: number, lower: boolean, upper: boolean): void {
    if (lower) this.callLb[v]!.push(one)
    if (upper) this.callUb[v]!.push(one)
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
