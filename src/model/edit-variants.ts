/**
 * Edits of variants as pure functions: one more as a copy, its name, one less; what differs in one, made and unmade; what room is
 * kept for later; and the order of what matters. A project without variants has one, `base`, which an edit writes down.
 */
import type { ObjectiveName } from '../../solver/index.ts'
import { DEFAULTS } from './problem.ts'
import type { Project, ProjectSettings, ProjectVariant } from './schema.ts'
import { variantsOf } from './variants.ts'

/** Whether a change is for one variant, or for all of them. */
export type Scope = 'here' | 'all'

/** Lists of which a variant may leave entries out. */
export type Leaving = 'omit' | 'release' | 'drop'

/** Lists of which a variant may change fields. */
export type Patched = 'items' | 'wires' | 'decks'

const listed = (project: Project): ProjectVariant[] => {
  const variants = project.variants ?? []
  return variants.length > 0 ? variants : [{ id: 'base' }]
}

/** The variant without lists and records that say nothing, so that a file looks as it did before a change was taken back. */
function tidy(variant: ProjectVariant): ProjectVariant {
  const says = ([field, value]: [string, unknown]): boolean =>
    value !== undefined &&
    (!['items', 'omit', 'release', 'wires', 'settings', 'decks', 'drop'].includes(field) ||
      Object.keys(value as object).length > 0)
  return Object.fromEntries(Object.entries(variant).filter(says)) as ProjectVariant
}

/** Throws a RangeError where there is no such variant. */
function withVariant(project: Project, id: string, edit: (variant: ProjectVariant) => ProjectVariant): Project {
  const variants = listed(project)
  if (!variants.some((v) => v.id === id)) throw new RangeError(`There is no variant ${JSON.stringify(id)}.`)
  return { ...project, variants: variants.map((v) => (v.id === id ? tidy(edit(v)) : v)) }
}

const inScope = (project: Project, id: string, scope: Scope, edit: (v: ProjectVariant) => ProjectVariant): Project =>
  scope === 'here'
    ? withVariant(project, id, edit)
    : { ...project, variants: listed(project).map((v) => tidy(edit(v))) }

/** One more variant, right behind the one that it is a copy of, and its id. */
export function copyVariant(project: Project, of: string): { readonly project: Project; readonly id: string } {
  const variants = listed(project)
  const index = variants.findIndex((v) => v.id === of)
  const from = variants[index]
  if (!from) throw new RangeError(`There is no variant ${JSON.stringify(of)}.`)
  const stem = of.replace(/-\d+$/, '')
  const taken = new Set(variants.map((v) => v.id))
  let k = 2
  while (taken.has(`${stem}-${k}`)) k++
  const id = `${stem}-${k}`
  const { name: _, ...same } = from
  return { project: { ...project, variants: variants.toSpliced(index + 1, 0, { ...structuredClone(same), id }) }, id }
}

/** An empty name leaves the id to stand for it. */
export const renameVariant = (project: Project, id: string, name: string): Project =>
  withVariant(project, id, ({ name: _, ...rest }) => {
    const given = name.trim()
    return given === '' || given === id ? rest : { ...rest, name: given }
  })

/** The project without that variant; the last one stays. */
export function removeVariant(project: Project, id: string): Project {
  const variants = listed(project)
  if (variants.length < 2) return project
  const { [id]: _, ...notes } = notesOf(project)
  const left = { ...project, variants: variants.filter((v) => v.id !== id) }
  const page = withPageField(left, 'notes', notes)
  return markedOf(project) === id ? withPageField(page, 'marked', undefined) : page
}

/** What the page keeps of variants stands in the optional field `page`: `notes` by variant, and the `marked` one. */
type Page = { readonly notes?: unknown; readonly marked?: unknown }
const pageIn = (project: Project): Page => {
  const page: unknown = (project as Record<string, unknown>).page
  return typeof page === 'object' && page !== null ? page : {}
}

function withPageField(project: Project, field: keyof Page, value: unknown): Project {
  const { [field]: _, ...rest } = pageIn(project)
  const says = value !== undefined && (typeof value !== 'object' || Object.keys(value as object).length > 0)
  const page = says ? { ...rest, [field]: value } : rest
  const { page: __, ...others } = project as Project & { page?: unknown }
  return (Object.keys(page).length > 0 ? { ...others, page } : others) as Project
}

function notesOf(project: Project): Readonly<Record<string, string>> {
  const { notes } = pageIn(project)
  if (typeof notes !== 'object' || notes === null) return {}
  return Object.fromEntries(Object.entries(notes).filter(([, note]) => typeof note === 'string'))
}

/** What the user wrote on a variant's card; empty where nothing is. */
export const noteOf = (project: Project, id: string): string => {
  const notes = notesOf(project)
  return Object.hasOwn(notes, id) ? notes[id]! : ''
}

