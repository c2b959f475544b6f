/** A search that is stopped, and what it says on its way: no long stretch without a look at the signal; values and bounds only get better. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { check } from '../../solver/check/check.ts'
import { figureOf, figures } from '../../solver/check/figures.ts'
import { type Problem, type Progress, type SolveOptions, type SolveResult, solving } from '../../solver/index.ts'
import { readProject, toProblem, variantsOf } from '../../src/model/index.ts'
import { randomDeck } from './oracle/decks.ts'
import { LONG, small } from './oracle/mixes.ts'

const library = loadLibrary()
const demos = ['greenhouse-scout.json', 'duct-inspector.json', 'shelf-reader.json'].flatMap((file) => {
  const read = readProject(readFileSync(join(import.meta.dirname, '../../demo-data', file)), file, library)
  if (!read.ok) throw new Error(`${file} does not open`)
  return variantsOf(read.value).map((v) => ({
    name: `${file} ${v.id}`,
    problem: toProblem(read.value, v.id, library),
  }))
})
const decks = Array.from({ length: LONG ? 300 : 10 }, (_, s) => ({
  name: `random ${s}`,
  problem: randomDeck(90_000 + s, small),
}))

/** Milliseconds of work of this process: other programs on the machine do not count. */
const worked = (): number => process.cpuUsage().user / 1000

function toEnd(problem: Problem, options: SolveOptions): SolveResult {
  const run = solving(problem, options)
  for (;;) {
    const next = run.next()
    if (next.done) return next.value
  }
}

describe('a stop', () => {
  it.each(LONG ? demos : demos.filter((_, i) => i % 2 === 0))('is looked for often in $name', ({ problem }) => {
    const longest = (): number => {
      let [last, most, looks] = [worked(), 0, 0]
      const signal = {
        get aborted() {
          const now = worked()
          most = Math.max(most, now - last)
          last = now
          looks++
          return false
        },
      }
      toEnd(problem, { steps: LONG ? 20_000 : 400, signal })
      expect(looks).toBeGreaterThan(2)
      return most
    }
    // generous, and the better of two: compilers and collectors run beside, and the machine may be slow; threads are ended after 25 ms anyway
    const first = longest()
    expect(first < 1000 ? first : longest()).toBeLessThan(1000)
  })

  it('ends the search wherever it falls, with a legal layout as soon as there was one', () => {
    const status = new Map<string, number>()
    for (const { name, problem } of [...(LONG ? demos : demos.slice(4, 5)), ...decks]) {
      for (const nth of [0, 1, 3, 8, 20, 60]) {
        let looks = 0
        let shown = false
        const signal = {
          get aborted() {
            return ++looks > nth
          },
        }
        const result = toEnd(problem, {
          steps: 500,
          signal,
          onProgress: (p) => {
            shown ||= p.placements !== undefined
          },
        })
        status.set(result.status, (status.get(result.status) ?? 0) + 1)
        if (shown) expect(['optimal', 'feasible'], `${name}, look ${nth}`).toContain(result.status)
        if ('placements' in result) expect(check(problem, result.placements), `${name}, look ${nth}`).toEqual([])
      }
    }
    for (const s of ['optimal', 'feasible', 'infeasible', 'unknown']) expect(status.get(s) ?? 0, s).toBeGreaterThan(0)
  })
})

describe('what is told on the way', () => {
  it('gets better only, with a legal layout for every better value, and ends at the result', () => {
    let [improved, tightened] = [0, 0]
    for (const { name, problem } of [...(LONG ? demos : demos.filter((_, i) => i % 2 === 1)), ...decks]) {
      const said: Progress[] = []
      const result = toEnd(problem, { steps: LONG ? 5000 : 800, onProgress: (p) => said.push(p) })
      for (const [i, p] of said.entries()) {
        const at = `${name}, report ${i}`
        if (i > 0) expect(p.steps, at).toBeGreaterThanOrEqual(said[i - 1]!.steps)
        if (p.placements) expect(check(problem, p.placements), at).toEqual([])
        if (p.phase === 'legal' || p.phase === 'moves') continue
        const sign = p.phase === 'free-tie-points' || p.phase === 'optional-value' ? 1 : -1
        expect(p.value, at).toBeDefined()
        expect(p.bound, at).toBeDefined()
        // to the thousandth of a micrometre
        expect(sign * (p.bound! - p.value!), at).toBeGreaterThanOrEqual(-1e-3)
        if (p.placements)
          expect(Math.abs(figureOf(p.phase, figures(problem, p.placements)) - p.value!), at).toBeLessThan(1e-3)
        const before = said.slice(0, i).findLast((q) => q.phase === p.phase)
        if (!before) continue
        expect(sign * (p.value! - before.value!), at).toBeGreaterThanOrEqual(0)
        expect(sign * (p.bound! - before.bound!), at).toBeLessThanOrEqual(0)
        if (p.value !== before.value) improved++
        if (p.bound !== before.bound) tightened++
        if (p.value !== before.value) expect(p.placements, at).toBeDefined()
      }
      if (!('objectives' in result)) continue
      const last = said.findLast((p) => p.placements)
      expect(last?.placements, name).toEqual(result.placements)
      for (const o of result.objectives) {
        const end = said.findLast((p) => p.phase === o.name)
        if (!end) continue
        // what came after may have gained a little on an objective that is settled
        const sign = o.name === 'free-tie-points' || o.name === 'optional-value' ? 1 : -1
        expect(sign * (o.value - end.value!), `${name} ${o.name}`).toBeGreaterThanOrEqual(-1e-3)
        expect(sign * (o.bound - end.bound!), `${name} ${o.name}`).toBeLessThanOrEqual(1e-3)
      }
    }
    expect(improved).toBeGreaterThan(LONG ? 20 : 0.8 * decks.length)
    expect(tightened).toBeGreaterThan(LONG ? 20 : 0.8 * decks.length)
  })
})
