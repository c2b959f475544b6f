/** The same deck drawn otherwise has the same optimum; one with more rules has no better one, one with fewer no worse. */
import { describe, expect, it } from 'vitest'
import type { Item, Problem, Zone } from '../../solver/problem.ts'
import type { SolveResult } from '../../solver/result.ts'
import { mm, type Um } from '../../solver/units.ts'
import { brute } from './oracle/brute.ts'
import { BALANCE_TOLERANCE, costsOf, layoutComplaints, trySolve } from './oracle/compare.ts'
import { type DeckMix, everything } from './oracle/deck-mix.ts'
import { randomDeck } from './oracle/decks.ts'
import { objectivesOf } from './oracle/measure.ts'
import { LONG, tiny } from './oracle/mixes.ts'
import { blob } from './oracle/parts.ts'
import { type Rng, rng } from './oracle/random.ts'
import { mirror, quarter, reframed, reordered, squared } from './oracle/transform.ts'

/** Larger than any oracle's: nothing but the solve is asked. */
const middle: DeckMix = { ...everything, cells: 26, items: [3, 6], deck: [10, 40], tiePoints: 10 }

/** Balance last, or its tolerance would let everything after it differ. */
const ordered = (p: Problem): Problem => ({
  ...p,
  objective: ['free-tie-points', 'optional-value', 'wire-length', 'balance'],
})

type Order = 'same' | 'better' | 'worse'
/** How `b` stands to `a`; undefined where one of them was not finished. */
function order(p: Problem, a: SolveResult, b: SolveResult): Order | undefined {
  if (a.status === 'infeasible' && b.status === 'infeasible') return 'same'
  if (a.status === 'infeasible') return b.status === 'optimal' ? 'better' : undefined
  if (b.status === 'infeasible') return a.status === 'optimal' ? 'worse' : undefined
  if (a.status !== 'optimal' || b.status !== 'optimal') return undefined
  const [x, y] = [costsOf(a), costsOf(b)]
  for (const [k, name] of objectivesOf(p).entries()) {
    const slack = name === 'balance' ? BALANCE_TOLERANCE : 1e-6
    if (y[k]! < x[k]! - slack) return 'better'
    if (y[k]! > x[k]! + slack) return 'worse'
  }
  return 'same'
}

const addZone = (p: Problem, r: Rng): Problem => {
  const kind = r.pick(['keep-out', 'reserved', 'underside'] as const)
  const zone: Zone = { id: 'more', kind, deck: 0, shape: blob(r, r.int(0, 20), r.int(0, 20), r.int(1, 6)) }
  return { ...p, zones: [...p.zones, zone] }
}

/** A hole that none of the parts' holes can take for its own. */
const addHole = (p: Problem, r: Rng): Problem => {
  const hole = { id: 'more', at: { x: mm(r.int(0, 20)), y: mm(r.int(0, 20)) }, diameter: mm(4) }
  return { ...p, decks: p.decks.map((d, k) => (k === 0 ? { ...d, holes: [...d.holes, hole] } : d)) }
}

const addItem = (p: Problem): Problem | undefined => {
  const like = p.items.find((i) => i.footprint.mount.kind !== 'plug-in')
  if (!like) return undefined
  const item: Item = { ...like, id: 'more', base: 'more', required: false, value: 3, place: [] }
  return { ...p, items: [...p.items, item] }
}

const dropPlaces = (p: Problem): Problem | undefined =>
  p.items.some((i) => i.place.some((e) => e.kind !== 'at' && e.kind !== 'centred'))
    ? {
        ...p,
        items: p.items.map((i) => ({ ...i, place: i.place.filter((e) => e.kind === 'at' || e.kind === 'centred') })),
      }
    : undefined

const dropLimits = (p: Problem): Problem | undefined => {
  if (!p.wires.some((w) => w.maxLength !== undefined)) return undefined
  return { ...p, wires: p.wires.map(({ maxLength: _, ...w }) => w) }
}

