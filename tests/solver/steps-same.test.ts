/** The same input gives the same layout, however often the search has to pause (contract §6): only the clock differs here. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, describe, expect, it, vi } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { type Progress, type SolveOptions, type SolveResult, solve } from '../../solver/index.ts'
import { readProject, toProblem } from '../../src/model/index.ts'
import { benchDecks } from '../bench/decks.ts'
import { aiming } from '../bench/problems.ts'
import { problemOf } from '../published/project.ts'
import { LONG } from './oracle/mixes.ts'

afterEach(() => {
  vi.restoreAllMocks()
})

function demo(file: string, variant: string) {
  const read = readProject(readFileSync(join(import.meta.dirname, '../../demo-data', file)), file, loadLibrary())
  if (!read.ok) throw new Error(`${file} does not open`)
  return toProblem(read.value, variant, loadLibrary())
}

/** Solves while each look at the clock takes `tick` milliseconds: a slice ends after 20 of them. */
function solved(problem: ReturnType<typeof demo>, tick: number, options: SolveOptions): SolveResult {
  let now = 0
  vi.spyOn(performance, 'now').mockImplementation(() => {
    now += tick
    return now
  })
  return solve(problem, options)
}

describe('pauses', () => {
  it.each([
    ['duct-inspector.json', 'arm-later', 500, [25, 0.7]],
    // takes long
    ['duct-inspector.json', 'arm-later', LONG ? 3000 : 1500, LONG ? [25, 0.7] : [25]],
    ['shelf-reader.json', 'new-leads', 2000, [25, 0.7]],
    ['shelf-reader.json', 'as-found', 5, [25, 0.7]],
  ] as const)('change nothing in %s, %s, %d steps', (file, variant, steps, ticks) => {
    const problem = demo(file, variant)
    const [never, ...others] = [0, ...ticks].map((t) => solved(problem, t, { steps }))
    for (const other of others) expect(other).toEqual(never)
  })

  it('change nothing where decks are asked one by one', () => {
    // with its contacts by which boards fit together, then wires; both cut short
    const problem = aiming(problemOf(benchDecks().find((d) => d.name === '20 on 2, 4')!.text), [
      'free-tie-points',
      'wire-length',
    ])
    const [often, never] = [25, 0].map((tick) => solved(problem, tick, { steps: LONG ? 9000 : 4000 }))
    expect(often).toEqual(never)
  })

  // the short run has this for one search, in `decks.test.ts`
  it.skipIf(!LONG)('change nothing where decks are asked in passing', { timeout: 600_000 }, () => {
    // wires, tried long: each of the decks is asked so far and no further
    const problem = aiming(problemOf(benchDecks().find((d) => d.name === '20 on 2, 3')!.text), [
      'free-tie-points',
      'wire-length',
    ])
    const [never, ...others] = [0, 25, 0.7].map((tick) => {
      const bounds: (readonly [number | undefined, number])[] = []
      const onProgress = ({ bound, steps }: Progress) => bounds.push([bound, steps])
      return { result: solved(problem, tick, { steps: 60_000, onProgress }), bounds }
    })
    for (const other of others) expect(other).toEqual(never)
  })

  it('a limit by steps ends the search for reasons too', () => {
    expect(solve(demo('shelf-reader.json', 'as-found'), { steps: 5 })).toMatchObject({
      status: 'infeasible',
      conflictIrreducible: false,
    })
  })
})
