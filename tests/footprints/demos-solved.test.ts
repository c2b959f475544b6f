/**
 * The demos through the solver. The figures were found and proven by a separate method first (CP-SAT through or-tools-wasm, a
 * model of its own whose corridors and sweeps are boxes, so never looser than the rules); the solver must reach them and prove that
 * there is no more.
 */
import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { type Problem, type SolveResult, solve } from '../../solver/index.ts'
import { routedRule } from '../../src/electric/routes-rule.ts'
import { wiringOf } from '../../src/electric/routes-settings.ts'
import { joinedRule, unjoined } from '../../src/electric/strips-rule.ts'
import { type Project, readProject, toProblem } from '../../src/model/index.ts'

const LONG = process.env.DECKWRIGHT_LONG === '1'

function project(id: string): Project {
  const file = fileURLToPath(new URL(`../../demo-data/${id}.json`, import.meta.url))
  const read = readProject(readFileSync(file), id, loadLibrary())
  if (!read.ok) throw new Error(JSON.stringify(read.problems, null, 1))
  return read.value
}

const problem = (id: string, variant: string): Problem => toProblem(project(id), variant, loadLibrary())

/** Most free tie points, proven. */
function mostFree(p: Problem): number {
  const result = solve({ ...p, objective: ['free-tie-points'] }, { time: 60_000 })
  if (result.status !== 'optimal') throw new Error(`${p.variant}: ${result.status}`)
  return result.objectives[0]!.value
}

describe('the demos, solved', () => {
  it.each([
    ['greenhouse-scout', 'centred', 319],
    ['greenhouse-scout', 'beside', 714],
    ['duct-inspector', 'arm-later', 498],
    ['duct-inspector', 'no-arm', 668],
    ['shelf-reader', 'new-leads', 333],
  ])('%s, %s: %i free tie points, and no more are possible', { timeout: 90_000 }, (id, variant, free) => {
    expect(mostFree(problem(id, variant))).toBe(free)
  })

  // Ours alone: a search that ruled out one set of places at a time found no more than these in 100 s either, and proved nothing.
  it.each([
    ['greenhouse-scout', 'centred', 305],
    ['duct-inspector', 'no-arm', 668],
    ...(LONG
      ? ([
          ['greenhouse-scout', 'beside', 714],
          ['duct-inspector', 'arm-later', 498],
          ['shelf-reader', 'new-leads', 333],
        ] as const)
      : []),
  ] as const)(
    '%s, %s: %i with every lead long enough round what stands in its way, and a contact free for each',
    { timeout: 90_000 },
    (id, variant, free) => {
      const rules = [routedRule(wiringOf(project(id), variant)), joinedRule]
      const p: Problem = { ...problem(id, variant), objective: ['free-tie-points'] }
      let asked = 0
      const counted = rules.map((rule) => ({
        ...rule,
        find: (...all: Parameters<typeof rule.find>) => {
          asked++
          return rule.find(...all)
        },
      }))
      const result = solve(p, { steps: 60_000, lazy: counted })
      if (result.status !== 'optimal') throw new Error(result.status)
      expect(result.objectives[0]!.value).toBe(free)
      expect([...unjoined(p, result.placements)]).toEqual([])
      expect(rules.flatMap((rule) => rule.find(p, result.placements))).toEqual([])
      // not one set of places after the other; each rule is asked of each
      expect(asked).toBeLessThan(1000)
    },
  )

  it('the duct inspector’s leads bind: 16 mm less on each, and nothing can be legal', {
    timeout: 90_000,
  }, () => {
    // By hand: 66 + 82 − 2 · 10 (loops) − (112 between the exits − 12.7 between the terminals) = 28.7 mm to spare; 32 is more.
    const p = problem('duct-inspector', 'arm-later')
    const exits = p.exits.map((e) => ({ ...e, free: ((e.free ?? 0) - 16_000) as typeof p.grid }))
    const shorter = solve({ ...p, exits, objective: ['free-tie-points'] }, { time: 60_000 })
    expect(shorter.status).toBe('infeasible')
  })
})

describe('the shelf reader as it was found', () => {
  let found: SolveResult | undefined
  const asFound = () => {
    found ??= solve(problem('shelf-reader', 'as-found'), { time: 60_000 })
    if (found.status !== 'infeasible') throw new Error(found.status)
    return found
  }

  it('cannot be: both leads, the swing of the head and its place, in a small irreducible conflict', {
    timeout: 90_000,
  }, () => {
    const { conflict, conflictIrreducible } = asFound()
    expect(conflictIrreducible).toBe(true)
    expect(conflict.length).toBeLessThanOrEqual(7)
    const has = (rule: string, ...items: string[]) =>
      conflict.some((m) => m.rule === rule && items.every((i) => m.items.includes(i)))
    expect(has('R7', 'lead-left')).toBe(true)
    expect(has('R7', 'lead-right')).toBe(true)
    expect(has('R9', 'neck', 'driver')).toBe(true)
    expect(has('R10', 'neck')).toBe(true)
  })

  it('holds once any one of those is dropped: a longer lead, a head that may move, or no head', {
    timeout: 90_000,
  }, () => {
    const p = problem('shelf-reader', 'as-found')
    const neck = p.items.findIndex((i) => i.id === 'neck')
    const withWires = (drop: string): Problem => ({ ...p, wires: p.wires.filter((w) => w.id !== drop) })
    const moved = { ...p, items: p.items.map((i, k) => (k === neck ? { ...i, place: [] } : i)) }
    const gone = { ...p, items: p.items.map((i, k) => (k === neck ? { ...i, required: false } : i)) }
    for (const looser of [withWires('lead-left'), withWires('lead-right'), moved, gone])
      expect(solve({ ...looser, objective: ['free-tie-points'] }, { time: 60_000 }).status).toBe('optimal')
  })
})
