/** What can be made to differ in one variant, or changed for all: each a choice or a number, as an edit of the project. */
import { type Scope, sayHere, setFields, setOut, setSetting, setWireOut } from '../model/edit-variants.ts'
import { applyVariant, DEFAULTS, type Project } from '../model/index.ts'
import type { words } from '../words/index.ts'

export type Deed = keyof typeof words.variants.differs.deeds

/** A thing of the project, as `kind:id`; the settings have no id. */
export type Kind = 'item' | 'zone' | 'wire' | 'deck' | 'project'

export interface Thing {
  readonly kind: Kind
  readonly id: string
}

/** What a deed asks for: nothing, a length in mm, a number, or turns. */
export type Asks =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'length'; readonly now: number | undefined; readonly least?: number }
  | {
      readonly kind: 'number'
      readonly now: number
      readonly least: number
      readonly most: number
      readonly whole: boolean
    }
  | { readonly kind: 'turns'; readonly now: readonly (0 | 1 | 2 | 3)[] }

export type Value = number | readonly (0 | 1 | 2 | 3)[] | undefined

export function thingsOf(project: Project): Thing[] {
  const of = (kind: Kind, list: readonly { id: string }[] | undefined): Thing[] =>
    (list ?? []).map(({ id }) => ({ kind, id }))
  return [
    ...of('item', project.items),
    ...of('zone', project.zones),
    ...of('wire', project.wires),
    ...of('deck', project.decks),
    { kind: 'project', id: '' },
  ]
}

/** Fields that are edited with the item itself, once the variant says them for itself; and what a file that is silent says. */
const OWN = [
  { deed: 'own-place', field: 'place', usual: [] },
  { deed: 'own-decks', field: 'decks', usual: [] },
  { deed: 'own-overhang', field: 'overhang', usual: {} },
] as const satisfies readonly { readonly deed: Deed; readonly field: string; readonly usual: unknown }[]

/** Whether a deed is one of this variant alone, whatever is said of the others. */
export const isOwn = (deed: Deed): boolean => OWN.some((o) => o.deed === deed)

/** What can be done to a thing as the variant has it now. */
export function deedsOf(project: Project, variant: string, { kind, id }: Thing): Deed[] {
  const now = applyVariant(project, variant)
  switch (kind) {
    case 'item': {
      const item = now.items.find((i) => i.id === id)
      if (!item) return ['unomit']
      const mine = project.variants?.find((v) => v.id === variant)?.items?.[id] ?? {}
      return [
        'omit',
        item.required === false ? 'required' : 'optional',
        item.later ? 'now' : 'later',
        'count',
        'value',
        'stack',
        'turns',
        ...OWN.filter(({ field }) => !Object.hasOwn(mine, field)).map(({ deed }) => deed),
      ]
    }
    case 'zone':
      return now.zones?.some((z) => z.id === id) ? ['release'] : ['keep']
    case 'wire':
      return now.wires?.some((w) => w.id === id) ? ['wire-out', 'maxLength', 'loop', 'conductors'] : ['wire-in']
    case 'deck':
      return now.decks.some((d) => d.id === id)
        ? ['z', 'thickness', ...(now.decks.length > 1 ? ['drop' as const] : [])]
        : ['undrop']
    case 'project':
      return ['edgeClearance', 'itemClearance', 'minWeb', 'grid']
  }
}

/** 0.001 mm is the least that a file knows. */
const LEAST = 0.001

export function asksOf(project: Project, variant: string, { id }: Thing, deed: Deed): Asks {
  const now = applyVariant(project, variant)
  const item = now.items.find((i) => i.id === id)
  const wire = now.wires?.find((w) => w.id === id)
  const deck = now.decks.find((d) => d.id === id)
  switch (deed) {
    case 'count':
      return { kind: 'number', now: item?.count ?? 1, least: 1, most: 200, whole: true }
    case 'value':
      return { kind: 'number', now: item?.value ?? 1, least: 0, most: 1_000_000, whole: false }
    case 'conductors':
      return { kind: 'number', now: wire?.conductors ?? 1, least: 1, most: 1000, whole: true }
    case 'stack':
      return { kind: 'length', now: item?.stack ?? 0 }
    case 'turns':
      return { kind: 'turns', now: item?.turns ?? [0, 1, 2, 3] }
    case 'maxLength':
      return { kind: 'length', now: wire?.maxLength }
    case 'loop':
      return { kind: 'length', now: wire?.loop ?? 0 }
    case 'z':
      return { kind: 'length', now: deck?.z }
    case 'thickness':
      return { kind: 'length', now: deck?.thickness, least: LEAST }
    case 'grid':
      return { kind: 'length', now: now.settings?.grid ?? DEFAULTS.grid, least: LEAST }
    case 'edgeClearance':
    case 'itemClearance':
    case 'minWeb':
      return { kind: 'length', now: now.settings?.[deed] ?? DEFAULTS[deed] }
    default:
      return { kind: 'nothing' }
  }
}

/** The project with it done; `value` is what the deed asks for. */
export function done(project: Project, variant: string, thing: Thing, deed: Deed, value: Value, scope: Scope): Project {
  const { id } = thing
  const field = (list: 'items' | 'wires' | 'decks', fields: Readonly<Record<string, unknown>>): Project =>
    setFields(project, variant, list, id, fields, scope)
  switch (deed) {
    case 'omit':
    case 'unomit':
      return setOut(project, variant, 'omit', id, deed === 'omit', scope)
    case 'release':
    case 'keep':
      return setOut(project, variant, 'release', id, deed === 'release', scope)
    case 'drop':
    case 'undrop':
      return setOut(project, variant, 'drop', id, deed === 'drop', scope)
    case 'wire-out':
    case 'wire-in':
      return setWireOut(project, variant, id, deed === 'wire-out', scope)
    case 'optional':
    case 'required':
      return field('items', { required: deed === 'required' })
    case 'later':
    case 'now':
      return field('items', { later: deed === 'later' })
    case 'count':
    case 'value':
    case 'stack':
    case 'turns':
      return field('items', { [deed]: value })
    case 'own-place':
    case 'own-decks':
    case 'own-overhang': {
      const { field: name, usual } = OWN.find((o) => o.deed === deed)!
      return sayHere(project, variant, 'items', id, name, usual)
    }
    case 'maxLength':
    case 'loop':
    case 'conductors':
      return field('wires', { [deed]: value })
    case 'z':
    case 'thickness':
      return field('decks', { [deed]: value })
    case 'grid':
    case 'edgeClearance':
    case 'itemClearance':
    case 'minWeb':
      return setSetting(project, variant, deed, value, scope)
  }
}