/** What is done to a deck, and which way its optimum may go. */
const changes: Record<string, { may: readonly Order[]; make: (p: Problem, r: Rng) => Problem | undefined }> = {
  'mirrored in x': { may: ['same'], make: (p) => reframed(p, mirror) },
  'turned by 90°': { may: ['same'], make: (p) => reframed(p, quarter) },
  'items reordered': { may: ['same'], make: (p, r) => reordered(p, r.shuffle(p.items.map((_, i) => i))) },
  'a zone more': { may: ['same', 'worse'], make: addZone },
  'a hole more in the deck': { may: ['same', 'worse'], make: addHole },
  'an optional item more': { may: ['same', 'better'], make: (p) => addItem(p) },
  'item clearance dropped': {
    may: ['same', 'better'],
    make: (p) => (p.itemClearance > 0 ? { ...p, itemClearance: 0 as Um } : undefined),
  },
  'edge clearance dropped': {
    may: ['same', 'better'],
    make: (p) => (p.edgeClearance > 0 ? { ...p, edgeClearance: 0 as Um } : undefined),
  },
  'web dropped': { may: ['same', 'better'], make: (p) => (p.minWeb > 0 ? { ...p, minWeb: 0 as Um } : undefined) },
  'zones dropped': { may: ['same', 'better'], make: (p) => (p.zones.length > 0 ? { ...p, zones: [] } : undefined) },
  'places dropped': { may: ['same', 'better'], make: dropPlaces },
  'limits dropped': { may: ['same', 'better'], make: dropLimits },
  'grid halved': {
    may: ['same', 'better'],
    make: (p) => (p.grid % 2 === 0 && p.grid >= 2000 ? { ...p, grid: (p.grid / 2) as Um } : undefined),
  },
}

describe('metamorphic relations of the optimum', () => {
  it('hold of the oracle itself: mirrored, turned and reordered decks have its very optimum', {
    timeout: LONG ? 3_600_000 : 180_000,
  }, () => {
    let compared = 0
    const n = LONG ? 300 : 10
    for (let s = 0; s < n; s++) {
      const p = squared(ordered(randomDeck(80_000 + s, tiny)))
      const a = brute(p, { limit: 40_000 })
      if (a.status !== 'optimal') continue
      for (const name of ['mirrored in x', 'turned by 90°', 'items reordered']) {
        const b = brute(changes[name]!.make(p, rng(s))!, { limit: 60_000 })
        if (b.status === 'too large') continue
        compared++
        expect(b.status, `seed ${s}, ${name}`).toBe('optimal')
        if (b.status === 'optimal')
          for (const [k, v] of a.costs.entries()) expect(b.costs[k]!, `seed ${s}, ${name}`).toBeCloseTo(v, 3)
      }
    }
    expect(compared).toBeGreaterThan(LONG ? 30 : 1.5 * n)
  })

  it(
    'hold of the solve on decks larger than any oracle can bear',
    () => {
      const complaints: string[] = []
      const applied = new Map<string, number>()
      const moved = new Map<string, number>()
      const n = LONG ? 300 : 6
      for (let s = 0; s < n; s++) {
        const p = squared(ordered(randomDeck(90_000 + s, middle)))
        const a = trySolve(p, { time: 6000 })
        if (typeof a === 'string') {
          complaints.push(`seed ${90_000 + s}: ${a}`)
          continue
        }
        if (a.status !== 'optimal' && a.status !== 'infeasible') continue
        for (const [name, { may, make }] of Object.entries(changes)) {
          const q = make(p, rng(s))
          if (!q) continue
          const b = trySolve(q, { time: 6000 })
          if (typeof b === 'string') {
            complaints.push(`seed ${90_000 + s}, ${name}: ${b}`)
            continue
          }
          for (const c of layoutComplaints(q, b)) complaints.push(`seed ${90_000 + s}, ${name}: ${c}`)
          const went = order(p, a, b)
          if (went === undefined) continue
          applied.set(name, (applied.get(name) ?? 0) + 1)
          if (went !== 'same') moved.set(name, (moved.get(name) ?? 0) + 1)
          if (!may.includes(went)) complaints.push(`seed ${90_000 + s}, ${name}: the optimum is ${went}`)
        }
      }
      expect(complaints).toEqual([])
      for (const [name, { may }] of Object.entries(changes)) {
        expect(applied.get(name) ?? 0, name).toBeGreaterThan(n / 10)
        // A change that never moved anything would show nothing.
        if (may.length > 1 && LONG) expect(moved.get(name) ?? 0, `${name} moved the optimum`).toBeGreaterThan(0)
      }
      expect([...moved.values()].reduce((x, y) => x + y, 0)).toBeGreaterThan(n / 5)
    },
    LONG ? 3_600_000 : 180_000,
  )
})
