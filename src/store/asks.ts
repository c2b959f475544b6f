/**
 * What can be asked of the sheet on the stage beside its layout: what would make it fit, other layouts as good, and what each hold
 * costs. Answers belong to the sheet as it was when they were asked for; when it changes they are dropped, and what runs is stopped.
 */
import type { StoreApi } from 'zustand/vanilla'
import {
  betterFigures,
  type Change,
  type ConflictMember,
  type DifferentResult,
  type Hold,
  type Placement,
  type Problem,
  type Solved,
  type SolveResult,
  sameFigures,
  smallerText,
} from '../../solver/index.ts'
import { changeProject, type EditProblem, type Project } from '../model/index.ts'
import { words } from '../words/index.ts'
import { bestSoFar, boundsShared, type Heard } from '../worker/best.ts'
import { costOf, type HoldCost } from './ask-cost.ts'
import { question, type Sheet } from './document.ts'
import { figuresOf } from './judged.ts'
import { samePlace } from './moves.ts'
import { plainIn } from './sentences.ts'
import { holdsIn, type PoolLike, rulesFor } from './solves.ts'
import { type State, shown } from './state.ts'
import { besideBest, toldBy } from './told.ts'

export type Pending<T> =
  | { readonly kind: 'asking' }
  | { readonly kind: 'answered'; readonly value: T }
  | { readonly kind: 'failed'; readonly error: string }

/** A change that was tried and makes everything fit: what a button does. */
export interface Remedy {
  /** The solver's sentence, with millimetres. */
  readonly text: string
  /** That one step less was proven not to do, where it was; else empty. */
  readonly smaller: string
  /** The project with the change made. The same one where only holds are let go. */
  readonly apply: (project: Project) => Project
  /** Held items that are let go. */
  readonly frees: readonly string[]
}

export interface Remedies {
  /** At most three, the smallest first. */
  readonly list: readonly Remedy[]
  /** Every candidate was tried to its end. */
  readonly complete: boolean
}

export interface Equals {
  /** The layout on show, and then others with the same figures, or better ones. */
  readonly layouts: readonly (readonly Placement[])[]
  /** For each, how many items stand elsewhere than in the first. */
  readonly elsewhere: readonly number[]
  /** Index of the one on show. */
  readonly on: number
  /** Proven that there is no other. */
  readonly exhausted: boolean
  /** The search came by something better: it is shown in place of the best so far, or stands behind a layout of one's own. */
  readonly better?: 'shown' | 'others'
  /** The sheet of the first, as it was when it was asked. */
  readonly home: Sheet
  /** Leafing has made its step of history, and is not back where it began. */
  readonly stepped: boolean
}

/** It ended for time with no other found, or not at all: asked again, it may find one. */
export const maySeekOn = (equal: Pending<Equals>): boolean =>
  equal.kind === 'failed' || (equal.kind === 'answered' && equal.value.layouts.length === 1 && !equal.value.exhausted)

export interface Asked {
  readonly remedies?: Pending<Remedies>
  readonly equal?: Pending<Equals>
  /** By the held item's id. */
  readonly costs?: ReadonlyMap<string, Pending<HoldCost>>
}

export interface AskActions {
  /** What would make it fit, where it is known that nothing does. */
  readonly askRemedies: () => void
  /** Does what the k-th remedy says, as one step; problems: nothing was changed. */
  readonly remedy: (k: number) => readonly EditProblem[]
  /** Other layouts with the figures of the one on show; asked again where time ended it, it looks longer. */
  readonly askEqual: () => void
  /** Shows the k-th of them. Leafing on is no further step of history, and back at the first there is none. */
  readonly showEqual: (k: number) => void
  /** What each hold costs (or this one); two solves for the first, one more for each other. */
  readonly askCosts: (id?: string) => void
}

