import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { build } from 'vite'
import { afterAll, afterEach, describe, expect, it, vi } from 'vitest'
import { loosenings, mm, type Placement, type Problem, type Progress, Session, solve } from '../../solver/index.ts'
import { openInBrowser } from '../../src/worker/browser.ts'
import { openInNode } from '../../src/worker/node.ts'
import { createPool } from '../../src/worker/pool.ts'
import type { Ask, OpenLine, Say } from '../../src/worker/protocol.ts'
import { crowd } from './cli.ts'
import { openHere } from './here.ts'
import { files, text } from './store-sample.ts'

afterEach(() => {
  vi.unstubAllGlobals()
})

const opened = files.open(text(), 'moss.json')
const problem: Problem = opened.kind === 'opened' ? opened.doc.sheets[0]!.problem : (undefined as never)
const crowded = files.open(JSON.stringify(crowd()), 'crowd.json')
/** Not proven in minutes: a stop always comes before the end. */
const never: Problem = crowded.kind === 'opened' ? crowded.doc.sheets[0]!.problem : (undefined as never)

/** Lines whose far end the test plays itself. */
function played() {
  interface Played {
    asks: Ask[]
    stops: number[]
    ended: boolean
    say: (say: Say) => void
    break: (error: string) => void
  }
  const lines: Played[] = []
  const open: OpenLine = (hear, broken) => {
    const line: Played = { asks: [], stops: [], ended: false, say: hear, break: broken }
    lines.push(line)
    return {
      ask: (ask) => line.asks.push(ask),
      stop: (id) => line.stops.push(id),
      end: () => {
        line.ended = true
      },
    }
  }
  return { open, lines }
}

