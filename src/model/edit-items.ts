/**
 * Edits of items as pure functions: add, change, rename, copy, remove. A field goes where it is written now: into the variant that has
 * its own value for it, and into the base, so for all variants, otherwise. What a file need not say is left out.
 */
import type { Project, ProjectItem, ProjectPlace, ProjectVariant, ProjectWire, ProjectWireEnd } from './schema.ts'
import { baseOf } from './variants.ts'

export type ItemFields = Partial<Omit<ProjectItem, 'id'>>

/** `wish`, or `wish-2` and so on where that id is taken. */
export function freeId(taken: Iterable<string>, wish: string): string {
  const all = new Set(taken)
  for (let k = 1; ; k++) {
    const id = k === 1 ? wish : `${wish}-${k}`
    if (!all.has(id)) return id
  }
}

/** The ids of an item's bodies: `board`, or `board#1` to `board#3`. */
export const bodiesOf = (id: string, count: number): string[] =>
  count === 1 ? [id] : Array.from({ length: count }, (_, k) => `${id}#${k + 1}`)

/** One more item of that footprint, required, in all variants; and its id. */
export function addPart(project: Project, footprint: string): { readonly project: Project; readonly id: string } {
  const id = freeId(
    project.items.map((i) => i.id),
    footprint,
  )
  return { project: { ...project, items: [...project.items, { id, footprint }] }, id }
}

const TURNS = 4

/** Whether a field says no more than a file without it. */
function isDefault(project: Project, name: string, value: unknown): boolean {
  switch (name) {
    case 'count':
    case 'value':
      return value === 1
    case 'required':
      return value === true
    case 'later':
      return value === false
    case 'stack':
      return value === 0
    case 'turns':
      return Array.isArray(value) && new Set(value).size === TURNS
    case 'decks':
      return Array.isArray(value) && project.decks.every((d) => value.includes(d.id))
    case 'place':
      return Array.isArray(value) && value.length === 0
    case 'overhang':
      return Object.values(value as object).every((v) => v === 0 || v === undefined)
    default:
      return false
  }
}

/** `whole` with the fields, those that are undefined or `idle` left out. */
function withFields<T extends object>(whole: T, fields: object, idle: (name: string, value: unknown) => boolean): T {
  const next = { ...whole } as Record<string, unknown>
  for (const [name, value] of Object.entries(fields))
    if (value === undefined || idle(name, value)) delete next[name]
    else next[name] = value
  return next as T
}

/** Entries of `fields` that the variant has its own value for, and the others. */
function split(patch: object | null | undefined, fields: object): { own: object; base: object } {
  const mine = ([name]: [string, unknown]): boolean => !!patch && Object.hasOwn(patch, name)
  const all = Object.entries(fields)
  return { own: Object.fromEntries(all.filter(mine)), base: Object.fromEntries(all.filter((e) => !mine(e))) }
}

const patchOf = (project: Project, variant: string, list: 'items' | 'wires', id: string): object | null | undefined => {
  const patches: Record<string, object | null> | undefined = project.variants?.find((v) => v.id === variant)?.[list]
  return patches && Object.hasOwn(patches, id) ? patches[id] : undefined
}

/** Fields of an item for which the variant has its own value: an edit of them is an edit of that variant alone. */
export const ownFields = (project: Project, variant: string, list: 'items' | 'wires', id: string): readonly string[] =>
  Object.keys(patchOf(project, variant, list, id) ?? {})

function withEntry(project: Project, variant: string, list: 'items' | 'wires', id: string, fields: object): Project {
  const { own, base } = split(patchOf(project, variant, list, id), fields)
  const idle = (name: string, value: unknown): boolean => list === 'items' && isDefault(project, name, value)
  let next = project
  if (Object.keys(base).length > 0)
    next = { ...next, [list]: (next[list] ?? []).map((e) => (e.id === id ? withFields(e, base, idle) : e)) }
  if (Object.keys(own).length > 0)
    next = withVariants(next, (v) =>
      v.id !== variant
        ? v
        : {
            ...v,
            // In a variant a default is said, for the base may say something else.
            [list]: { ...v[list], [id]: withFields(v[list]?.[id] ?? {}, own, () => false) },
          },
    )
  return next
}

const withVariants = (project: Project, edit: (v: ProjectVariant) => ProjectVariant): Project =>
  project.variants === undefined ? project : { ...project, variants: project.variants.map(edit) }

/** The item with these fields, as the variant asks it. */
export const setItem = (project: Project, variant: string, id: string, fields: ItemFields): Project =>
  withEntry(project, variant, 'items', id, fields)