export function withNote(project: Project, id: string, note: string): Project {
  const { [id]: _, ...others } = notesOf(project)
  const text = note.trim()
  return withPageField(project, 'notes', text === '' ? others : { ...others, [id]: text })
}

/** The variant that the others are compared with: the one that was marked, or the first. */
export function markedOf(project: Project): string {
  const ids = variantsOf(project).map((v) => v.id)
  const { marked } = pageIn(project)
  return ids.find((id) => id === marked) ?? ids[0]!
}

export const withMarked = (project: Project, id: string): Project =>
  id === markedOf(project) ? project : withPageField(project, 'marked', id)

const without = <T>(record: Record<string, T> | undefined, key: string): Record<string, T> =>
  Object.fromEntries(Object.entries(record ?? {}).filter(([k]) => k !== key))

const own = <T>(record: Record<string, T> | undefined, key: string): T | undefined =>
  record && Object.hasOwn(record, key) ? record[key] : undefined

type Records = Record<string, object | null> | undefined

/** A variant's own values without some fields of one entry. */
function unpatched(variant: ProjectVariant, list: Patched, entry: string, fields: readonly string[]): ProjectVariant {
  const patches: Records = variant[list]
  const patch = own(patches, entry)
  if (!patch) return variant
  const left = Object.fromEntries(Object.entries(patch).filter(([f]) => !fields.includes(f)))
  const rest = without(patches, entry)
  const now = Object.keys(left).length === 0 ? rest : { ...patches, [entry]: left }
  return { ...variant, [list]: now } as ProjectVariant
}

/**
 * Fields of an item, wire or deck. `here`: this variant's own values; those that all have anyway are no difference. `all`: the project's
 * values, and no variant has its own any more.
 */
export function setFields(
  project: Project,
  id: string,
  list: Patched,
  entry: string,
  fields: Readonly<Record<string, unknown>>,
  scope: Scope,
): Project {
  const entries: readonly { id: string }[] = project[list] ?? []
  const base = entries.find((e) => e.id === entry) as Record<string, unknown> | undefined
  if (!base) return project
  const names = Object.keys(fields)
  if (scope === 'all') {
    const changed = entries.map((e) => (e.id === entry ? { ...e, ...fields } : e))
    const next = { ...project, [list]: changed } as Project
    if (!project.variants) return next
    return inScope(next, id, 'all', (v) => unpatched(v, list, entry, names))
  }
  const differing = Object.fromEntries(Object.entries(fields).filter(([f, v]) => !same(v, base[f] ?? USUAL[f])))
  return withVariant(project, id, (variant) => {
    const clean = unpatched(variant, list, entry, names)
    if (Object.keys(differing).length === 0) return clean
    const patches: Records = clean[list]
    return { ...clean, [list]: { ...patches, [entry]: { ...own(patches, entry), ...differing } } } as ProjectVariant
  })
}

/**
 * A field that the variant says for itself from now on, at first as all have it: an edit of it is then one of this variant alone.
 * Nothing is changed where it does so already.
 */
export function sayHere(
  project: Project,
  id: string,
  list: Patched,
  entry: string,
  field: string,
  usual: unknown,
): Project {
  const entries: readonly { id: string }[] = project[list] ?? []
  const base = entries.find((e) => e.id === entry) as Record<string, unknown> | undefined
  if (!base) return project
  return withVariant(project, id, (variant) => {
    const patches: Records = variant[list]
    const mine = { [field]: structuredClone(base[field] ?? usual), ...own(patches, entry) }
    return { ...variant, [list]: { ...patches, [entry]: mine } } as ProjectVariant
  })
}

/** Contract §3: what a field that is missing says. */
const USUAL: Readonly<Record<string, unknown>> = {
  count: 1,
  required: true,
  value: 1,
  turns: [0, 1, 2, 3],
  stack: 0,
  later: false,
  loop: 0,
  conductors: 1,
}

const same = (a: unknown, b: unknown): boolean => JSON.stringify(a) === JSON.stringify(b)

export function setSetting(project: Project, id: string, name: keyof ProjectSettings, value: unknown, scope: Scope) {
  const clean = (v: ProjectVariant): ProjectVariant => ({
    ...v,
    settings: without(v.settings as Record<string, unknown>, name) as ProjectSettings,
  })
  if (scope === 'all') {
    const next: Project = { ...project, settings: { ...project.settings, [name]: value } }
    return project.variants ? inScope(next, id, 'all', clean) : next
  }
  const usual: Readonly<Record<string, unknown>> = DEFAULTS
  if (same(project.settings?.[name] ?? usual[name], value)) return withVariant(project, id, clean)
  return withVariant(project, id, (v) => ({ ...v, settings: { ...v.settings, [name]: value } }))
}

/** An item, a zone or a deck left out, or back again. */
export const setOut = (project: Project, id: string, list: Leaving, entry: string, out: boolean, scope: Scope) =>
  inScope(project, id, scope, (v) => {
    const rest = (v[list] ?? []).filter((e) => e !== entry)
    return { ...v, [list]: out ? [...rest, entry] : rest }
  })