interface Deeds {
  readonly commitSheet: (sheet: Sheet) => void
  /** The sheet in place of the one on the stage, without a step of its own. */
  readonly patchSheet: (sheet: Sheet) => void
  /** The sheet as it was before the last step, which goes with what it did; false where that step did something else. */
  readonly backTo: (sheet: Sheet) => boolean
  readonly change: (project: Project) => readonly EditProblem[]
  readonly free: (id: string) => void
  readonly drop: () => void
  readonly outdone: (problem: Problem, placements: readonly Placement[]) => void
}

/** Milliseconds; `on`: for other layouts, where the first look ended for time. */
const TIME = { remedies: 10_000, equal: 3_000, on: 30_000, cost: 3_000 }
const EQUALS = 6

export function createAsks(store: StoreApi<State>, pool: PoolLike, deeds: Deeds) {
  const { getState: get, setState: set } = store
  const jobs = new Map<Sheet, Set<() => void>>()

  const sheetNow = (): Sheet | undefined => get().history.doc.sheets[get().active]
  const of = (sheet: Sheet): Asked => get().asked.get(sheet) ?? {}
  const put = (sheet: Sheet, more: Partial<Asked>): void =>
    set({ asked: new Map(get().asked).set(sheet, { ...of(sheet), ...more }) })
  const putCost = (sheet: Sheet, id: string, cost: Pending<HoldCost>): void =>
    put(sheet, { costs: new Map(of(sheet).costs).set(id, cost) })
  const isHere = (sheet: Sheet): boolean => get().history.doc.sheets.includes(sheet)

  /** Runs for a sheet; stopped when the sheet goes. */
  const run = <T>(sheet: Sheet, job: { readonly done: Promise<T>; readonly cancel: () => void }): Promise<T> => {
    const mine = jobs.get(sheet) ?? new Set()
    jobs.set(sheet, mine.add(job.cancel))
    return job.done.finally(() => mine.delete(job.cancel))
  }

  const halt = (sheet: Sheet): void => {
    const cancels = jobs.get(sheet) ?? []
    jobs.delete(sheet)
    for (const cancel of cancels) cancel()
  }

  const prune = (): void => {
    const { asked, history } = get()
    for (const sheet of [...jobs.keys()]) if (!history.doc.sheets.includes(sheet)) halt(sheet)
    const kept = [...asked].filter(([sheet]) => history.doc.sheets.includes(sheet))
    if (kept.length < asked.size) set({ asked: new Map(kept) })
  }
  const unsubscribe = store.subscribe((state, before) => {
    if (state.history !== before.history) prune()
  })

  const pinsOf = (sheet: Sheet): Hold[] => (sheet.placements ? holdsIn(sheet, sheet.placements) : [])

  /** The conflict of what is on show. */
  const conflictOf = (sheet: Sheet): readonly ConflictMember[] | undefined => {
    const answer = sheet.placements ? sheet.answer : get().known.get(sheet.problem)?.answer
    const result = answer?.kind === 'result' ? answer.result : undefined
    return result?.status === 'infeasible' ? result.conflict : undefined
  }

  const askRemedies = (): void => {
    const sheet = sheetNow()
    const conflict = sheet && conflictOf(sheet)
    if (!sheet || !conflict || !pool.ask || of(sheet).remedies) return
    put(sheet, { remedies: { kind: 'asking' } })
    const options = { time: TIME.remedies, pins: pinsOf(sheet) }
    const { problem } = sheet
    const done = run(sheet, pool.ask({ kind: 'loosen', problem, conflict, options }))
    void done.then((reply) => {
      if (!isHere(sheet) || reply.kind === 'cancelled') return
      if (reply.kind === 'failed') return put(sheet, { remedies: reply })
      const built = new Set(sheet.built)
      const list = reply.answer.loosenings
        .map(({ text, least, changes }): Remedy => {
          const frees = changes.flatMap((c) => (c.kind === 'let-go' ? [c.item] : []))
          return {
            text: words.sentences.loosening(plainIn([problem])(text)),
            smaller: least ? smallerText(changes) : '',
            frees,
            apply: (project) => applied(project, sheet.variant, changes),
          }
        })
        // what is built is not let go
        .filter((r) => !r.frees.some((id) => built.has(id)))
      put(sheet, { remedies: { kind: 'answered', value: { list, complete: reply.answer.complete } } })
    })
  }

  const remedy = (k: number): readonly EditProblem[] => {
    const sheet = sheetNow()
    const remedies = sheet && of(sheet).remedies
    const one = remedies?.kind === 'answered' ? remedies.value.list[k] : undefined
    if (!sheet || !one) return []
    deeds.drop()
    const { project } = get().history.doc
    const next = one.apply(project)
    if (next === project) {
      for (const id of one.frees) deeds.free(id)
      return []
    }
    const problems = deeds.change(next)
    if (problems.length > 0 || one.frees.length === 0) return problems
    const now = sheetNow()
    if (now) {
      const { answer: _, ...rest } = now
      deeds.patchSheet({ ...rest, holds: now.holds.filter((id) => !one.frees.includes(id)) })
    }
    return []
  }

  /** What the figures of the layout on show are measured by. */
  const boundsOf = (sheet: Sheet): Heard['bounds'] | undefined => {
    const known = get().known.get(sheet.problem)
    const answer = sheet.placements ? sheet.answer : known?.answer
    return answer && toldBy(answer, undefined)
  }

  /** Its answer, where all that is shown of it is proven. */
  const provenOf = (sheet: Sheet): Solved | undefined => {
    const answer = sheet.placements ? sheet.answer : get().known.get(sheet.problem)?.answer
    return answer?.kind === 'result' && answer.result.status === 'optimal' ? answer.result : undefined
  }

  const askEqual = (): void => {
    const sheet = sheetNow()
    const before = sheet && of(sheet).equal
    if (!sheet || !pool.ask || (before && !maySeekOn(before))) return
    const first = shown(get(), sheet)
    if (first.length === 0 || !boundsOf(sheet)) return
    put(sheet, { equal: { kind: 'asking' } })
    const options = { time: before ? TIME.on : TIME.equal, pins: pinsOf(sheet), hint: first }
    const { problem } = sheet
    const rules = rulesFor(get(), sheet)
    const done = run(sheet, pool.ask({ kind: 'equal', problem, count: EQUALS, options, rules }))
    void done.then((reply) => {
      if (!isHere(sheet) || reply.kind === 'cancelled') return
      if (reply.kind === 'failed') return put(sheet, { equal: reply })
      put(sheet, { equal: { kind: 'answered', value: equalsOf(sheet, first, reply.answer) } })
    })
  }

  const equalsOf = (sheet: Sheet, first: readonly Placement[], answer: DifferentResult): Equals => {
    const { problem } = sheet
    const found = answer.status === 'found' ? answer : undefined
    const [lead] = found?.layouts ?? []
    const now = figuresOf(problem, first)
    const same = lead !== undefined && sameFigures(problem.objective, lead.figures, now)
    const outdone = lead !== undefined && !same && betterFigures(problem.objective, lead.figures, now)
    if (outdone) deeds.outdone(problem, lead.placements)
    const all = same || outdone ? found!.layouts.map((l) => l.placements) : []
    const shownNow = outdone && !sheet.placements
    const layouts = shownNow ? all : [first, ...all.filter((l) => differing(first, l) > 0)]
    return {
      layouts,
      elsewhere: layouts.map((l) => differing(layouts[0]!, l)),
      on: 0,
      exhausted: found?.exhausted === true,
      ...(outdone ? { better: shownNow ? ('shown' as const) : ('others' as const) } : {}),
      home: sheet,
      stepped: false,
    }
  }

  const showEqual = (k: number): void => {
    const sheet = sheetNow()
    const equal = sheet && of(sheet).equal
    const value = equal?.kind === 'answered' ? equal.value : undefined
    const placements = value?.layouts[k]
    if (!sheet || !value || !placements || k === value.on) return
    deeds.drop()
    const { home } = value
    const bounds = boundsOf(home)
    if (!bounds) return
    const { problem } = sheet
    const [was, is] = [figuresOf(problem, value.layouts[0]!), figuresOf(problem, placements)]
    const best = { best: placements, bounds: boundsShared(problem, bounds, was, is) }
    const proven = provenOf(home)
    const result = proven ? { ...besideBest(proven, is), placements } : bestSoFar(problem, best, is)
    // the first is what it was: the best so far, and not a layout of one's own that looks like it
    const leaf: Sheet =
      k === 0
        ? home
        : {
            ...question(home),
            holds: home.holds,
            ...(home.anew ? { anew: true } : {}),
            placements,
            answer: { kind: 'result', result },
          }
    const back = k === 0 && value.stepped && deeds.backTo(home)
    if (!back && value.stepped) deeds.patchSheet(leaf)
    else if (!back) deeds.commitSheet(leaf)
    if (isHere(leaf)) put(leaf, { equal: { kind: 'answered', value: { ...value, on: k, stepped: !back } } })
  }

  const askCosts = (id?: string): void => {
    const sheet = sheetNow()
    if (!sheet?.placements || !sheet.answer) return
    const { problem, placements } = sheet
    const free = sheet.holds.filter((h) => !sheet.built?.includes(h))
    const wanted = free.filter((h) => (id === undefined || h === id) && !of(sheet).costs?.has(h))
    if (wanted.length === 0) return
    for (const h of wanted) putCost(sheet, h, { kind: 'asking' })
    const rules = rulesFor(get(), sheet)
    const best = async (pins: readonly Hold[]): Promise<SolveResult | { readonly error: string } | undefined> => {
      const options = { pins, hint: placements, time: TIME.cost }
      const ending = await run(sheet, pool.solve({ problem, options, rules }))
      if (ending.kind === 'failed') return { error: ending.error }
      return ending.kind === 'done' ? ending.result : undefined
    }
    const pins = holdsIn(sheet, placements)
    const held = best(pins)
    // one after the other: nobody waits for these
    void wanted.reduce(async (before, h) => {
      await before
      const whole = pins.length === 1 ? get().known.get(problem)?.answer : undefined
      const others = pins.filter((p) => problem.items[p.item]?.id !== h)
      const without = isHere(sheet) ? (whole?.kind === 'result' ? whole.result : await best(others)) : undefined
      const [a, b] = [without, await held]
      if (!a || !b || !isHere(sheet)) return
      if ('error' in a) putCost(sheet, h, { kind: 'failed', error: a.error })
      else if ('error' in b) putCost(sheet, h, { kind: 'failed', error: b.error })
      else putCost(sheet, h, { kind: 'answered', value: costOf(a, b) })
    }, Promise.resolve())
  }

  return {
    actions: { askRemedies, remedy, askEqual, showEqual, askCosts } satisfies AskActions,
    /** Drops what was asked of a sheet, and stops what runs for it. */
    forget: (sheet: Sheet): void => {
      halt(sheet)
      const asked = new Map(get().asked)
      if (asked.delete(sheet)) set({ asked })
    },
    end: () => {
      unsubscribe()
      for (const cancels of jobs.values()) for (const cancel of cancels) cancel()
    },
  }
}

const applied = (project: Project, variant: string, changes: readonly Change[]): Project =>
  changes.every((c) => c.kind === 'let-go') ? project : changeProject(project, variant, changes).project

/** Items that stand elsewhere, or in one of the two only. */
function differing(a: readonly Placement[], b: readonly Placement[]): number {
  const there = new Map(b.map((p) => [p.item, p]))
  const moved = a.filter((p) => !samePlace(p, there.get(p.item))).length
  return moved + b.filter((p) => !a.some((q) => q.item === p.item)).length
}