/** A copy beside it, in all variants as the item is; a fixed place stays the first one's. Wires are not copied. */
export function duplicateItem(project: Project, id: string): { readonly project: Project; readonly id: string } {
  const index = project.items.findIndex((i) => i.id === id)
  const item = project.items[index]
  if (!item) return { project, id }
  const ids = project.items.map((i) => i.id)
  // A copy of `eye-2` is `eye-3`, but one of `breadboard-400` is `breadboard-400-2`.
  const stem = id.replace(/-\d+$/, '')
  const copy = freeId(ids, ids.includes(stem) ? stem : id)
  const loose = <T extends { place?: ProjectPlace[] | undefined }>(fields: T): T =>
    fields.place === undefined ? fields : { ...fields, place: fields.place.filter((p) => p.kind !== 'at') }
  const items = [...project.items.slice(0, index + 1), { ...loose(item), id: copy }, ...project.items.slice(index + 1)]
  const next = withVariants({ ...project, items }, (v) => {
    const patch = v.items && Object.hasOwn(v.items, id) ? v.items[id] : undefined
    return {
      ...v,
      ...(patch === undefined ? {} : { items: { ...v.items, [copy]: loose(patch) } }),
      ...(v.omit?.includes(id) ? { omit: [...v.omit, copy] } : {}),
    }
  })
  return { project: next, id: copy }
}

/** Something that goes, or loses a field, with an item that is removed. */
export type Gone =
  | { readonly kind: 'place'; readonly item: string; readonly place: ProjectPlace; readonly variant?: string }
  | { readonly kind: 'wire'; readonly wire: string }
  | { readonly kind: 'supply'; readonly wire: string }
  | { readonly kind: 'net'; readonly net: string }
  | { readonly kind: 'net-end'; readonly net: string }
  | { readonly kind: 'switch'; readonly net: string }

/** The project without the item and without whatever names it, and what that is. */
export function removeItem(
  project: Project,
  id: string,
): { readonly project: Project; readonly gone: readonly Gone[] } {
  const gone: Gone[] = []
  const names = (ref: unknown): boolean => typeof ref === 'string' && baseOf(ref) === id
  const without = <T extends { place?: ProjectPlace[] | undefined }>(fields: T, item: string, variant?: string): T => {
    const lost = (fields.place ?? []).filter((p) => 'item' in p && names(p.item))
    if (lost.length === 0) return fields
    for (const place of lost) gone.push({ kind: 'place', item, place, ...(variant === undefined ? {} : { variant }) })
    return { ...fields, place: (fields.place ?? []).filter((p) => !lost.includes(p)) }
  }
  const items = project.items
    .filter((i) => i.id !== id)
    .map((i) => {
      const next = without(i, i.id)
      return next.place?.length === 0 && next !== i ? withFields(next, { place: undefined }, () => false) : next
    })
  const at = (end: ProjectWireEnd | undefined): boolean => end !== undefined && 'item' in end && names(end.item)
  const dead = new Set((project.wires ?? []).filter((w) => at(w.from) || at(w.to)).map((w) => w.id))
  for (const wire of dead) gone.push({ kind: 'wire', wire })
  const unsupplied = <T extends { supply?: string | number | undefined }>(wire: T, wireId: string): T => {
    if (!names(wire.supply)) return wire
    gone.push({ kind: 'supply', wire: wireId })
    return withFields(wire, { supply: undefined }, () => false)
  }
  const wires = project.wires?.filter((w) => !dead.has(w.id)).map((w) => unsupplied(w, w.id))
  const nets = project.nets?.flatMap((net) => {
    const ends = net.ends.filter((e) => !names(e.item))
    if (ends.length < 2) {
      gone.push({ kind: 'net', net: net.id })
      return []
    }
    if (ends.length < net.ends.length) gone.push({ kind: 'net-end', net: net.id })
    if (!names(net.switch)) return [{ ...net, ends }]
    gone.push({ kind: 'switch', net: net.id })
    const { switch: _, ...rest } = net
    return [{ ...rest, ends }]
  })
  const next = withVariants(
    { ...project, items, ...(wires ? { wires } : {}), ...(nets ? { nets } : {}) },
    (v): ProjectVariant => ({
      ...v,
      ...(v.omit ? { omit: v.omit.filter((o) => o !== id) } : {}),
      ...(v.items
        ? {
            items: byId(
              Object.entries(v.items)
                .filter(([k]) => k !== id)
                .map(([k, patch]) => [k, without(patch, k, v.id)]),
            ),
          }
        : {}),
      ...(v.wires
        ? {
            wires: byId(
              Object.entries(v.wires).flatMap(([k, patch]): [string, typeof patch][] => {
                if (dead.has(k)) return []
                if (patch === null) return [[k, null]]
                // Where only here it ended at the item, it ends where the base says.
                const there = withFields(
                  patch,
                  { from: at(patch.from) ? undefined : patch.from, to: at(patch.to) ? undefined : patch.to },
                  () => false,
                )
                if (there.from !== patch.from || there.to !== patch.to) gone.push({ kind: 'wire', wire: k })
                return [[k, unsupplied(there, k)]]
              }),
            ),
          }
        : {}),
    }),
  )
  return { project: next, gone }
}

