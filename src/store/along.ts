/** What an edit of the project means for the layouts on show: bodies that go by another name, and one that is put somewhere. */
import type { Placement, Problem } from '../../solver/index.ts'
import type { Project } from '../model/index.ts'
import type { Sheet } from './document.ts'

/** What bodies of a variant are called after an edit, and the project after it. */
export type Renaming = (sheet: Sheet, next: Project) => ReadonlyMap<string, string>

export interface Along {
  /** Bodies by their names before and after, in all variants or in each as it says; where they stand and what holds them goes along. */
  readonly renamed?: ReadonlyMap<string, string> | Renaming
  /** A first place for a new item of the variant on the stage, not held. */
  readonly put?: (problem: Problem, placements: readonly Placement[]) => Placement | undefined
}

/** The sheets with their bodies under the new names, for writing them down; placements go by number and stay. */
export function withNames(sheets: readonly Sheet[], renamed: Along['renamed'], next: Project): readonly Sheet[] {
  return sheets.map((sheet) => {
    const names = typeof renamed === 'function' ? renamed(sheet, next) : renamed
    if (!names || names.size === 0) return sheet
    const name = (id: string): string => names.get(id) ?? id
    return {
      ...sheet,
      holds: sheet.holds.map(name),
      ...(sheet.built ? { built: sheet.built.map(name) } : {}),
      problem: { ...sheet.problem, items: sheet.problem.items.map((item) => ({ ...item, id: name(item.id) })) },
    }
  })
}
