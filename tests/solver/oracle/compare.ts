/** What the oracles say against what a solve said. Every complaint is a sentence; none = they agree. */
import { check } from '../../../solver/check/check.ts'
import type { Placement, Problem } from '../../../solver/problem.ts'
import type { ConflictMember, Hold, SolveOptions, SolveResult } from '../../../solver/result.ts'
import { solve } from '../../../solver/solve.ts'
import type { Turn, Um } from '../../../solver/units.ts'
import { brute } from './brute.ts'
import { objectivesOf } from './measure.ts'
import { instances, type Layout } from './rules.ts'

/** Proven balance is exact to 0.01 mm. */
export const BALANCE_TOLERANCE = 10
const tolerance = (name: string): number => (name === 'balance' ? BALANCE_TOLERANCE + 0.01 : 0.01)

export const placementsOf = (layout: Layout): Placement[] =>
  layout.flatMap((s) => {
    if (!s) return []
    const at = { item: s.item, deck: s.deck, at: { x: s.x as Um, y: s.y as Um }, turn: s.turn as Turn }
    return [s.host === undefined ? at : { ...at, host: s.host }]
  })

/** Values as costs, so that less is better throughout. */
export const costsOf = (r: SolveResult & { status: 'optimal' | 'feasible' }): number[] =>
  r.objectives.map((o) => (o.name === 'free-tie-points' || o.name === 'optional-value' ? -o.value : o.value))

export const boundsOf = (r: SolveResult & { status: 'optimal' | 'feasible' }): number[] =>
  r.objectives.map((o) => (o.name === 'free-tie-points' || o.name === 'optional-value' ? -o.bound : o.bound))

/** A solve whose exceptions are findings too. */
export function trySolve(p: Problem, options: SolveOptions): SolveResult | string {
  try {
    return solve(p, options)
  } catch (e) {
    return `throws ${e instanceof Error ? e.message : String(e)}`
  }
}

/** Complaints about a layout that a solve returned, whatever its worth. */
export function layoutComplaints(p: Problem, r: SolveResult): string[] {
  if (r.status !== 'optimal' && r.status !== 'feasible') return []
  const out = check(p, r.placements).map((f) => `the layout breaks ${f.rule} of ${f.items.join(', ')}: ${f.text}`)
  const names = objectivesOf(p)
  if (r.objectives.map((o) => o.name).join() !== names.join())
    out.push(`objectives are ${r.objectives.map((o) => o.name)}, not ${names}`)
  const proven = r.objectives.every((o) => o.proven)
  if (proven !== (r.status === 'optimal')) out.push(`status ${r.status}, but every objective proven: ${proven}`)
  for (const o of r.objectives) {
    // Balance in whole micrometres, as files have it, where a bound is rounded down (contract §5).
    const near =
      o.name === 'balance' ? Math.round(o.value) - Math.floor(o.bound + 1e-6) <= BALANCE_TOLERANCE : o.value === o.bound
    if (o.proven !== near) out.push(`${o.name} is called proven: ${o.proven}, at ${o.value} with bound ${o.bound}`)
  }
  return out
}

/** Least cost of objective k, given the costs before it; undefined where the oracle gave up. */
export type Stage = (k: number, before: readonly number[]) => Promise<number | undefined>

/** A finished solve against an oracle's answer: status, and every objective with the earlier ones at the solve's own values. */
export async function answerComplaints(
  p: Problem,
  r: SolveResult | string,
  feasible: boolean,
  stage: Stage,
): Promise<string[]> {
  if (typeof r === 'string') return [r]
  const out = layoutComplaints(p, r)
  if (r.status === 'infeasible')
    return feasible ? [...out, 'called infeasible, but the oracle has a legal layout'] : out
  if (!feasible) return [...out, `status ${r.status}, but the oracle proves that there is no legal layout`]
  if (r.status !== 'optimal') return [...out, `status ${r.status}: not finished in the time given`]
  const costs = costsOf(r)
  for (const [k, name] of objectivesOf(p).entries()) {
    const best = await stage(k, costs.slice(0, k))
    if (best === undefined) break
    if (Math.abs(best - costs[k]!) > tolerance(name)) {
      out.push(`${name} (objective ${k} of ${objectivesOf(p)}): solve ${costs[k]}, oracle ${best}`)
      break
    }
  }
  return out
}

