/** What is long stays interruptible: it runs on a thread, or in slices between which signals are heard. */
import { availableParallelism } from 'node:os'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { Problem, Progress, SolveOptions, SolveResult } from '../../solver/index.ts'
import { boundInFile, valueInFile } from '../model/index.ts'
import { openInNode } from '../worker/node.ts'
import { createPool, type Pool } from '../worker/pool.ts'
import type { Rules } from '../worker/rules.ts'

/** Threads to solve on, at most `most` and no more than there are cores. To be ended, or the program goes on. */
export function solvers(most = Number.POSITIVE_INFINITY): Pool & { readonly threads: number } {
  // The thread's bundle stands beside the command's.
  const file = join(dirname(fileURLToPath(import.meta.url)), 'solver-thread.js')
  const threads = Math.max(1, Math.min(most, availableParallelism()))
  return { ...createPool(openInNode(file), threads), threads }
}

export interface OnThread {
  readonly problem: Problem
  /** `time` counts from when a thread is free for it. */
  readonly options: Omit<SolveOptions, 'signal' | 'onProgress' | 'lazy'>
  readonly rules: Rules
  readonly onStart?: () => void
  readonly onProgress?: (p: Progress) => void
}

/** `short`: why leads are too short in the layout, though the file asks for routes. */
export interface OfThread {
  readonly result: SolveResult
  readonly short: readonly string[]
}

/** Solves on one of the threads; Ctrl-C makes it end with the best so far, a second one ends the program. */
export async function solveOn(pool: Pool, request: OnThread, interrupts: Interrupts): Promise<OfThread> {
  const job = pool.solve(request)
  interrupts.onStop(job.cancel)
  const outcome = await job.done
  if (outcome.kind === 'failed') throw new Error(outcome.error)
  return { result: outcome.result, short: outcome.short ?? [] }
}

/** Runs anything in slices to its end, so that signals are heard between them. */
export async function toEnd<T>(run: Generator<undefined, T, void>): Promise<T> {
  for (;;) {
    const next = run.next()
    if (next.done) return next.value
    await new Promise((go) => setImmediate(go))
  }
}

export interface Interrupts {
  readonly signal: { readonly aborted: boolean }
  /** Calls back at the first signal; at once where that was before. */
  readonly onStop: (act: () => void) => void
  readonly stop: () => void
}

/** One key press can arrive twice, from the terminal and passed on by npm: only a later one is a second wish. */
const TWICE = 500

/** Listens for Ctrl-C (and a polite kill). Once heard, it goes on swallowing the echo, so that the answer gets out. */
export function interrupts(): Interrupts {
  const signal = { aborted: false }
  const acts: (() => void)[] = []
  let first = 0
  const hear = (): void => {
    if (signal.aborted && performance.now() - first > TWICE) process.exit(3)
    if (signal.aborted) return
    first = performance.now()
    signal.aborted = true
    for (const act of acts) act()
  }
  process.on('SIGINT', hear)
  process.on('SIGTERM', hear)
  return {
    signal,
    onStop: (act) => {
      if (signal.aborted) act()
      else acts.push(act)
    },
    stop: () => {
      if (signal.aborted) return
      process.off('SIGINT', hear)
      process.off('SIGTERM', hear)
    },
  }
}

export interface Limits {
  /** Seconds. */
  readonly time: number | undefined
  readonly steps: number | undefined
}

/** What a solve may take. `since` = performance.now() when the file was opened: the time is counted from there. */
export function limitsOf(limits: Limits, since: number, fallback: number): { time?: number; steps?: number } {
  const time = limits.time ?? (limits.steps === undefined ? fallback : undefined)
  return {
    ...(time === undefined ? {} : { time: Math.max(0, time * 1000 - (performance.now() - since)) }),
    ...(limits.steps === undefined ? {} : { steps: limits.steps }),
  }
}

/** One line of `--progress`: contacts and value as they are, lengths in mm, seconds since the file was opened. */
export function progressLine(p: Progress, since: number): string {
  return JSON.stringify({
    phase: p.phase,
    ...(p.value === undefined ? {} : { value: valueInFile(p.phase, p.value) }),
    ...(p.bound === undefined ? {} : { bound: boundInFile(p.phase, p.bound) }),
    steps: p.steps,
    seconds: Math.round(performance.now() - since) / 1000,
  })
}
