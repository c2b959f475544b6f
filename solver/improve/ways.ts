/** How the next try is made: shortly with all that there is, shortly with only what its aim asks for, or with patience. */
import type { Verdict } from '../search/search.ts'
import type { Pursuit } from './pursuit.ts'

type Way = 'brief' | 'sparing' | 'patient'

/**
 * Wires are tried briefly until that no longer finds anything: far from what can be had, small changes find sooner what is better. Of a sum
 * a first try is brief: where it comes to nothing there may be far too much to choose from, and one is made that leaves out whatever it may.
 * Where that finds something, such tries and patient ones take turns.
 */
export class Ways {
  private readonly p: Pursuit
  private readonly start: number
  now: Way
  /** Does it pay to leave out whatever an aim does not ask for? */
  sparing = false

  /** `few`: of few parts, which are settled one combination after the other. */
  constructor(p: Pursuit, few: boolean) {
    this.p = p
    this.start = p.value
    this.now = few ? 'patient' : 'brief'
  }

  /** After a try: is there another way to try at once? */
  turn(verdict: Verdict): boolean {
    const { p, now } = this
    const stopped = verdict === 'stopped'
    if (!p.coarse) {
      if (stopped) this.now = 'patient'
      return stopped && now === 'brief'
    }
    const better = p.value !== this.start
    if (now === 'brief') {
      if (stopped) this.now = 'sparing'
      else if (better) this.now = 'patient'
      this.sparing = stopped
      return stopped
    }
    if (now === 'sparing') {
      if (stopped) this.now = 'patient'
      this.sparing = !stopped || better
      return stopped && !better
    }
    if (stopped && this.sparing) this.now = 'sparing'
    return false
  }
}
