/**
 * What was found for a document, kept beside its text and found again with it: a reload is to show the layouts that were there, with
 * what was proven of them, and not others that are as good. No storage is believed: the checker passes each layout again, and what
 * is broken, or was asked otherwise, is as if it had never been kept.
 */
import {
  type ConflictMember,
  figureOf,
  isMost,
  isProven,
  type ObjectiveName,
  type ObjectiveValue,
  objectivesOf,
  type Placement,
  type Problem,
} from '../../solver/index.ts'
import type { Heard } from '../worker/best.ts'
import { questionOf } from './carry-over.ts'
import type { Answer, Doc, Sheet } from './document.ts'
import { figuresOf, keepsRules } from './judged.ts'
import { mayBeBetter } from './solves.ts'
import type { State } from './state.ts'
import { sumOf } from './sum.ts'
import { toldBy } from './told.ts'

/** What stands on the shelf; what is read there may be anything. */
export interface Found {
  /** The program that found it. Another one need not find the same, nor prove as much. */
  readonly program: string
  readonly sheets: readonly FoundSheet[]
}

interface FoundSheet {
  readonly variant: string
  /** Sums of what was asked: of the whole, and with what is held. */
  readonly asked: string
  readonly held: string
  readonly known?: { readonly placements?: readonly Placement[]; readonly answer?: FoundAnswer; readonly bounds: Told }
  /** Where another program's search had come: kept until this one has come by a layout too. */
  readonly hint?: readonly Placement[]
  /** `anew` without an answer: the best with what is held was being looked for. */
  readonly own?: { readonly answer?: FoundAnswer; readonly anew: boolean }
}

type Told = readonly (readonly [ObjectiveName, number])[]

type FoundAnswer =
  | { readonly kind: 'layout'; readonly objectives: readonly ObjectiveValue[]; readonly short: readonly string[] }
  | { readonly kind: 'none'; readonly conflict: readonly ConflictMember[]; readonly irreducible: boolean }
  | { readonly kind: 'stopped'; readonly bounds: Told }
  | { readonly kind: 'not-found' }

const askedOf = (doc: Doc, sheet: Sheet): string => sumOf(questionOf(doc.project, sheet.variant))

/** The layout too, for what was proven beside it was proven of that one. */
const heldOf = ({ holds, placements = [] }: Sheet): string =>
  sumOf(
    JSON.stringify([[...holds].sort(), placements.map((p) => [p.item, p.deck, p.at.x, p.at.y, p.turn, p.host ?? -1])]),
  )

/** Undefined where there is nothing in it that a search would not say again. */
function answerTo(answer: Answer | undefined): FoundAnswer | undefined {
  if (!answer || answer.kind === 'failed') return undefined
  if (answer.kind === 'stopped') return { kind: 'stopped', bounds: [...(answer.bounds ?? [])] }
  const { result, short = [] } = answer
  if (result.status === 'infeasible')
    return { kind: 'none', conflict: result.conflict, irreducible: result.conflictIrreducible }
  return 'objectives' in result ? { kind: 'layout', objectives: result.objectives, short } : { kind: 'not-found' }
}

export const foundOf = (doc: Doc, known: State['known'], program: string): Found => ({
  program,
  sheets: doc.sheets.map((sheet): FoundSheet => {
    const { placements, answer: last, bounds, hint } = known.get(sheet.problem) ?? {}
    const answer = answerTo(last)
    const own = answerTo(sheet.answer)
    return {
      variant: sheet.variant,
      asked: askedOf(doc, sheet),
      held: heldOf(sheet),
      ...(placements || answer?.kind === 'none'
        ? {
            known: {
              ...(placements ? { placements } : {}),
              ...(answer ? { answer } : {}),
              bounds: [...toldBy(last, bounds)],
            },
          }
        : {}),
      ...(hint ? { hint } : {}),
      ...(own || sheet.anew ? { own: { ...(own ? { answer: own } : {}), anew: sheet.anew === true } } : {}),
    }
  }),
})

const record = (value: unknown): Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {}
const list = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : [])
const isText = (value: unknown): value is string => typeof value === 'string'
const isAmount = (value: unknown): value is number => typeof value === 'number' && Number.isFinite(value)

const boundsFrom = (problem: Problem, value: unknown): Heard['bounds'] =>
  new Map(
    list(value).flatMap((entry) => {
      const [name, bound] = list(entry)
      const goal = objectivesOf(problem).find((g) => g === name)
      return goal && isAmount(bound) ? [[goal, bound] as const] : []
    }),
  )

/** The checker is made for what a reader of files has looked at: what it cannot even measure keeps no rule. */
function keeps(problem: Problem, placements: readonly Placement[]): boolean {
  try {
    return keepsRules(problem, placements)
  } catch {
    return false
  }
}

