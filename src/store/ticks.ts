/** Ticks on the check list before power: kept in the browser for one layout, for a robot that was changed is to be looked at anew. */
import type { Placement, Problem } from '../../solver/index.ts'
import type { Shelf } from './shelf.ts'
import { sumOf } from './sum.ts'

export const TICKS_KEY = 'deckwright-ticks'
/** Layouts whose ticks are kept; the oldest go first. */
const MOST = 40

/** The same for the same robot with everything in the same place. */
export function layoutKey(problem: Problem, placements: readonly Placement[]): string {
  const places = placements
    .map((p) => `${problem.items[p.item]?.id} ${problem.decks[p.deck]?.id} ${p.at.x} ${p.at.y} ${p.turn}`)
    .sort()
  return `${problem.name}|${problem.variant}|${sumOf(places.join('\n'))}`
}

type Kept = readonly (readonly [key: string, texts: readonly string[]])[]

function all(shelf: Shelf | undefined): Kept {
  try {
    const value: unknown = JSON.parse(shelf?.getItem(TICKS_KEY) ?? '[]')
    if (!Array.isArray(value)) return []
    return value.filter(
      (e): e is [string, string[]] =>
        Array.isArray(e) &&
        typeof e[0] === 'string' &&
        Array.isArray(e[1]) &&
        e[1].every((t: unknown) => typeof t === 'string'),
    )
  } catch {
    return []
  }
}

/** Texts of the steps that are ticked for the layout of that key. Never throws. */
export const recallTicks = (shelf: Shelf | undefined, key: string): ReadonlySet<string> =>
  new Set(all(shelf).find(([k]) => k === key)?.[1])

/** False where the browser refuses to keep them. */
export function keepTicks(shelf: Shelf | undefined, key: string, texts: ReadonlySet<string>): boolean {
  if (!shelf) return false
  const others = all(shelf).filter(([k]) => k !== key)
  const now: Kept = texts.size > 0 ? [...others, [key, [...texts]] as const] : others
  try {
    shelf.setItem(TICKS_KEY, JSON.stringify(now.slice(-MOST)))
    return true
  } catch {
    return false
  }
}
