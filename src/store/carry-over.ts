/**
 * What an edit of the project leaves as it was: a variant that asks the same question after it keeps its problem, and with it its
 * layout and all that the solver said; a new variant that asks what another one asks begins with that one's layout and answer.
 */
import type { Problem } from '../../solver/index.ts'
import { goalsOf } from '../model/edit-variants.ts'
import { applyVariant, type Project } from '../model/index.ts'
import type { Doc, Sheet } from './document.ts'

/** Texts of the projects that were looked at last; a long history must not keep them all. */
const asked = new Map<Project, Map<string, string>>()
const MOST_KEPT = 64

/** All that a variant asks of the solver, as one text: two variants with the same text have the same layouts. Names ask nothing. */
export function questionOf(project: Project, variant: string): string {
  const known = asked.get(project) ?? new Map<string, string>()
  asked.delete(project)
  asked.set(project, known)
  const oldest = asked.keys().next().value
  if (oldest && asked.size > MOST_KEPT) asked.delete(oldest)
  const old = known.get(variant)
  if (old !== undefined) return old
  const { page: _, name: __, objective: ___, ...rest } = applyVariant(project, variant) as Project & { page?: unknown }
  // An empty list asks as little as one that is missing.
  const says = ([, value]: [string, unknown]): boolean =>
    typeof value !== 'object' || value === null || Object.keys(value).length > 0
  const text = JSON.stringify([Object.fromEntries(Object.entries(rest).filter(says)), goalsOf(project)])
  known.set(variant, text)
  return text
}

export interface Carried {
  readonly doc: Doc
  /** Problems that are new, and an old one that asks the same. */
  readonly same: readonly (readonly [Problem, Problem])[]
}

/** `next`, read from a project that was edited, with what `old` knows already; `now` is looked at first. */
export function carriedOver(old: Doc, next: Doc, now: Sheet | undefined): Carried {
  const same: (readonly [Problem, Problem])[] = []
  const first = now ? [now, ...old.sheets.filter((s) => s !== now)] : old.sheets
  const sheets = next.sheets.map((sheet): Sheet => {
    const question = questionOf(next.project, sheet.variant)
    const alike = (s: Sheet): boolean => questionOf(old.project, s.variant) === question
    const mine = old.sheets.find((s) => s.variant === sheet.variant)
    if (mine && alike(mine) && mine.problem.name === sheet.problem.name)
      return mine.name === sheet.name ? mine : { ...mine, name: sheet.name }
    const like = mine ? (alike(mine) ? mine : undefined) : first.find(alike)
    if (!like) return sheet
    same.push([sheet.problem, like.problem])
    return { ...like, variant: sheet.variant, name: sheet.name, problem: sheet.problem }
  })
  return { doc: { ...next, sheets }, same }
}
