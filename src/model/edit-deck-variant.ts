/**
 * Decks as one variant has them, and where an edit of them is written. As with items (edit-items.ts): a field goes into the variant
 * that has its own value for it, and into the base, so for all variants, otherwise; or into the variant because the user said so.
 */
import { setOut, withoutDifference } from './edit-variants.ts'
import type { Project, ProjectDeck, ProjectVariant } from './schema.ts'

export type DeckField = keyof Omit<ProjectDeck, 'id'>
export const DECK_FIELDS = [
  'outline',
  'openings',
  'holes',
  'z',
  'thickness',
  'material',
  'name',
] as const satisfies readonly DeckField[]

/** What a drawing or a caliper gives. */
const PLATE: readonly DeckField[] = ['outline', 'openings', 'holes']

type Patch = NonNullable<ProjectVariant['decks']>[string]

const patchIn = (variant: ProjectVariant | undefined, deck: string): Patch | undefined =>
  variant?.decks && Object.hasOwn(variant.decks, deck) ? variant.decks[deck] : undefined

const patchOf = (project: Project, variant: string, deck: string): Patch | undefined =>
  patchIn(
    project.variants?.find((v) => v.id === variant),
    deck,
  )

const says = (patch: Patch | undefined, field: string): boolean => (patch as Fields | undefined)?.[field] !== undefined
type Fields = Readonly<Record<string, unknown>>

/** The project with its decks as the variant has them. Decks that the variant leaves out, and all else, stay as they are. */
export function seenIn(project: Project, variant: string): Project {
  if (!project.decks.some((d) => patchOf(project, variant, d.id))) return project
  return {
    ...project,
    decks: project.decks.map((deck) => {
      const own = Object.entries(patchOf(project, variant, deck.id) ?? {})
      return { ...deck, ...Object.fromEntries(own.filter(([f, v]) => v !== undefined && f !== 'id')) }
    }),
  }
}

/**
 * The project for an edit of what `seenIn` gave: each changed field of a deck in the variant or in the base. With `only`, all go into the
 * variant; without variants in the file there is but the base. New decks are all variants', and so is whatever is no deck.
 */
export function written(project: Project, variant: string, only: boolean, next: Project): Project {
  const seen = seenIn(project, variant)
  const there = next.variants?.some((v) => v.id === variant) ?? false
  const own = new Map<string, Fields>()
  const decks = next.decks.map((deck) => {
    const [was, base] = [seen, project].map((p) => p.decks.find((d) => d.id === deck.id))
    if (!was || !base) return deck
    const changed = DECK_FIELDS.filter((f) => !same(was[f], deck[f]))
    const patch = patchOf(project, variant, deck.id)
    const here = changed.filter((f) => there && (only || says(patch, f)))
    if (here.length > 0) own.set(deck.id, Object.fromEntries(here.map((f) => [f, deck[f] ?? missing(f, deck.id)])))
    return withFields(
      base,
      changed.filter((f) => !here.includes(f)).map((f) => [f, deck[f]]),
    )
  })
  const project_ = { ...next, decks }
  if (own.size === 0 || !next.variants) return project_
  const variants = next.variants.map((v) => {
    if (v.id !== variant) return v
    const patches = [...own].map(([deck, fields]) => [deck, { ...patchIn(v, deck), ...fields }])
    return { ...v, decks: { ...v.decks, ...Object.fromEntries(patches) } }
  })
  return { ...project_, variants }
}

/** What a variant says for a field that was taken away: the base may have one, so that silence would not do. */
const missing = (field: DeckField, deck: string): unknown =>
  field === 'openings' || field === 'holes' ? [] : field === 'name' ? deck : ''

const same = (a: unknown, b: unknown): boolean => a === b || JSON.stringify(a) === JSON.stringify(b)

function withFields(deck: ProjectDeck, fields: readonly (readonly [string, unknown])[]): ProjectDeck {
  const all = { ...deck, ...Object.fromEntries(fields) } as Record<string, unknown>
  for (const [name, value] of fields) if (value === undefined) delete all[name]
  return all as ProjectDeck
}

/** Fields of a deck that the variant has its own values for. */
export const ownDeckFields = (project: Project, variant: string, deck: string): readonly DeckField[] =>
  DECK_FIELDS.filter((f) => says(patchOf(project, variant, deck), f))

/** Variants that give the deck an outline, openings or holes of their own, by id. */
export const ownPlates = (project: Project, deck: string): readonly string[] =>
  (project.variants ?? []).filter((v) => PLATE.some((f) => says(patchIn(v, deck), f))).map((v) => v.id)

/** Where a change of fields holds: in the variant alone (`here`), or in all but those that have their own. Ids of variants. */
export interface Holds {
  readonly fields: readonly DeckField[]
  readonly here: boolean
  readonly but: readonly string[]
}

/** For outline, openings and holes, and for whatever else some variant has its own value for; fields that hold alike together. */
export function holdsOf(project: Project, variant: string, only: boolean, deck: string): readonly Holds[] {
  const variants = project.variants ?? []
  const drop = new Set(variants.filter((v) => v.drop?.includes(deck)).map((v) => v.id))
  const groups = new Map<string, { fields: DeckField[]; here: boolean; but: readonly string[] }>()
  for (const field of DECK_FIELDS) {
    const mine = variants.filter((v) => says(patchIn(v, deck), field)).map((v) => v.id)
    const here = variants.length > 0 && (only || mine.includes(variant))
    if (mine.length === 0 && !PLATE.includes(field)) continue
    const but = here ? [] : mine.filter((v) => !drop.has(v))
    const key = `${here} ${but.join('\n')}`
    const group = groups.get(key)
    if (group) group.fields.push(field)
    else groups.set(key, { fields: [field], here, but })
  }
  return [...groups.values()]
}

/** The variant has all of the deck as all have it. */
export const asInAll = (project: Project, variant: string, deck: string): Project =>
  ownDeckFields(project, variant, deck).reduce(
    (now, field) =>
      withoutDifference(now, variant, {
        kind: 'field',
        list: 'decks',
        entry: deck,
        field,
        is: undefined,
        was: undefined,
      }),
    project,
  )

/** Variants that leave the deck out, by id. */
export const leftOutBy = (project: Project, deck: string): readonly string[] =>
  (project.variants ?? []).filter((v) => v.drop?.includes(deck)).map((v) => v.id)

/** The deck left out in that variant, or back in it. */
export const leaveOut = (project: Project, variant: string, deck: string, out: boolean): Project =>
  setOut(project, variant, 'drop', deck, out, 'here')
