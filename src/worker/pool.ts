/** Solves side by side on a few lines. A cancelled solve is asked to end; a line that does not in time is ended itself. */
import type { Problem, Progress } from '../../solver/index.ts'
import { bestSoFar, type Heard, hearProgress } from './best.ts'
import { createDrags, type Drag } from './drag.ts'
import type { Answers, Ask, Line, OpenLine, Outcome, Question, Reply, Say, SentOptions } from './protocol.ts'
import { judged } from './ruled.ts'
import type { Rules } from './rules.ts'

export interface Job<T = Outcome> {
  /** Never rejects. */
  readonly done: Promise<T>
  /** The outcome comes within 50 ms, with the best so far. */
  readonly cancel: () => void
}

export interface Request {
  readonly problem: Problem
  readonly options: SentOptions
  /** Rules of whole layouts beside the limits that stand in the problem. */
  readonly rules?: Rules
  /** Do not wait for a line to come free: somebody is looking on. */
  readonly urgent?: boolean
  /** Its turn has come. */
  readonly onStart?: () => void
  readonly onProgress?: (progress: Progress) => void
}

export interface Pool {
  readonly solve: (request: Request) => Job
  /** Asks at once, as an urgent solve: what would make it fit, or further layouts as good. */
  readonly ask: <Q extends Question>(question: Q) => Job<Reply<Answers[Q['kind']]>>
  /** Follows a drag on a line of its own. */
  readonly drag: (problem: Problem) => Drag
  /** Opens lines ahead of need, so that what they take to load is over by then. */
  readonly warm: (lines: number) => void
  /** Ends every line; what is running is cancelled. */
  readonly end: () => void
}

/** Milliseconds in which a solver that is asked to stop may end by itself: of the 50 that a cancel may take. */
const GRACE = 25

/** Something on a line, or waiting for one. */
interface Running {
  readonly id: number
  readonly message: () => Ask
  readonly begin?: (() => void) | undefined
  /** Hears what the line says; true when that was the end. */
  readonly hear: (say: Say, stopping: boolean) => boolean
  /** Ends without an answer of the line. */
  readonly cut: () => void
  /** Never began. */
  readonly drop: () => void
  readonly fail: (error: string) => void
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
  const drags = createDrags(open)

  const leave = (seat: Seat): void => {
    seats.delete(seat)
    seat.line.end()
  }

  const finish = (seat: Seat): void => {
    seat.running = undefined
    if (seats.size > size + 1) leave(seat)
    next()
  }

  const openSeat = (): Seat => {
    const seat: Seat = { line: open(hear, broken), running: undefined }
    function hear(say: Say): void {
      const run = seat.running
      if (run && say.id === run.id && run.hear(say, run.stopping)) finish(seat)
    }
    function broken(error: string): void {
      leave(seat)
      const { running: lost } = seat
      seat.running = undefined
      lost?.fail(error)
      next()
    }
    seats.add(seat)
    return seat
  }

  const seatDown = (running: Running): void => {
    const seat = [...seats].find((s) => !s.running) ?? openSeat()
    seat.running = running
    running.begin?.()
    seat.line.ask(running.message())
  }

  const next = (): void => {
    while (waiting.length > 0 && [...seats].filter((s) => s.running).length < size) seatDown(waiting.shift()!)
  }

  /** Ends the line, and makes do with what was heard. */
  const cutOff = (seat: Seat, running: Running): void => {
    if (seat.running !== running) return
    leave(seat)
    seat.running = undefined
    running.cut()
    next()
  }

  const cancel = (running: Running): void => {
    const queued = waiting.indexOf(running)
    if (queued >= 0) {
      waiting.splice(queued, 1)
      running.drop()
      return
    }
    const seat = [...seats].find((s) => s.running === running)
    if (!seat || running.stopping) return
    running.stopping = true
    seat.line.stop(running.id)
    setTimeout(() => cutOff(seat, running), GRACE)
  }

  const begin = (running: Running, urgent: boolean | undefined): void => {
    if (urgent) seatDown(running)
    else {
      waiting.push(running)
      next()
    }
  }

  return {
    solve: (request) => {
      const { done, settle } = promised<Outcome>()
      const running = solveOf(++count, request, settle)
      begin(running, request.urgent)
      return { done, cancel: () => cancel(running) }
    },
    ask: <Q extends Question>(question: Q) => {
      const { done, settle } = promised<Reply<Answers[Q['kind']]>>()
      const id = ++count
      const running: Running = {
        id,
        message: () => ({ ...question, id, at: Date.now() }),
        hear: (say, stopping) => {
          if (say.kind === 'failed') settle({ kind: 'failed', error: say.error })
          else if (say.kind === 'answered')
            settle({ kind: stopping ? 'cancelled' : 'done', answer: say.answer as Answers[Q['kind']] })
          else return false
          return true
        },
        cut: () => settle({ kind: 'cancelled' }),
        drop: () => settle({ kind: 'cancelled' }),
        fail: (error) => settle({ kind: 'failed', error }),
        stopping: false,
      }
      begin(running, true)
      return { done, cancel: () => cancel(running) }
    },
    drag: drags.drag,
    warm: (lines) => {
      while (seats.size < Math.min(lines, size)) openSeat()
    },
    end: () => {
      for (const running of waiting.splice(0)) running.drop()
      for (const seat of [...seats]) if (seat.running) cutOff(seat, seat.running)
      for (const seat of [...seats]) leave(seat)
      drags.end()
    },
  }
}

function promised<T>(): { readonly done: Promise<T>; readonly settle: (value: T) => void } {
  let settle: (value: T) => void = () => {}
  const done = new Promise<T>((resolve) => {
    settle = resolve
  })
  return { done, settle }
}

/** A solve, which is heard of before it ends. */
function solveOf(id: number, request: Request, settle: (outcome: Outcome) => void): Running {
  const { problem, options, rules, onStart, onProgress } = request
  const heard: Heard = { bounds: new Map() }
  return {
    id,
    message: () => ({ kind: 'solve', id, problem, options, at: Date.now(), ...(rules ? { rules } : {}) }),
    begin: onStart,
    hear: (say, stopping) => {
      if (say.kind === 'progress') {
        hearProgress(heard, say.progress)
        if (!stopping) onProgress?.(say.progress)
        return false
      }
      if (say.kind === 'failed') settle({ kind: 'failed', error: say.error })
      else if (say.kind === 'done') {
        const { result } = say
        const short = say.short ? { short: say.short } : {}
        if (!stopping) settle({ kind: 'done', result, ...short })
        else {
          const best = 'placements' in result ? { best: result.placements } : {}
          settle({ kind: 'cancelled', result, ...best, ...short })
        }
      } else return false
      return true
    },
    cut: () => {
      const { best } = heard
      const { result, short } = judged(problem, rules ?? {}, bestSoFar(problem, heard))
      settle({ kind: 'cancelled', result, ...(best ? { best } : {}), ...(short.length > 0 ? { short } : {}) })
    },
    drop: () => settle({ kind: 'cancelled', result: { status: 'unknown' } }),
    fail: (error) => settle({ kind: 'failed', error }),
    stopping: false,
  }
}
