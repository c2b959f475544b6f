/** Cancelling on a real thread: soon, at any moment, with the best so far and true bounds; and the thread is warm for the next. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { build } from 'vite'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { loadLibrary } from '../../footprints/load.ts'
import { check } from '../../solver/check/check.ts'
import { figures, type Problem, type Progress } from '../../solver/index.ts'
import { readProject, toProblem } from '../../src/model/index.ts'
import { openInNode } from '../../src/worker/node.ts'
import { createPool, type Pool } from '../../src/worker/pool.ts'
import { crowd } from './cli.ts'

const library = loadLibrary()
function opened(document: unknown): Problem {
  const read = readProject(JSON.stringify(document), 'crowd.json', library)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return toProblem(read.value, 'base', library)
}

const { items, wires, ...rest } = crowd()
const never = opened({ ...rest, items: items.slice(0, 18), wires: wires.slice(0, 17) })
/** Takes seconds before the search begins. */
const slow = opened({
  ...crowd(),
  settings: { grid: 0.25 },
  decks: [{ id: 'main', z: 40, thickness: 3, outline: { circle: [200, 200, 190] } }],
})

/** On a machine that does nothing else it is 50; tests run beside others. */
const SOON = 500

const folder = mkdtempSync(join(tmpdir(), 'deckwright-cancel-'))
let pool: Pool
beforeAll(async () => {
  const entry = join(folder, 'entry.ts')
  writeFileSync(entry, `import ${JSON.stringify(join(import.meta.dirname, '../../src/worker/thread.ts'))}\n`)
  await build({
    root: folder,
    configFile: false,
    logLevel: 'error',
    ssr: { noExternal: true },
    build: {
      ssr: entry,
      outDir: folder,
      emptyOutDir: false,
      rolldownOptions: { output: { entryFileNames: 'thread.mjs' } },
    },
  })
  pool = createPool(openInNode(join(folder, 'thread.mjs')), 2)
})
afterAll(() => {
  pool?.end()
  rmSync(folder, { recursive: true, force: true })
})

const pause = (ms: number) => new Promise((go) => setTimeout(go, ms))

describe('a cancel', () => {
  it('while the problem is still prepared ends soon with nothing, or with what there is by then', async () => {
    for (const wait of [0, 60, 400]) {
      const job = pool.solve({ problem: slow, options: { time: 60_000 } })
      await pause(wait)
      const from = performance.now()
      job.cancel()
      const outcome = await job.done
      expect(performance.now() - from).toBeLessThan(SOON)
      if (outcome.kind !== 'cancelled') throw new Error(JSON.stringify(outcome))
      // How far a machine comes in 400 ms is its own affair; at once nothing can be there.
      if (wait > 0 && outcome.result.status === 'feasible') expect(check(slow, outcome.result.placements)).toEqual([])
      else expect(outcome).toEqual({ kind: 'cancelled', result: { status: 'unknown' } })
    }
  })

  it('at any moment after the first layout ends with the best that was told, or better', async () => {
    const took: number[] = []
    for (const wait of [0, 5, 40, 200]) {
      const said: Progress[] = []
      let first: () => void = () => {}
      const begun = new Promise<void>((go) => {
        first = go
      })
      const job = pool.solve({
        problem: never,
        options: { time: 60_000 },
        onProgress: (p) => {
          said.push(p)
          if (p.placements) first()
        },
      })
      await begun
      await pause(wait)
      const from = performance.now()
      job.cancel()
      const outcome = await job.done
      took.push(performance.now() - from)
      if (outcome.kind !== 'cancelled' || outcome.result.status !== 'feasible') throw new Error(JSON.stringify(outcome))
      const { placements, objectives } = outcome.result
      expect(outcome.best).toEqual(placements)
      expect(check(never, placements)).toEqual([])
      expect(outcome.result.figures).toEqual(figures(never, placements))
      const told = said.findLast((p) => p.phase === 'optional-value' && p.value !== undefined)
      const value = objectives.find((o) => o.name === 'optional-value')!
      if (told) {
        expect(value.value).toBeGreaterThanOrEqual(told.value!)
        expect(value.bound).toBeLessThanOrEqual(told.bound!)
      }
      expect(value.bound).toBeGreaterThanOrEqual(value.value)
    }
    expect(Math.max(...took)).toBeLessThan(SOON)
    if (process.env.DECKWRIGHT_LONG === '1')
      console.log(`cancelled after ${took.map((t) => t.toFixed(1)).join(', ')} ms`)
  })

  it('of one leaves the other alone', async () => {
    const [one, two] = [1, 2].map(() => pool.solve({ problem: never, options: { steps: 150 } }))
    one!.cancel()
    expect((await one!.done).kind).toBe('cancelled')
    const alone = await pool.solve({ problem: never, options: { steps: 150 } }).done
    expect(await two!.done).toEqual(alone)
  })
})
