/**
 * What the page keeps in a project file stands under `page`, an optional field of its own: which items are held, the layouts that were on
 * show, so that a file opens on the picture that it was saved with, notes on variants and photos under decks. It only says what to show
 * first, so commands pass it over, and no fault in it keeps a file from opening: what is good in it counts, and `pageIssues` names the rest.
 */
import * as z from 'zod/mini'
import { byId, issuesOf, list, object, ref, text, turn } from '../../footprints/fields.ts'
import { type Issue, oneOf, snippet } from '../../footprints/problems.ts'
import type { Problem } from '../../solver/index.ts'
import { place } from './layout-file.ts'
import type { Project } from './schema.ts'
import { PAGE, underlayOf } from './underlay.ts'
import { variantsOf } from './variants.ts'
import { wanted } from './words.ts'

/** As in a layout file (contract §6), mm. */
const placement = object({ item: ref, deck: ref, at: place, turn, host: z.optional(ref) })
export type PagePlacement = z.infer<typeof placement>

const ids = byId(list(ref))
/** By variant; photos by deck, looked at by `underlayOf`. */
const page = object({
  holds: z.optional(ids),
  built: z.optional(ids),
  placements: z.optional(byId(list(placement))),
  notes: z.optional(byId(text)),
  marked: z.optional(ref),
  underlays: z.optional(byId(z.unknown())),
})

/** By variant. */
export interface PageNotes {
  readonly holds: Readonly<Record<string, readonly string[]>>
  /** Items that are built, and so never move: each is held too. */
  readonly built?: Readonly<Record<string, readonly string[]>>
  readonly placements: Readonly<Record<string, readonly PagePlacement[]>>
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)

const standsIn = (project: Project): unknown => (project as Record<string, unknown>)[PAGE]
const isText = (value: unknown): value is string => typeof value === 'string'
const isPlacement = (value: unknown): value is PagePlacement => issuesOf(placement, value).problems.length === 0

/** The good entries of the lists of a field, by variant. */
function good<T>(field: unknown, is: (value: unknown) => value is T): Record<string, T[]> {
  const lists = Object.entries(isRecord(field) ? field : {})
  return Object.fromEntries(lists.flatMap(([variant, all]) => (Array.isArray(all) ? [[variant, all.filter(is)]] : [])))
}

/** What the page kept in the project, as far as it is good. */
export function pageOf(project: Project): PageNotes {
  const whole = standsIn(project)
  const fields = isRecord(whole) ? whole : {}
  const built = good(fields.built, isText)
  return {
    holds: good(fields.holds, isText),
    ...(Object.keys(built).length > 0 ? { built } : {}),
    placements: good(fields.placements, isPlacement),
  }
}

/** The project with what the page wants to keep, in place of what it kept before; what else stands under `page` stays. */
export function withPage(project: Project, notes: PageNotes): Project {
  const before = standsIn(project)
  const { built: _, ...others } = isRecord(before) ? before : {}
  return { ...project, [PAGE]: { ...others, ...notes } } as Project
}

/** What of it is not understood, or names what the project does not have, and so does not count. `asked`: the project's variants. */
export function pageIssues(
  project: Project,
  asked: readonly { readonly variant: string; readonly problem: Problem }[],
): Issue[] {
  const whole = standsIn(project)
  if (whole === undefined) return []
  const { problems, warnings } = issuesOf(page, whole)
  const issues = [...problems, ...warnings].map((i): Issue => ({ ...i, path: [PAGE, ...i.path] }))
  if (!isRecord(whole)) return issues
  const names = variantsOf(project).map((v) => v.id)
  const name = (path: Issue['path'], found: unknown, right: readonly string[]): void => {
    if (typeof found === 'string' && !right.includes(found))
      issues.push({ path: [PAGE, ...path], found: snippet(found), expected: oneOf(right, found) })
  }
  for (const field of ['holds', 'built', 'placements', 'notes'] as const)
    for (const variant of Object.keys(isRecord(whole[field]) ? whole[field] : {}))
      name([field, variant], variant, names)
  name(['marked'], whole.marked, names)
  for (const { variant, problem } of asked) {
    const items = problem.items.map((i) => i.id)
    const decks = problem.decks.map((d) => d.id)
    const placed = new Set<string>()
    entries(whole.placements, variant).forEach((entry, k) => {
      if (!isPlacement(entry)) return
      const path = ['placements', variant, k] as const
      name([...path, 'item'], entry.item, items)
      name([...path, 'deck'], entry.deck, decks)
      name([...path, 'host'], entry.host, items)
      if (decks.includes(entry.deck)) placed.add(entry.item)
    })
    for (const field of ['holds', 'built'] as const)
      entries(whole[field], variant).forEach((id, k) => {
        name([field, variant, k], id, items)
        // Held is where it stands: without a place there is nothing to hold.
        if (isText(id) && items.includes(id) && !placed.has(id))
          issues.push({
            path: [PAGE, field, variant, k],
            found: snippet(id),
            expected: wanted.placedItem(PAGE, variant),
          })
      })
  }
  for (const [deck, photo] of Object.entries(isRecord(whole.underlays) ? whole.underlays : {}))
    if (!underlayOf(project, deck))
      issues.push({ path: [PAGE, 'underlays', deck], found: snippet(photo), expected: wanted.underlay })
  return issues
}

function entries(field: unknown, variant: string): readonly unknown[] {
  const all = isRecord(field) && Object.hasOwn(field, variant) ? field[variant] : undefined
  return Array.isArray(all) ? all : []
}