/** A wire left out, or back again as all have it. */
export const setWireOut = (project: Project, id: string, wire: string, out: boolean, scope: Scope): Project =>
  inScope(project, id, scope, (v) => ({
    ...v,
    wires: out ? { ...v.wires, [wire]: null } : own(v.wires, wire) === null ? without(v.wires, wire) : { ...v.wires },
  }))

/** One way in which a variant differs from what the project says of all. */
export type Difference =
  | {
      readonly kind: 'field'
      readonly list: Patched
      readonly entry: string
      readonly field: string
      readonly is: unknown
      readonly was: unknown
    }
  | { readonly kind: 'setting'; readonly field: string; readonly is: unknown; readonly was: unknown }
  | { readonly kind: 'out'; readonly list: Leaving; readonly entry: string }
  | { readonly kind: 'wire-out'; readonly entry: string }

export function differencesOf(project: Project, id: string): Difference[] {
  const variant = (project.variants ?? []).find((v) => v.id === id)
  if (!variant) return []
  const fields = (list: Patched): Difference[] =>
    Object.entries((variant[list] ?? {}) as NonNullable<Records>).flatMap(([entry, patch]): Difference[] => {
      if (patch === null) return [{ kind: 'wire-out', entry }]
      const all: readonly { id: string }[] = project[list] ?? []
      const base = (all.find((e) => e.id === entry) ?? {}) as Record<string, unknown>
      return Object.entries(patch).map(([field, is]) => ({ kind: 'field', list, entry, field, is, was: base[field] }))
    })
  const out = (list: Leaving): Difference[] => (variant[list] ?? []).map((entry) => ({ kind: 'out', list, entry }))
  const base = (project.settings ?? {}) as Record<string, unknown>
  return [
    ...out('omit'),
    ...fields('items'),
    ...out('release'),
    ...fields('wires'),
    ...Object.entries(variant.settings ?? {}).map(
      ([field, is]): Difference => ({ kind: 'setting', field, is, was: base[field] }),
    ),
    ...out('drop'),
    ...fields('decks'),
  ]
}

/** The variant asks of this what all ask. */
export function withoutDifference(project: Project, id: string, difference: Difference): Project {
  switch (difference.kind) {
    case 'field':
      return withVariant(project, id, (v) => unpatched(v, difference.list, difference.entry, [difference.field]))
    case 'setting':
      return withVariant(project, id, (v) => ({
        ...v,
        settings: without(v.settings as Record<string, unknown>, difference.field) as ProjectSettings,
      }))
    case 'out':
      return setOut(project, id, difference.list, difference.entry, false, 'here')
    case 'wire-out':
      return setWireOut(project, id, difference.entry, false, 'here')
  }
}

/** Room that is kept for a later part: a reserved zone, or an item whose place is kept. */
export interface Room {
  readonly kind: 'zone' | 'item'
  readonly id: string
  /** Whether the variant keeps it. */
  readonly kept: boolean
  readonly why?: string
}

export function roomsOf(project: Project, id: string): Room[] {
  const variant: ProjectVariant = (project.variants ?? []).find((v) => v.id === id) ?? { id }
  const drop = new Set(variant.drop)
  const zones = (project.zones ?? []).filter((z) => z.kind === 'reserved' && !drop.has(z.deck))
  const later = project.items.filter((i) => own(variant.items, i.id)?.later ?? i.later)
  return [
    ...zones.map(
      (z): Room => ({
        kind: 'zone',
        id: z.id,
        kept: !(variant.release ?? []).includes(z.id),
        ...(z.why === undefined ? {} : { why: z.why }),
      }),
    ),
    ...later.map((i): Room => ({ kind: 'item', id: i.id, kept: !(variant.omit ?? []).includes(i.id) })),
  ]
}

export const withRoom = (project: Project, id: string, room: Pick<Room, 'kind' | 'id'>, kept: boolean): Project =>
  setOut(project, id, room.kind === 'zone' ? 'release' : 'omit', room.id, !kept, 'here')

/** Contract §5, in the order in which a project without a word asks. */
export const USUAL_GOALS: readonly ObjectiveName[] = ['free-tie-points', 'optional-value', 'wire-length', 'balance']

export const goalsOf = (project: Project): readonly ObjectiveName[] => project.objective ?? USUAL_GOALS

export function withGoals(project: Project, goals: readonly ObjectiveName[]): Project {
  const { objective: _, ...rest } = project
  return same(goals, USUAL_GOALS) ? rest : { ...rest, objective: [...goals] }
}

/** The goals with one of them at another place, 0 = first. */
export function goalMoved(goals: readonly ObjectiveName[], name: ObjectiveName, to: number): readonly ObjectiveName[] {
  const rest = goals.filter((g) => g !== name)
  return rest.toSpliced(Math.max(0, Math.min(rest.length, to)), 0, name)
}