/** The stages of brute force, for `answerComplaints`. */
export const bruteStage =
  (p: Problem, limit: number, pins: readonly Hold[] = []): Stage =>
  async (k, before) => {
    const b = brute(p, { limit, atMost: before, pins })
    return b.status === 'optimal' ? b.costs[k] : undefined
  }

/** Keys of rule instances (see rules.ts) that a member of a conflict may stand for. */
function keysOf(p: Problem, m: ConflictMember): string[][] {
  const index = (id: string): number => p.items.findIndex((i) => i.id === id)
  const items = m.items.filter((id) => index(id) >= 0).sort((a, b) => index(a) - index(b))
  const [a, b] = items
  const others = m.items.filter((id) => index(id) < 0)
  switch (m.rule) {
    case 'R1':
    case 'R6':
      return [[`${m.rule}|${a}`]]
    case 'R2':
    case 'R3':
      return [[`${m.rule}|${a}|${b}`]]
    case 'R4':
      return others.filter((z) => p.zones.some((o) => o.id === z)).map((z) => [`R4|${a}|${z}`])
    case 'R5':
      return [[b === undefined ? `R5|${a}` : `R5|${a}|${b}`]]
    case 'R7':
      return p.wires.filter((w) => m.items.includes(w.id)).map((w) => [`R7|${w.id}`])
    case 'R8':
      return others.filter((d) => p.decks.some((o) => o.id === d)).map((d) => [`R8|${a}|${d}`])
    case 'R9': {
      // One pair, whichever of the two swings.
      if (b !== undefined) return [[`R9|${a}|${b}`, `R9|${b}|${a}`]]
      return others.filter((d) => p.decks.some((o) => o.id === d)).map((d) => [`R9|${a}|${d}`])
    }
    case 'R10': {
      // One of the item's place entries, or its being required: `items` does not say which, so every reading is tried.
      const mine = m.items.find((id) => index(id) >= 0)
      const item = p.items[index(mine ?? '')]
      if (!item) return []
      return [...item.place.map((_, k) => [`R10|${mine}|${k}`]), ...(item.required ? [[`R10|${mine}|required`]] : [])]
    }
    default:
      return []
  }
}

/** All ways to read a conflict's members as different rule instances, at most `most`. */
function readings(p: Problem, conflict: readonly ConflictMember[], most: number): string[][][] {
  let out: string[][][] = [[]]
  for (const m of conflict) {
    const next = out.flatMap((head) =>
      keysOf(p, m)
        .filter((k) => !head.some((h) => h.join() === k.join()))
        .map((k) => [...head, k]),
    )
    out = next.slice(0, most)
  }
  return out
}

export type ConflictVerdict = 'irreducible' | 'too large' | string

/** Is this conflict one, and is every member needed? By brute force, with only its members asked. */
export function conflictVerdict(p: Problem, conflict: readonly ConflictMember[], limit = 200_000): ConflictVerdict {
  if (conflict.length === 0) return 'an empty conflict'
  let why = 'a member names nothing that the problem has, or two name one rule instance'
  for (const reading of readings(p, conflict, 40)) {
    const verdict = readingVerdict(p, reading, limit)
    if (verdict === 'irreducible' || verdict === 'too large') return verdict
    why = verdict
  }
  return why
}

function readingVerdict(p: Problem, members: readonly string[][], limit: number): ConflictVerdict {
  const feasible = (kept: readonly string[][]): boolean | undefined => {
    const keys = new Set(kept.flat())
    const used = new Set<number>()
    for (const k of keys) for (const id of k.split('|').slice(1)) used.add(p.items.findIndex((i) => i.id === id))
    for (const k of instances(p)) if (keys.has(k.key)) for (const i of k.items) used.add(i)
    const absent = new Set(p.items.flatMap((_, i) => (used.has(i) ? [] : [i])))
    const a = brute(p, { off: (key) => !keys.has(key), absent, feasibilityOnly: true, limit })
    return a.status === 'too large' ? undefined : a.status === 'optimal'
  }
  const whole = feasible(members)
  if (whole === undefined) return 'too large'
  if (whole) return `the members together can hold: ${members.flat().join(' ')}`
  for (const [k, m] of members.entries()) {
    const rest = feasible(members.filter((_, i) => i !== k))
    if (rest === undefined) return 'too large'
    if (!rest) return `without ${m.join()} there is still no layout: ${members.flat().join(' ')}`
  }
  return 'irreducible'
}
