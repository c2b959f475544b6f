import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { build } from 'vite'
import { afterAll, describe, expect, it } from 'vitest'
import { type Problem, solve } from '../../solver/index.ts'
import { openInBrowser } from '../../src/worker/browser.ts'
import { openInNode } from '../../src/worker/node.ts'
import { createPool } from '../../src/worker/pool.ts'
import type { Ask, OpenLine, Say } from '../../src/worker/protocol.ts'
import { openHere } from '../../src/worker/serve.ts'
import { files, text } from './store-sample.ts'

const opened = files.open(text(), 'moss.json')
const problem: Problem = opened.kind === 'opened' ? opened.doc.sheets[0]!.problem : (undefined as never)

/** Lines whose far end the test plays itself. */
function played() {
  const lines: { asks: Ask[]; ended: boolean; say: (say: Say) => void; break: (error: string) => void }[] = []
  const open: OpenLine = (hear, broken) => {
    const line = { asks: [] as Ask[], ended: false, say: hear, break: broken }
    lines.push(line)
    return {
      ask: (ask) => line.asks.push(ask),
      end: () => {
        line.ended = true
      },
    }
  }
  return { open, lines }
}

const ask = { problem, options: { time: 5000 } }

describe('the pool', () => {
  it('opens no more lines than its size for what can wait, and one more for what is urgent', () => {
    const { open, lines } = played()
    const pool = createPool(open, 2)
    for (let i = 0; i < 3; i++) pool.solve(ask)
    expect(lines.length).toBe(2)
    pool.solve({ ...ask, urgent: true })
    expect(lines.length).toBe(3)
    expect(lines[2]!.asks.length).toBe(1)
    pool.end()
    expect(lines.every((l) => l.ended)).toBe(true)
  })

  it('hands over results and failures as values, and takes the next that waits', async () => {
    const { open, lines } = played()
    const pool = createPool(open, 1)
    const first = pool.solve(ask)
    const second = pool.solve(ask)
    const [line] = lines
    expect(line!.asks.length).toBe(1)
    line!.say({ kind: 'done', id: line!.asks[0]!.id, result: { status: 'unknown' } })
    expect(await first.done).toEqual({ kind: 'done', result: { status: 'unknown' } })
    expect(line!.asks.length).toBe(2)
    line!.say({ kind: 'failed', id: line!.asks[1]!.id, error: 'bug' })
    expect(await second.done).toMatchObject({ kind: 'failed', error: 'bug' })
  })

  it('cancels by ending the line, with the best so far, and opens a new line for the next', async () => {
    const { open, lines } = played()
    const pool = createPool(open, 1)
    const job = pool.solve(ask)
    const placements = [{ item: 0, deck: 0, at: { x: 0, y: 0 }, turn: 0 }] as never
    lines[0]!.say({ kind: 'progress', id: lines[0]!.asks[0]!.id, progress: { phase: 'legal', steps: 1, placements } })
    job.cancel()
    expect(await job.done).toEqual({ kind: 'cancelled', best: placements })
    expect(lines[0]!.ended).toBe(true)
    const next = pool.solve(ask)
    expect(lines.length).toBe(2)
    lines[1]!.break('thread died')
    expect(await next.done).toEqual({ kind: 'failed', error: 'thread died' })
  })

  it('cancels what has not begun without a best', async () => {
    const { open, lines } = played()
    const pool = createPool(open, 1)
    pool.solve(ask)
    const waiting = pool.solve(ask)
    waiting.cancel()
    expect(await waiting.done).toEqual({ kind: 'cancelled' })
    expect(lines[0]!.ended).toBe(false)
  })

  it('does not hear what belongs to an ask before', async () => {
    const { open, lines } = played()
    const pool = createPool(open, 1)
    let heard = 0
    const job = pool.solve({ ...ask, onProgress: () => heard++ })
    const [line] = lines
    line!.say({ kind: 'done', id: line!.asks[0]!.id + 7, result: { status: 'unknown' } })
    line!.say({ kind: 'progress', id: 99, progress: { phase: 'legal', steps: 1 } })
    expect(heard).toBe(0)
    line!.say({ kind: 'done', id: line!.asks[0]!.id, result: { status: 'unknown' } })
    expect((await job.done).kind).toBe('done')
  })
})

describe('the same answer on every line', () => {
  const direct = solve(problem)
  const folder = mkdtempSync(join(tmpdir(), 'deckwright-thread-'))
  afterAll(() => rmSync(folder, { recursive: true, force: true }))

  it('in the caller’s own thread, which stays free between slices', async () => {
    const pool = createPool(openHere)
    let ticks = 0
    const timer = setInterval(() => ticks++, 1)
    const said: unknown[] = []
    const outcome = await pool.solve({ problem, options: {}, onProgress: (p) => said.push(p) }).done
    clearInterval(timer)
    expect(outcome).toEqual({ kind: 'done', result: direct })
    expect(said.length).toBeGreaterThan(0)
    expect(direct.status).toBe('optimal')
    pool.end()
  })

  it('in a Node thread', async () => {
    const entry = join(folder, 'entry.ts')
    writeFileSync(
      entry,
      `import { listen } from ${JSON.stringify(join(import.meta.dirname, '../../src/worker/node.ts'))}\nlisten()\n`,
    )
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
    const pool = createPool(openInNode(join(folder, 'thread.mjs')))
    expect(await pool.solve({ problem, options: {} }).done).toEqual({ kind: 'done', result: direct })
    const long = pool.solve({ problem: { ...problem, grid: 1 as Problem['grid'] }, options: {} })
    long.cancel()
    expect((await long.done).kind).toBe('cancelled')
    pool.end()
  })

  it('without workers a browser says so, every time it is asked', async () => {
    expect(typeof Worker).toBe('undefined')
    const pool = createPool(openInBrowser)
    for (let i = 0; i < 3; i++)
      expect(await pool.solve(ask).done).toEqual({ kind: 'failed', error: 'this browser has no workers to solve in' })
    pool.end()
  })

  it('a bug of the solver arrives as a sentence', async () => {
    const pool = createPool(openHere)
    const outcome = await pool.solve({ problem: { ...problem, items: undefined } as never, options: {} }).done
    expect(outcome.kind).toBe('failed')
    pool.end()
  })
})
