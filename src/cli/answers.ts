/** What a solve found, in sentences for people: no rule numbers, no status words. */
import { isMost, type ObjectiveName, type ObjectiveValue, type Problem, type SolveResult } from '../../solver/index.ts'
import { leftOut as leftOutOf } from '../model/layout.ts'
import { roundUp } from '../model/rounding.ts'

/** One variant with its answer. */
export interface Answer {
  readonly id: string
  readonly name: string
  readonly problem: Problem
  readonly result: SolveResult
}

/** `870, best possible` · `850, at most 20 more` · `412.5 mm, at most 14.3 mm less` · `412.5 mm, no bound yet`. */
export function figureText(o: ObjectiveValue): string {
  const value = amount(o.name, o.value)
  if (o.proven) return `${value}, best possible`
  if (isMost(o.name)) {
    return `${value}, at most ${atMost(o.name, o.bound - o.value)} more`
  }
  if (o.name === 'new-holes') return `${value}, at most ${atMost(o.name, o.value - o.bound)} fewer`
  // No length is below nothing, so a bound of 0 tells nothing.
  if (o.bound <= 0) return `${value}, no bound yet`
  const short = o.value - o.bound
  return `${value}, ${short < 100 ? 'less than 0.1 mm' : `at most ${atMost(o.name, short)}`} less`
}

const isCount = (name: ObjectiveName): boolean => name !== 'wire-length' && name !== 'balance'

export function amount(name: ObjectiveName, value: number): string {
  if (isCount(name)) return String(Math.round(value * 1000) / 1000)
  return `${(Math.round(value / 100) / 10).toFixed(1)} mm`
}

/** Rounded up: so much and no more. */
const atMost = (name: ObjectiveName, value: number): string =>
  amount(name, isCount(name) ? roundUp(value, 3) : 100 * roundUp(value / 100, 0))

const thing: Readonly<Record<ObjectiveName, string>> = {
  'free-tie-points': 'free contacts',
  'optional-value': 'optional value',
  'new-holes': 'new holes',
  'wire-length': 'wire',
  balance: 'balance',
}

/** One sentence: how good the layout is known to be, or why there is none. */
export function verdict({ result, problem }: Answer): string {
  switch (result.status) {
    case 'optimal':
      return gridWords('Best possible', problem)
    case 'feasible': {
      const open = result.objectives.filter((o) => !o.proven).map((o) => thing[o.name])
      const closed = result.objectives.filter((o) => o.proven).map((o) => thing[o.name])
      // proven by the rules of a layout alone, but the file asks for leads that are long enough and can be joined
      if (open.length === 0) return 'It fits, but not every lead is long enough and finds a free contact.'
      if (closed.length === 0) return `It fits; whether ${list(open)} could be better is not known yet.`
      return `Best possible in ${list(closed)}; ${list(open)} may have room for better.`
    }
    case 'infeasible': {
      const why = [...new Set(result.conflict.map((c) => c.text.replace(/\.$/, '')))]
      return `Cannot fit, because ${why.length === 0 ? 'the rules exclude one another' : why.join('; ')}.`
    }
    case 'unknown':
      return 'No layout found in this time, and no proof that there is none; more time may find one.'
  }
}

const gridWords = (text: string, problem: Problem): string => `${text} on a grid of ${problem.grid / 1000} mm.`

/** `a`, `a and b`, `a, b and c`. */
export function list(words: readonly string[]): string {
  if (words.length < 2) return words[0] ?? 'nothing'
  return `${words.slice(0, -1).join(', ')} and ${words[words.length - 1]}`
}

/** Ids of the items that a layout leaves out. */
export function leftOut({ problem, result }: Answer): string[] {
  return 'placements' in result ? leftOutOf(problem, result.placements) : []
}

/** The longest cut of each wire over all layouts, Um by wire id: a wire cut to it serves every variant. */
export function cutLengths(answers: readonly Answer[]): Map<string, number> {
  const longest = new Map<string, number>()
  for (const { problem, result } of answers) {
    if (result.status !== 'optimal' && result.status !== 'feasible') continue
    for (const w of result.figures.wires) {
      const id = problem.wires[w.wire]!.id
      longest.set(id, Math.max(longest.get(id) ?? 0, w.cut))
    }
  }
  return longest
}
