/**
 * Rule by rule: on tiny decks that exercise mainly one rule, an item is held at a position, legal or not, and the solve must find
 * the rest feasible exactly where brute force does, with the same optimum.
 */
import { describe, expect, it } from 'vitest'
import type { Problem } from '../../solver/problem.ts'
import type { Hold } from '../../solver/result.ts'
import type { Turn, Um } from '../../solver/units.ts'
import { brute } from './oracle/brute.ts'
import { freeStands, nothingOff, seatedStands } from './oracle/candidates.ts'
import { answerComplaints, bruteStage, trySolve } from './oracle/compare.ts'
import { randomDeck } from './oracle/decks.ts'
import { LONG, type RuleName, ruleMixes } from './oracle/mixes.ts'
import { type Rng, rng } from './oracle/random.ts'
import { type Stand, tiesOf } from './oracle/stand.ts'

const LIMIT = 40_000
const holdOf = (s: Stand): Hold => ({
  item: s.item,
  deck: s.deck,
  at: { x: s.x as Um, y: s.y as Um },
  turn: s.turn as Turn,
})

/** Some items held, each at any position that the grid and its place allow: one most often, all of them now and then. */
function holds(p: Problem, r: Rng): Hold[] {
  const free = p.items.flatMap((it, i) => (it.footprint.mount.kind === 'plug-in' ? [] : [i]))
  const chosen = r.chance(0.7) ? [r.pick(free)] : free
  const stands = chosen.flatMap((i) => {
    const list = freeStands(p, i, nothingOff)
    return list.length > 0 ? [r.pick(list)] : []
  })
  const boards = stands.filter((s) => tiesOf(p.items[s.item]!).length > 0)
  const plug = p.items.findIndex((it) => it.footprint.mount.kind === 'plug-in')
  if (plug >= 0 && boards.length > 0 && r.chance(0.6)) {
    const seats = seatedStands(p, plug, r.pick(boards))
    if (seats.length > 0) stands.push(r.pick(seats))
  }
  return stands.map(holdOf)
}

describe.each(Object.keys(ruleMixes) as RuleName[])('%s', (rule) => {
  // Seats on every host at every place make R6 the dearest for brute force.
  const decks = LONG ? (rule === 'R6' ? 750 : 1500) : rule === 'R6' ? 9 : 7
  const probes = LONG ? 6 : 4
  it(`holds and fails exactly where brute force says, on ${decks} decks`, {
    timeout: LONG ? 3_600_000 : 180_000,
  }, async () => {
    const complaints: string[] = []
    const count = { optimal: 0, infeasible: 0, 'too large': 0 }
    for (let s = 0; s < decks; s++) {
      const whole = randomDeck(40_000 + s, ruleMixes[rule])
      const r = rng(s)
      for (let k = 0; k < probes; k++) {
        // Pure feasibility two times out of three: that is where a rule shows most plainly.
        const p: Problem = k % 3 === 0 ? whole : { ...whole, objective: [] }
        const pins = holds(p, r)
        const a = brute(p, { pins, limit: LIMIT, feasibilityOnly: p.objective.length === 0 })
        count[a.status]++
        if (a.status === 'too large') continue
        const result = trySolve(p, { pins, time: 20_000 })
        for (const c of await answerComplaints(p, result, a.status === 'optimal', bruteStage(p, LIMIT, pins)))
          complaints.push(`seed ${40_000 + s}, probe ${k}: ${c}`)
      }
    }
    expect(complaints).toEqual([])
    const n = decks * probes
    expect(count.optimal).toBeGreaterThan(n / 8)
    expect(count.infeasible).toBeGreaterThan(n / 8)
    expect(count['too large']).toBeLessThan(n / 3)
  })
})
