/** Solves one after the other on a few lines. To cancel is to end the line and open a new one when next needed. */
import type { Placement, Problem, Progress } from '../../solver/index.ts'
import type { Line, OpenLine, Outcome, Say, SentOptions } from './protocol.ts'

export interface Job {
  /** Never rejects. */
  readonly done: Promise<Outcome>
  readonly cancel: () => void
}

export interface Request {
  readonly problem: Problem
  readonly options: SentOptions
  /** Do not wait for a line to come free: somebody is looking on. */
  readonly urgent?: boolean
  readonly onProgress?: (progress: Progress) => void
}

export interface Pool {
  readonly solve: (request: Request) => Job
  /** Ends every line; what is running is cancelled. */
  readonly end: () => void
}

interface Running {
  readonly id: number
  readonly request: Request
  readonly settle: (outcome: Outcome) => void
  best?: readonly Placement[]
}

interface Seat {
  readonly line: Line
  running: Running | undefined
}

/** `size` lines at most for what can wait; an urgent solve opens one more where all are taken. */
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
    if (seats.size > size) leave(seat)
    next()
  }

  const seatDown = (running: Running): void => {
    let seat = [...seats].find((s) => !s.running)
    if (!seat) {
      const made: Seat = { line: open(hear, broken), running: undefined }
      function hear(say: Say): void {
        const run = made.running
        if (!run || say.id !== run.id) return
        if (say.kind === 'progress') {
          if (say.progress.placements) run.best = say.progress.placements
          run.request.onProgress?.(say.progress)
        } else finish(made, say.kind === 'done' ? { kind: 'done', result: say.result } : say)
      }
      function broken(error: string): void {
        leave(made)
        const { running: lost } = made
        made.running = undefined
        lost?.settle({ kind: 'failed', error })
        next()
      }
      seat = made
      seats.add(seat)
    }
    seat.running = running
    seat.line.ask({ kind: 'solve', id: running.id, problem: running.request.problem, options: running.request.options })
  }

  const next = (): void => {
    while (waiting.length > 0 && [...seats].filter((s) => s.running).length < size) seatDown(waiting.shift()!)
  }

  const cancel = (running: Running): void => {
    const queued = waiting.indexOf(running)
    if (queued >= 0) {
      waiting.splice(queued, 1)
      running.settle({ kind: 'cancelled' })
      return
    }
    const seat = [...seats].find((s) => s.running === running)
    if (!seat) return
    leave(seat)
    seat.running = undefined
    running.settle(running.best ? { kind: 'cancelled', best: running.best } : { kind: 'cancelled' })
    next()
  }

  return {
    solve: (request) => {
      let settle: (outcome: Outcome) => void = () => {}
      const done = new Promise<Outcome>((resolve) => {
        settle = resolve
      })
      const running: Running = { id: ++count, request, settle }
      if (request.urgent) seatDown(running)
      else {
        waiting.push(running)
        next()
      }
      return { done, cancel: () => cancel(running) }
    },
    end: () => {
      for (const running of waiting.splice(0)) running.settle({ kind: 'cancelled' })
      for (const seat of [...seats]) if (seat.running) cancel(seat.running)
      for (const seat of [...seats]) leave(seat)
    },
  }
}
