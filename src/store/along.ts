/** What an edit of the project means for the layouts on show: bodies that go by another name, and one that is put somewhere. */
import type { Placement, Problem } from '../../solver/index.ts'
import type { Sheet } from './document.ts'

export interface Along {
  /** Bodies by their names before and after; where they stand and what holds them goes along. */
  readonly renamed?: ReadonlyMap<string, string>
  /** A first place for a new item of the variant on the stage, not held. */
  readonly put?: (problem: Problem, placements: readonly Placement[]) => Placement | undefined
}

/** The sheets with their bodies under the new names, for writing them down; placements go by number and stay. */
export function withNames(sheets: readonly Sheet[], renamed: Along['renamed']): readonly Sheet[] {
  if (!renamed || renamed.size === 0) return sheets
  const name = (id: string): string => renamed.get(id) ?? id
  return sheets.map((sheet) => ({
    ...sheet,
    holds: sheet.holds.map(name),
    ...(sheet.built ? { built: sheet.built.map(name) } : {}),
    problem: { ...sheet.problem, items: sheet.problem.items.map((item) => ({ ...item, id: name(item.id) })) },
  }))
}
