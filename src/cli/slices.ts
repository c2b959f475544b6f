/** A solve that stays interruptible: it runs in slices, and signals are heard between them. */
import { type Problem, type Progress, type SolveOptions, type SolveResult, solving } from '../../solver/index.ts'

/** Runs a solve; Ctrl-C makes it end with the best so far, a second one ends the program. */
export async function solveInSlices(
  problem: Problem,
  options: SolveOptions,
  interrupts: Interrupts,
): Promise<SolveResult> {
  return toEnd(solving(problem, { ...options, signal: interrupts.signal }))
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
  readonly stop: () => void
}

/** One key press can arrive twice, from the terminal and passed on by npm: only a later one is a second wish. */
const TWICE = 500

/** Listens for Ctrl-C (and a polite kill). Once heard, it goes on swallowing the echo, so that the answer gets out. */
export function interrupts(): Interrupts {
  const signal = { aborted: false }
  let first = 0
  const hear = (): void => {
    if (signal.aborted && performance.now() - first > TWICE) process.exit(3)
    if (!signal.aborted) first = performance.now()
    signal.aborted = true
  }
  process.on('SIGINT', hear)
  process.on('SIGTERM', hear)
  return {
    signal,
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
export function limitsOf(limits: Limits, since: number, fallback: number): SolveOptions {
  const time = limits.time ?? (limits.steps === undefined ? fallback : undefined)
  return {
    ...(time === undefined ? {} : { time: Math.max(0, time * 1000 - (performance.now() - since)) }),
    ...(limits.steps === undefined ? {} : { steps: limits.steps }),
  }
}

/** One line of `--progress`: contacts and value as they are, lengths in mm, seconds since the file was opened. */
export function progressLine(p: Progress, since: number): string {
  const unit = p.phase === 'wire-length' || p.phase === 'balance' ? 1000 : 1
  return JSON.stringify({
    phase: p.phase,
    ...(p.value === undefined ? {} : { value: p.value / unit }),
    ...(p.bound === undefined ? {} : { bound: p.bound / unit }),
    steps: p.steps,
    seconds: Math.round(performance.now() - since) / 1000,
  })
}