function layoutFrom(problem: Problem, value: unknown): readonly Placement[] | undefined {
  if (!Array.isArray(value)) return undefined
  const among = (index: unknown, all: readonly unknown[]): boolean =>
    Number.isInteger(index) && all[Number(index)] !== undefined
  const sound = value.every((entry) => {
    const { item, deck, at, turn, host } = record(entry)
    const { x, y } = record(at)
    const there = among(item, problem.items) && among(deck, problem.decks) && among(turn, [0, 1, 2, 3])
    return there && Number.isInteger(x) && Number.isInteger(y) && (host === undefined || among(host, problem.items))
  })
  const placements = value as readonly Placement[]
  const once = sound && new Set(placements.map((p) => p.item)).size === placements.length
  return once && keeps(problem, placements) ? placements : undefined
}

/** The goals of a layout as they were told; undefined where they are not those of this layout, or its bounds cannot be right. */
function goalsFrom(problem: Problem, placements: readonly Placement[], value: unknown): ObjectiveValue[] | undefined {
  const measured = figuresOf(problem, placements)
  const goals = list(value).flatMap((entry, k): ObjectiveValue[] => {
    const { value, bound } = record(entry)
    const name = objectivesOf(problem)[k]
    if (!name || record(entry).name !== name || !isAmount(value) || !isAmount(bound)) return []
    const proven = isProven({ name, value, bound })
    const possible = proven || (isMost(name) ? bound > value : bound < value)
    return possible && Math.abs(value - figureOf(name, measured)) <= 1e-3 ? [{ name, value, bound, proven }] : []
  })
  return goals.length === objectivesOf(problem).length ? goals : undefined
}

function answerFrom(
  problem: Problem,
  placements: readonly Placement[] | undefined,
  value: unknown,
): Answer | undefined {
  const { kind, objectives, short, conflict, irreducible, bounds } = record(value)
  if (kind === 'not-found') return { kind: 'result', result: { status: 'unknown' } }
  if (kind === 'stopped') return { kind, bounds: boundsFrom(problem, bounds) }
  const fits = placements !== undefined && keeps(problem, placements)
  if (kind === 'none') {
    if (fits) return undefined
    const members = list(conflict).flatMap((entry): ConflictMember[] => {
      const { rule, items, text } = record(entry)
      return isText(rule) && isText(text) ? [{ rule, text, items: list(items).filter(isText) }] : []
    })
    const result = { status: 'infeasible', conflict: members, conflictIrreducible: irreducible === true } as const
    return members.length > 0 ? { kind: 'result', result } : undefined
  }
  if (kind !== 'layout' || !fits) return undefined
  const goals = goalsFrom(problem, placements, objectives)
  if (!goals) return undefined
  const why = list(short).filter(isText)
  const status = why.length === 0 && goals.every((g) => g.proven) ? 'optimal' : 'feasible'
  const result = { status, objectives: goals, placements, figures: figuresOf(problem, placements) } as const
  return { kind: 'result', result, ...(why.length > 0 ? { short: why } : {}) }
}

export interface FoundAgain {
  readonly doc: Doc
  readonly known: State['known']
}

/** The document with what a shelf has kept of it. */
export function foundAgain(doc: Doc, kept: unknown, program: string): FoundAgain {
  const known = new Map<Problem, NonNullable<ReturnType<State['known']['get']>>>()
  const same = record(kept).program === program
  const rows = list(record(kept).sheets).map(record)
  const again = (sheet: Sheet): Sheet => {
    const row = rows.find((r) => r.variant === sheet.variant)
    if (!row || row.asked !== askedOf(doc, sheet)) return sheet
    const { problem } = sheet
    const { placements: kept, answer: said, bounds } = record(row.known)
    const placements = layoutFrom(problem, kept)
    const hint = (same ? undefined : placements) ?? layoutFrom(problem, row.hint)
    if (hint) known.set(problem, { hint })
    const { answer: mine, anew } = record(row.own)
    const stands = sheet.placements && row.held === heldOf(sheet)
    // It was asked for and not heard yet: whatever program hears it.
    const asked: Sheet = stands && anew === true && mine === undefined ? { ...sheet, anew } : sheet
    if (!same) return asked
    const answer = answerFrom(problem, placements, said)
    // Where something was said that is not understood, what was told on the way to it is not believed either.
    if (placements && (answer || said === undefined))
      known.set(problem, { placements, ...(answer ? { answer } : { bounds: boundsFrom(problem, bounds) }) })
    else if (answer && !mayBeBetter(answer)) known.set(problem, { answer })
    const own = stands ? answerFrom(problem, sheet.placements, mine) : undefined
    return own ? { ...sheet, answer: own, ...(anew === true ? { anew } : {}) } : asked
  }
  return { doc: { ...doc, sheets: doc.sheets.map(again) }, known }
}
