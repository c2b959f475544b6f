/** Solves side by side on a few lines. A cancelled solve is asked to end; a line that does not in time is ended itself. */
import type { Problem, Progress } from '../../solver/index.ts'
import { bestSoFar, type Heard, hearProgress } from './best.ts'
import type { Line, OpenLine, Outcome, Say, SentOptions } from './protocol.ts'

export interface Job {
  /** Never rejects. */
  readonly done: Promise<Outcome>
  /** The outcome comes within 50 ms, with the best so far. */
  readonly cancel: () => void
}

export interface Request {
  readonly problem: Problem
  readonly options: SentOptions
  /** Do not wait for a line to come free: somebody is looking on. */
  readonly urgent?: boolean
  /** Its turn has come. */
  readonly onStart?: () => void
  readonly onProgress?: (progress: Progress) => void
}

export interface Pool {
  readonly solve: (request: Request) => Job
  /** Opens lines ahead of need, so that what they take to load is over by then. */
  readonly warm: (lines: number) => void
  /** Ends every line; what is running is cancelled. */
  readonly end: () => void
}

/** Milliseconds in which a solver that is asked to stop may end by itself: of the 50 that a cancel may take. */
const GRACE = 25

interface Running {
  readonly id: number
  readonly request: Request
  readonly settle: (outcome: Outcome) => void
  readonly heard: Heard
  stopping: boolean
}

interface Seat {
  readonly line: Line
  running: Running | undefined
}

/**
 * `size` lines at most for what can wait; an urgent solve opens one more where all are taken. One more than `size` is kept:
 * where urgent solves follow one another, the next one finds a line that is warm.
 */
export function createPool(open: OpenLine, size = 2): Pool {
  let count = 0
  const seats = new Set<Seat>()
  const waiting: Running[] = []

  const leave = (seat: Seat): void => {
    seats.delete(seat)
    seat.line.end()
  }

  const finish = (seat: Seat, outcome: Outcome): void => {
    const { running } = seat
    seat.running = undefined
    running?.settle(outcome)
    if (seats.size > size + 1) leave(seat)
    next()
  }

  const openSeat = (): Seat => {
    const seat: Seat = { line: open(hear, broken), running: undefined }
    function hear(say: Say): void {
      const run = seat.running
      if (!run || say.id !== run.id) return
      if (say.kind === 'progress') {
        hearProgress(run.heard, say.progress)
        if (!run.stopping) run.request.onProgress?.(say.progress)
      } else if (say.kind === 'failed') finish(seat, { kind: 'failed', error: say.error })
      else if (!run.stopping) finish(seat, { kind: 'done', result: say.result })
      else {
        const best = 'placements' in say.result ? { best: say.result.placements } : {}
        finish(seat, { kind: 'cancelled', result: say.result, ...best })
      }
    }
    function broken(error: string): void {
      leave(seat)
      const { running: lost } = seat
      seat.running = undefined
      lost?.settle({ kind: 'failed', error })
      next()
    }
    seats.add(seat)
    return seat
  }

  const seatDown = (running: Running): void => {
    const seat = [...seats].find((s) => !s.running) ?? openSeat()
    seat.running = running
    const { problem, options, onStart } = running.request
    onStart?.()
    seat.line.ask({ kind: 'solve', id: running.id, problem, options, at: Date.now() })
  }

  const next = (): void => {
    while (waiting.length > 0 && [...seats].filter((s) => s.running).length < size) seatDown(waiting.shift()!)
  }

  /** Ends the line, and makes do with what was heard. */
  const cutOff = (seat: Seat, running: Running): void => {
    if (seat.running !== running) return
    leave(seat)
    seat.running = undefined
    const { best } = running.heard
    running.settle({
      kind: 'cancelled',
      result: bestSoFar(running.request.problem, running.heard),
      ...(best ? { best } : {}),
    })
    next()
  }

  const cancel = (running: Running): void => {
    const queued = waiting.indexOf(running)
    if (queued >= 0) {
      waiting.splice(queued, 1)
      running.settle({ kind: 'cancelled', result: { status: 'unknown' } })
      return
    }
    const seat = [...seats].find((s) => s.running === running)
    if (!seat || running.stopping) return
    running.stopping = true
    seat.line.stop(running.id)
    setTimeout(() => cutOff(seat, running), GRACE)
  }

  return {
    solve: (request) => {
      let settle: (outcome: Outcome) => void = () => {}
      const done = new Promise<Outcome>((resolve) => {
        settle = resolve
      })
      const running: Running = { id: ++count, request, settle, heard: { bounds: new Map() }, stopping: false }
      if (request.urgent) seatDown(running)
      else {
        waiting.push(running)
        next()
      }
      return { done, cancel: () => cancel(running) }
    },
    warm: (lines) => {
      while (seats.size < Math.min(lines, size)) openSeat()
    },
    end: () => {
      for (const running of waiting.splice(0)) running.settle({ kind: 'cancelled', result: { status: 'unknown' } })
      for (const seat of [...seats]) if (seat.running) cutOff(seat, seat.running)
      for (const seat of [...seats]) leave(seat)
    },
  }
}
