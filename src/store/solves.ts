/** The solves in flight: what each sheet of the present still has to hear from the solver, and nothing else. */
import type { StoreApi } from 'zustand/vanilla'
import {
  betterFigures,
  type Hold,
  type Placement,
  type Problem,
  type Progress,
  type SolveOptions,
  type SolveResult,
} from '../../solver/index.ts'
import { bestSoFar, boundsIn, type Heard, hearProgress } from '../worker/best.ts'
import type { Drag } from '../worker/drag.ts'
import type { Pool } from '../worker/pool.ts'
import { judged } from '../worker/ruled.ts'
import { type Rules, tooShort } from '../worker/rules.ts'
import { rulesOf } from '../worker/rules-of.ts'
import { type Answer, patch, question, type Sheet, withSheet } from './document.ts'
import { figuresOf, findingsOf, keepsRules } from './judged.ts'
import { placementOf, samePlace } from './moves.ts'
import type { State } from './state.ts'
import { closest, toldBy } from './told.ts'

/** What is known of a problem without holds. */
export interface Known {
  /** The best layout so far. */
  readonly placements?: readonly Placement[]
  readonly progress?: Progress
  /** The bounds that were told while it runs. */
  readonly bounds?: Heard['bounds']
  /** The end of the solve; missing while it runs. */
  readonly answer?: Answer
  /** Where its searches begin until they have a layout: what another version of the program had found. */
  readonly hint?: readonly Placement[]
}

type Ending =
  | { readonly kind: 'done'; readonly result: SolveResult; readonly short?: readonly string[] }
  | { readonly kind: 'cancelled'; readonly result?: SolveResult; readonly best?: readonly Placement[] }
  | { readonly kind: 'failed'; readonly error: string }

interface Job {
  readonly done: Promise<Ending>
  readonly cancel: () => void
}

/** The part of a solver's pool that the store uses; `src/worker` has one, tests have others. */
export interface PoolLike {
  readonly solve: (request: {
    readonly problem: Problem
    readonly options: Omit<SolveOptions, 'signal' | 'onProgress' | 'lazy'>
    readonly rules?: Rules
    readonly urgent?: boolean
    readonly onProgress?: (progress: Progress) => void
  }) => Job
  /** What-ifs and previews of a drag; without them there are none. */
  readonly ask?: Pool['ask']
  readonly drag?: (problem: Problem) => Drag
}

/** Milliseconds for a variant as the file puts it, for a layout that a hand has changed, and for looking on where that was not enough. */
const TIME = { whole: 10_000, hand: 5_000, on: 30_000 }

export const layoutOf = (result: SolveResult): readonly Placement[] | undefined =>
  result.status === 'optimal' || result.status === 'feasible' ? result.placements : undefined

/** Whether looking on can find more than this answer says. */
export const mayBeBetter = (answer: Answer): boolean =>
  answer.kind !== 'result' || answer.result.status === 'feasible' || answer.result.status === 'unknown'

/** Whether the first layout is the worse one, by what matters, in order. */
export const worse = (problem: Problem, one: readonly Placement[], other: readonly Placement[]): boolean =>
  betterFigures(problem.objective, figuresOf(problem, other), figuresOf(problem, one))

/** Whether a layout keeps every rule that a solve would keep: then no other one changes it less, and nothing need be looked for. */
const sound = (problem: Problem, placements: readonly Placement[], rules: Rules): boolean =>
  keepsRules(problem, placements) && tooShort(problem, placements, rules).length === 0

const answerOf = (ending: Ending, bounds: Heard['bounds']): Answer =>
  ending.kind === 'done'
    ? { kind: 'result', result: ending.result, ...(ending.short ? { short: ending.short } : {}) }
    : ending.kind === 'failed'
      ? { kind: 'failed', error: ending.error, bounds }
      : { kind: 'stopped', bounds }

/** The layout that a search ends with, and what it had proven by then. */
function endOf(ending: Ending, heard: Heard): { readonly found?: readonly Placement[]; readonly told: Heard } {
  const result = ending.kind === 'failed' ? undefined : ending.result
  const found = ending.kind === 'done' ? layoutOf(ending.result) : ending.kind === 'cancelled' ? ending.best : undefined
  if (!found) return { told: heard }
  const bounds = result && 'objectives' in result ? boundsIn(result.objectives) : heard.bounds
  return { found, told: { best: found, bounds } }
}

/** Where the held items of a layout stand. */
export const holdsIn = (sheet: Sheet, placements: readonly Placement[]): Hold[] =>
  placements
    .filter((p) => sheet.holds.includes(sheet.problem.items[p.item]?.id ?? ''))
    .map(({ item, deck, at, turn }) => ({ item, deck, at, turn }))

/** What the solves of a sheet learn beside R1–R10. */
export const rulesFor = (state: State, sheet: Sheet): Rules => rulesOf(state.history.doc.project, sheet.variant)