/** Not by assignment: an id may be any word. */
const byId = <T>(entries: readonly (readonly [string, T])[]): Record<string, T> => Object.fromEntries(entries)

/** The item under another id, and everything that names it along. */
export function renameItem(project: Project, from: string, to: string): Project {
  if (from === to) return project
  const name = <T>(ref: T): T =>
    typeof ref === 'string' && baseOf(ref) === from ? ((to + ref.slice(from.length)) as T & string) : ref
  const place = <T extends { place?: ProjectPlace[] | undefined }>(fields: T): T =>
    fields.place === undefined
      ? fields
      : { ...fields, place: fields.place.map((p) => ('item' in p ? { ...p, item: name(p.item) } : p)) }
  const end = <T extends object | undefined>(e: T): T =>
    e !== undefined && 'item' in e ? { ...e, item: name(e.item) } : e
  const wire = <T extends { [K in keyof ProjectWire]?: ProjectWire[K] | undefined }>(w: T): T => ({
    ...w,
    ...(w.from === undefined ? {} : { from: end(w.from) }),
    ...(w.to === undefined ? {} : { to: end(w.to) }),
    ...(w.supply === undefined ? {} : { supply: name(w.supply) }),
  })
  return withVariants(
    {
      ...project,
      items: project.items.map((i) => ({ ...place(i), id: i.id === from ? to : i.id })),
      ...(project.wires ? { wires: project.wires.map(wire) } : {}),
      ...(project.nets
        ? {
            nets: project.nets.map((n) => ({
              ...n,
              ends: n.ends.map(end),
              ...(n.switch === undefined ? {} : { switch: name(n.switch) }),
            })),
          }
        : {}),
    },
    (v) => ({
      ...v,
      ...(v.omit ? { omit: v.omit.map(name) } : {}),
      ...(v.items ? { items: byId(Object.entries(v.items).map(([k, patch]) => [name(k), place(patch)])) } : {}),
      ...(v.wires ? { wires: byId(Object.entries(v.wires).map(([k, patch]) => [k, patch && wire(patch)])) } : {}),
    }),
  )
}

export type WireFields = Partial<Omit<ProjectWire, 'id'>>

/** One more wire between two ends, in all variants; and its id. */
export function addWire(
  project: Project,
  from: ProjectWireEnd,
  to: ProjectWireEnd,
): { readonly project: Project; readonly id: string } {
  const wires = project.wires ?? []
  // Called as the list and the plan count it, where that is free.
  const taken = new Set(wires.map((w) => w.id))
  let n = wires.length + 1
  while (taken.has(`wire-${n}`)) n++
  const id = `wire-${n}`
  return { project: { ...project, wires: [...wires, { id, from, to }] }, id }
}

/** The wire with these fields, as the variant asks it; undefined takes a field away. */
export const setWire = (project: Project, variant: string, id: string, fields: WireFields): Project =>
  withEntry(project, variant, 'wires', id, fields)

export const renameWire = (project: Project, from: string, to: string): Project =>
  withVariants({ ...project, wires: (project.wires ?? []).map((w) => (w.id === from ? { ...w, id: to } : w)) }, (v) =>
    v.wires && Object.hasOwn(v.wires, from)
      ? { ...v, wires: byId(Object.entries(v.wires).map(([k, w]) => [k === from ? to : k, w])) }
      : v,
  )

/** The project without the wire, in all variants. */
export const removeWire = (project: Project, id: string): Project =>
  withVariants({ ...project, wires: (project.wires ?? []).filter((w) => w.id !== id) }, (v) =>
    v.wires ? { ...v, wires: byId(Object.entries(v.wires).filter(([k]) => k !== id)) } : v,
  )