const ask = { problem, options: { time: 5000 } }
const at = (x: number, y: number) => ({ x: mm(x), y: mm(y) })

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

  it('keeps one line more than its size for the next that is urgent, and no second', async () => {
    const { open, lines } = played()
    const pool = createPool(open, 1)
    pool.solve(ask)
    const done = [1, 2].map(() => pool.solve({ ...ask, urgent: true }).done)
    expect(lines.length).toBe(3)
    for (const line of lines.slice(1)) line.say({ kind: 'done', id: line.asks[0]!.id, result: { status: 'unknown' } })
    await Promise.all(done)
    expect(lines.map((l) => l.ended)).toEqual([false, true, false])
    pool.solve({ ...ask, urgent: true })
    expect(lines.length).toBe(3)
    expect(lines[2]!.asks.length).toBe(2)
  })

  it('opens lines ahead of need, no more than its size, and says when a turn has come', async () => {
    const { open, lines } = played()
    const pool = createPool(open, 2)
    pool.warm(5)
    expect(lines.length).toBe(2)
    const begun: number[] = []
    for (let i = 0; i < 3; i++) pool.solve({ ...ask, onStart: () => begun.push(i) })
    expect(lines.length).toBe(2)
    expect(begun).toEqual([0, 1])
    lines[1]!.say({ kind: 'done', id: lines[1]!.asks[0]!.id, result: { status: 'unknown' } })
    expect(begun).toEqual([0, 1, 2])
    pool.end()
  })

  it('cancels by asking the line to end, which stays, with the result that it still gives', async () => {
    const { open, lines } = played()
    const pool = createPool(open, 1)
    const job = pool.solve(ask)
    job.cancel()
    job.cancel()
    const { id } = lines[0]!.asks[0]!
    expect(lines[0]!.stops).toEqual([id])
    lines[0]!.say({ kind: 'done', id, result: { status: 'unknown' } })
    expect(await job.done).toEqual({ kind: 'cancelled', result: { status: 'unknown' } })
    pool.solve(ask)
    expect(lines.length).toBe(1)
    expect(lines[0]!.ended).toBe(false)
    pool.end()
  })

  it('ends a line that does not end in time, with the best so far and what is known of it', async () => {
    const { open, lines } = played()
    const pool = createPool(open, 1)
    const job = pool.solve(ask)
    const full = solve(problem)
    if (full.status !== 'optimal') throw new Error(full.status)
    const { placements, objectives, figures } = full
    const [first] = objectives
    const { id } = lines[0]!.asks[0]!
    const say = (progress: Progress) => lines[0]!.say({ kind: 'progress', id, progress })
    say({ phase: 'legal', steps: 1, placements })
    say({ phase: first!.name, steps: 2, value: first!.value, bound: first!.bound })
    const from = performance.now()
    job.cancel()
    const outcome = await job.done
    expect(performance.now() - from).toBeLessThan(250)
    if (outcome.kind !== 'cancelled' || outcome.result.status !== 'feasible') throw new Error(JSON.stringify(outcome))
    expect(outcome.best).toEqual(placements)
    expect(outcome.result.figures).toEqual(figures)
    expect(outcome.result.objectives[0]).toEqual(first)
    for (const [i, o] of outcome.result.objectives.entries()) {
      expect(o).toMatchObject({ name: objectives[i]!.name, value: objectives[i]!.value })
      expect(o.name === 'wire-length' || o.name === 'balance' ? o.bound <= o.value : o.bound >= o.value).toBe(true)
    }
    expect(outcome.result.objectives.some((o) => !o.proven)).toBe(true)
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
    expect(await waiting.done).toEqual({ kind: 'cancelled', result: { status: 'unknown' } })
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
    if (direct.status !== 'optimal') throw new Error(direct.status)

    // what-ifs go over the same lines
    const pins = direct.placements.slice(0, 1).map(({ item, deck, turn }) => ({ item, deck, turn, at: at(-5, -5) }))
    const none = solve(problem, { pins })
    if (none.status !== 'infeasible') throw new Error(none.status)
    const loosen = { kind: 'loosen', problem, conflict: none.conflict, options: { pins } } as const
    const loosened = await pool.ask(loosen).done
    expect(loosened).toEqual({ kind: 'done', answer: loosenings(problem, none.conflict, { pins }) })
    const equal = { kind: 'equal', problem, count: 1, options: { hint: direct.placements } } as const
    const stopped = pool.ask({ ...equal, options: { ...equal.options, time: 60_000 } })
    const from = performance.now()
    stopped.cancel()
    expect((await stopped.done).kind).toBe('cancelled')
    expect(performance.now() - from).toBeLessThan(500)

    // a drag: the first wish and the newest are answered, with what a session says here
    const [one, ...rest] = direct.placements
    const session = new Session(problem)
    const hold = (x: number) => ({ item: one!.item, deck: one!.deck, turn: one!.turn, at: at(x, 5) })
    const drag = pool.drag(problem)
    const told: (readonly [number, readonly Placement[] | undefined])[] = []
    for (const x of [10, 20, 30, 40])
      drag.to([hold(x)], [{ ...one!, at: hold(x).at }, ...rest], (layout) => told.push([x, layout]))
    await expect.poll(() => told.length, { timeout: 10_000 }).toBe(2)
    expect(told.map(([x]) => x)).toEqual([10, 40])
    for (const [x, layout] of told)
      expect(layout).toEqual(session.next([hold(x)], [{ ...one!, at: hold(x).at }, ...rest]))
    drag.to([hold(10)], direct.placements, () => told.push([0, undefined]))
    drag.end()
    // another problem on the same line, and nothing more of what ended
    const other = pool.drag({ ...problem })
    const last = new Promise<readonly Placement[] | undefined>((go) => other.to([hold(25)], direct.placements, go))
    expect((await last)?.find((p) => p.item === one!.item)?.at).toEqual(at(25, 5))
    expect(told).toHaveLength(2)
    pool.end()
  })

  it('without workers a browser says so, every time it is asked', async () => {
    // Node has none, but a library loaded for another file may have left one
    vi.stubGlobal('Worker', undefined)
    const pool = createPool(openInBrowser)
    for (let i = 0; i < 3; i++)
      expect(await pool.solve(ask).done).toEqual({ kind: 'failed', error: 'this browser has no workers to solve in' })
    pool.end()
  })

  it('a stop ends it with a layout, whether heard between slices or not in time', async () => {
    let opened = 0
    const counted: OpenLine = (hear, broken) => {
      opened++
      return openHere(hear, broken)
    }
    const pool = createPool(counted, 1)
    let first = (): void => {}
    const begun = new Promise<void>((go) => {
      first = go
    })
    const job = pool.solve({ problem: never, options: {}, onProgress: (p) => p.placements && first() })
    await begun
    job.cancel()
    const outcome = await job.done
    if (outcome.kind !== 'cancelled' || !('placements' in outcome.result)) throw new Error(JSON.stringify(outcome))
    expect(outcome.best).toEqual(outcome.result.placements)
    expect(await pool.solve({ problem, options: {} }).done).toEqual({ kind: 'done', result: direct })
    pool.end()
    expect(opened).toBeLessThanOrEqual(2)
  })

  it('what passes on the way to the solver is taken from the time', async () => {
    const said: Say[] = []
    const line = openHere(
      (say) => said.push(say),
      () => {},
    )
    line.ask({ kind: 'solve', id: 1, problem, options: { time: 1000 }, at: Date.now() - 2000 })
    await expect.poll(() => said.length, { timeout: 5000 }).toBeGreaterThan(0)
    expect(said).toEqual([{ kind: 'done', id: 1, result: { status: 'unknown' } }])
  })

  it('a bug of the solver arrives as a sentence', async () => {
    const pool = createPool(openHere)
    const outcome = await pool.solve({ problem: { ...problem, items: undefined } as never, options: {} }).done
    expect(outcome.kind).toBe('failed')
    pool.end()
  })
})