export interface Solves {
  /** Starts what the present still lacks and cancels what it no longer asks for. */
  readonly refresh: () => void
  /** The sheet with fewer holds: its layout stays where it is legal, and is asked for anew where it was not. */
  readonly freed: (sheet: Sheet, holds: readonly string[]) => Sheet
  /** A layout that something else came by: where it outdoes the best that is known, it is the best. */
  readonly outdone: (problem: Problem, placements: readonly Placement[]) => void
  /** The search for the best goes on from a sheet's own layout, where it has come by less or by none: the best is never less than what is there. */
  readonly fromOwn: (sheet: Sheet) => void
  /** Stops what runs for the sheet on the stage; the best so far stays. */
  readonly stop: () => void
  /** Looks on, from the best so far, for the sheet on the stage, where the last word on its problem was not the last that can be said. */
  readonly lookOn: () => void
  readonly cancelAll: () => void
}

export function createSolves(store: StoreApi<State>, pool: PoolLike): Solves {
  const { getState: get, setState: set } = store
  const whole = new Map<Problem, Job>()
  const hand = new Map<Sheet, Job>()

  const know = (problem: Problem, known: Known): void => {
    if (whole.has(problem)) set({ known: new Map(get().known).set(problem, known) })
  }

  /** `last`: what was known of it before, when it is looked at again; `on`: after a search had come to its end. */
  const startWhole = (sheet: Sheet, last?: Known, on?: 'on'): void => {
    const { problem } = sheet
    const rules = rulesFor(get(), sheet)
    const hint = last?.placements ?? last?.hint
    const heard: Heard = { bounds: new Map() }
    const before: Heard = {
      ...(last?.placements ? { best: last.placements } : {}),
      bounds: toldBy(last?.answer, last?.bounds),
    }
    const floor = last?.placements
    let short: boolean | undefined = last?.answer?.kind === 'result' ? last.answer.short !== undefined : undefined
    // A search that begins again may come by layouts that are worse than the one it was given, or others that are no better. Where
    // leads are too short in that one, such a layout may be what was asked for.
    const outdoes = (found: readonly Placement[]): boolean => {
      if (!floor || worse(problem, floor, found)) return true
      if (found.every((p) => samePlace(p, placementOf(floor, p.item)))) return false
      short ??= tooShort(problem, floor, rules).length > 0
      return short
    }
    const job = pool.solve({
      problem,
      options: { time: on ? TIME.on : TIME.whole, ...(hint ? { hint } : {}) },
      rules,
      ...(on ? { urgent: true } : {}),
      onProgress: (progress) => {
        const sofar = get().known.get(problem)
        if (sofar?.answer) return
        hearProgress(heard, progress)
        const found = progress.placements
        const placements = found && outdoes(found) ? found : sofar?.placements
        if (placements) know(problem, { placements, progress, bounds: closest(problem, placements, [before, heard]) })
        else know(problem, { ...sofar, progress, bounds: new Map(heard.bounds) })
      },
    })
    whole.set(problem, job)
    void job.done.then((ending) => {
      if (whole.get(problem) !== job) return
      const { found, told } = endOf(ending, heard)
      const better = found && outdoes(found)
      // What was found on the way stays.
      const placements = better ? found : (get().known.get(problem)?.placements ?? last?.placements)
      const bounds = placements ? closest(problem, placements, [before, told]) : told.bounds
      const answer = (): Answer => {
        const done = ending.kind === 'done'
        if (!placements || !last || (done && ending.result.status === 'infeasible')) return answerOf(ending, bounds)
        const result = bestSoFar(problem, { best: placements, bounds }, figuresOf(problem, placements))
        if (better) return done && !ending.short ? { kind: 'result', result } : answerOf(ending, bounds)
        const was = placements === last.placements ? last.answer : undefined
        const asGood = done && found && !worse(problem, found, placements)
        // What was said before is worth more than that nothing was found this time.
        if (was && !asGood)
          return was.kind !== 'result' ? { ...was, bounds } : was.short ? was : { kind: 'result', result }
        if (!done) return answerOf(ending, bounds)
        if (was?.kind === 'result' && !was.short) return { kind: 'result', result }
        const { short, ...rest } = judged(problem, rules, result)
        return { kind: 'result', ...rest, ...(short.length > 0 ? { short } : {}) }
      }
      know(problem, { ...(placements ? { placements } : hint ? { hint } : {}), answer: answer() })
      whole.delete(problem)
    })
  }

  const withoutTrial = (sheet: Sheet): State['trials'] => {
    const trials = new Map(get().trials)
    trials.delete(sheet)
    return trials
  }
  const withoutBounds = (sheet: Sheet): State['trialBounds'] => {
    const bounds = new Map(get().trialBounds)
    bounds.delete(sheet)
    return bounds
  }

  /** The last word on a sheet. */
  const answered = (sheet: Sheet, placements: readonly Placement[], answer: Answer): void => {
    const { history } = get()
    const index = history.doc.sheets.indexOf(sheet)
    set({
      trials: withoutTrial(sheet),
      trialBounds: withoutBounds(sheet),
      ...(index >= 0
        ? { history: patch(history, withSheet(history.doc, index, { ...sheet, placements, answer })) }
        : {}),
    })
  }

  const startHand = (sheet: Sheet, placements: readonly Placement[]): void => {
    // Nothing changes a layout less than leaving it: what a search comes by on its way there is not for show.
    const legal = !sheet.anew && findingsOf(sheet.problem, placements).length === 0
    const pins = holdsIn(sheet, placements)
    const heard: Heard = { bounds: new Map() }
    const job = pool.solve({
      problem: sheet.problem,
      options: sheet.anew
        ? { pins, hint: placements, time: TIME.whole }
        : { pins, hint: placements, keep: true, time: TIME.hand },
      rules: rulesFor(get(), sheet),
      urgent: true,
      onProgress: (progress) => {
        if (!hand.has(sheet)) return
        hearProgress(heard, progress)
        set({
          trialBounds: new Map(get().trialBounds).set(sheet, new Map(heard.bounds)),
          ...(progress.placements && !legal ? { trials: new Map(get().trials).set(sheet, progress.placements) } : {}),
        })
      },
    })
    hand.set(sheet, job)
    void job.done.then((ending) => {
      if (hand.get(sheet) !== job) return
      hand.delete(sheet)
      const { found, told } = endOf(ending, heard)
      const answer = answerOf(ending, told.bounds)
      // However far the search came in its time: a layout that keeps all rules stays as the user has it.
      if (found && legal && sound(sheet.problem, placements, rulesFor(get(), sheet))) {
        const own =
          found.every((p) => samePlace(p, placementOf(placements, p.item))) && found.length === placements.length
        const result = bestSoFar(sheet.problem, { best: placements, bounds: heard.bounds })
        answered(sheet, placements, own ? answer : { kind: 'result', result })
      } else answered(sheet, found ?? placements, answer)
    })
  }

  const refresh = (): void => {
    const { sheets } = get().history.doc
    for (const [sheet, job] of [...hand])
      if (!sheets.includes(sheet)) {
        hand.delete(sheet)
        job.cancel()
        set({ trials: withoutTrial(sheet), trialBounds: withoutBounds(sheet) })
      }
    for (const [problem, job] of [...whole])
      if (!sheets.some((s) => s.problem === problem)) {
        whole.delete(problem)
        job.cancel()
      }
    for (const sheet of sheets) {
      const known = get().known.get(sheet.problem)
      if (!known?.answer && !whole.has(sheet.problem)) startWhole(sheet, known)
      if (sheet.placements && !sheet.answer && !hand.has(sheet)) startHand(sheet, sheet.placements)
    }
  }

  return {
    refresh,
    freed: (sheet, holds) => {
      const legal = sheet.answer?.kind === 'result' && layoutOf(sheet.answer.result) !== undefined
      if (legal && sheet.anew) {
        // What was proven was proven of the holds that there were.
        const { anew: _, before: __, ...rest } = sheet
        return { ...rest, holds }
      }
      if (legal || !sheet.placements) return { ...sheet, holds }
      const { placements } = sheet
      return { ...question(sheet), holds, placements, before: placements }
    },
    outdone: (problem, placements) => {
      const last = get().known.get(problem)
      const old = last?.placements
      if (!last?.answer || !old || !worse(problem, old, placements)) return
      const bounds = closest(problem, placements, [{ best: old, bounds: toldBy(last.answer, last.bounds) }])
      const best = bestSoFar(problem, { best: placements, bounds }, figuresOf(problem, placements))
      const answer: Answer =
        last.answer.kind === 'result' ? { kind: 'result', result: best } : { ...last.answer, bounds }
      set({ known: new Map(get().known).set(problem, { placements, answer }) })
    },
    fromOwn: (sheet) => {
      const { problem, placements } = sheet
      if (!placements || !keepsRules(problem, placements)) return
      const last = get().known.get(problem)
      const old = last?.placements
      if (old && !(worse(problem, old, placements) && sound(problem, placements, rulesFor(get(), sheet)))) return
      const told: Heard = { ...(old ? { best: old } : {}), bounds: toldBy(last?.answer, last?.bounds) }
      whole.get(problem)?.cancel()
      whole.delete(problem)
      set({ known: new Map(get().known).set(problem, { placements, bounds: closest(problem, placements, [told]) }) })
    },
    stop: () => {
      const sheet = get().history.doc.sheets[get().active]
      if (!sheet) return
      hand.get(sheet)?.cancel()
      whole.get(sheet.problem)?.cancel()
    },
    lookOn: () => {
      const sheet = get().history.doc.sheets[get().active]
      const last = sheet && get().known.get(sheet.problem)
      if (!sheet || !last?.answer || !mayBeBetter(last.answer) || whole.has(sheet.problem)) return
      const { answer, ...rest } = last
      const sofar = { ...rest, bounds: toldBy(answer, rest.bounds) }
      set({ known: new Map(get().known).set(sheet.problem, sofar) })
      startWhole(sheet, last, 'on')
    },
    cancelAll: () => {
      const jobs = [...whole.values(), ...hand.values()]
      whole.clear()
      hand.clear()
      for (const job of jobs) job.cancel()
    },
  }
}
