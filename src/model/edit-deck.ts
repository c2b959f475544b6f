/**
 * Edits of plates and of what stands on them for good, as pure functions of the project: decks, their openings and holes, exits, passes,
 * zones and the chassis. All lengths mm, in the decks' common frame. Whoever takes the result validates it; nothing here throws.
 */
import type { ShapeFile } from '../../footprints/fields.ts'
import { mm, toMm } from '../../solver/units.ts'
import type { Project, ProjectDeck, ProjectExit, ProjectPass, ProjectVariant, ProjectZone } from './schema.ts'
import { baseOf } from './variants.ts'
import { fresh } from './words.ts'

export type DeckOpening = NonNullable<ProjectDeck['openings']>[number]
export type DeckHole = NonNullable<ProjectDeck['holes']>[number]
export type ProjectChassis = NonNullable<Project['chassis']>

/** What of a deck is listed in it, and what is listed beside the decks. */
export type Part = 'openings' | 'holes' | 'exits' | 'passes' | 'zones'
interface Parts {
  readonly openings: DeckOpening
  readonly holes: DeckHole
  readonly exits: ProjectExit
  readonly passes: ProjectPass
  readonly zones: ProjectZone
}

/** What an edit made, and the id that it got. */
export interface Made {
  readonly project: Project
  readonly id: string
}

type Listed = { readonly id: string }
type InDeck = 'openings' | 'holes'
const isInDeck = (part: Part): part is InDeck => part === 'openings' || part === 'holes'
const inDeck = (deck: ProjectDeck | undefined, part: InDeck): readonly Listed[] => deck?.[part] ?? []

/** `wish`, or `wish-2` and so on where it is taken. */
export function freeName(taken: Iterable<string>, wish: string): string {
  const all = new Set(taken)
  for (let k = 1; ; k++) {
    const name = k === 1 ? wish : `${wish}-${k}`
    if (!all.has(name)) return name
  }
}

/** `stem-1`, or the next that is free. */
function nextName(taken: Iterable<string>, stem: string): string {
  const all = new Set(taken)
  for (let k = 1; ; k++) if (!all.has(`${stem}-${k}`)) return `${stem}-${k}`
}

const round = (value: number): number => toMm(mm(value))
const ids = (list: readonly Listed[] | undefined): string[] => (list ?? []).map((e) => e.id)

/** Fields set to undefined are taken away, so that they do not stand in the file. */
function patched<T extends object>(whole: T, fields: { readonly [K in keyof T]?: T[K] | undefined }): T {
  const all = { ...whole, ...fields } as Record<string, unknown>
  for (const key of Object.keys(all)) if (all[key] === undefined) delete all[key]
  return all as T
}

/** The project with some fields of one deck replaced; undefined takes a field away. */
export const setDeck = (
  project: Project,
  deck: string,
  fields: { readonly [K in keyof Omit<ProjectDeck, 'id'>]?: ProjectDeck[K] | undefined },
): Project => ({
  ...project,
  decks: project.decks.map((d) => (d.id === deck ? patched(d, fields as Partial<ProjectDeck>) : d)),
})

/** An upright rectangle of another size at the same corner; its corners stay as round as there is room. */
export function resized(
  shape: ShapeFile,
  { width, depth, radius }: { readonly width?: number; readonly depth?: number; readonly radius?: number },
): ShapeFile {
  if (!('rect' in shape)) return shape
  const [x, y, w, h] = shape.rect
  const [nw, nh] = [round(width ?? w), round(depth ?? h)]
  const most = Math.floor(mm(Math.min(nw, nh)) / 2) / 1000
  const r = Math.min(round(radius ?? shape.radius ?? 0), most)
  return { rect: [x, y, nw, nh], ...(r > 0 ? { radius: r } : {}) }
}

/** How far over the highest deck a new one lies: room for a board with its plugs (common practice, no source). */
const STOREY = 50

/** A plain deck like the one given, over all others. */
export function addDeck(project: Project, like: string): Made {
  const old = project.decks.find((d) => d.id === like) ?? project.decks[0]!
  const { openings: _, holes: __, ...plate } = old
  const taken = new Set([...ids(project.decks), ...project.decks.map((d) => d.name)])
  let count = project.decks.length + 1
  while (taken.has(fresh.anotherDeck(count)) || taken.has(`deck-${count}`)) count++
  return withDeck(project, plate, `deck-${count}`, fresh.anotherDeck(count))
}

/** A second deck with the same outline, openings and holes, over all others. */
export function copyDeck(project: Project, deck: string): Made {
  const old = project.decks.find((d) => d.id === deck) ?? project.decks[0]!
  return withDeck(project, old, old.id, fresh.copy(old.name ?? old.id))
}

function withDeck(project: Project, plate: ProjectDeck, stem: string, name: string): Made {
  const id = freeName(ids(project.decks), stem)
  const z = round(Math.max(...project.decks.map((d) => d.z)) + STOREY)
  const deck: ProjectDeck = { ...plate, id, name, z }
  return { project: { ...project, decks: [...project.decks, deck] }, id }
}

/** What goes with a deck that is removed, by id. */
export interface GoesWith {
  readonly zones: readonly string[]
  readonly exits: readonly string[]
  readonly passes: readonly string[]
  readonly wires: readonly string[]
}

export function goesWith(project: Project, deck: string): GoesWith {
  const exits = ids((project.exits ?? []).filter((e) => e.deck === deck))
  return {
    zones: ids((project.zones ?? []).filter((z) => z.deck === deck)),
    exits,
    passes: ids((project.passes ?? []).filter((p) => p.decks.includes(deck))),
    wires: wiresOf(project, exits),
  }
}

const ends = (end: object | undefined, exits: readonly string[]): boolean =>
  end !== undefined && 'exit' in end && exits.includes(end.exit as string)
const wiresOf = (project: Project, exits: readonly string[]): string[] =>
  ids((project.wires ?? []).filter((w) => ends(w.from, exits) || ends(w.to, exits)))

/** The project without a deck and all that goes with it; items that had to stand there may stand anywhere. The last deck stays. */
export function removeDeck(project: Project, deck: string): Project {
  if (project.decks.length < 2) return project
  const gone = goesWith(project, deck)
  const left = ids(project.decks).filter((d) => d !== deck)
  let now = project
  for (const exit of gone.exits) now = removePart(now, 'exits', exit)
  for (const pass of gone.passes) now = removePart(now, 'passes', pass)
  for (const zone of gone.zones) now = removePart(now, 'zones', zone)
  const freed = <T extends { decks?: string[] | undefined; place?: Place[] | undefined }>(item: T): T => {
    const decks = item.decks?.filter((d) => d !== deck)
    return patched(item, {
      ...(item.decks ? { decks: decks?.length === 0 ? undefined : decks } : {}),
      ...(item.place ? { place: item.place.filter((p) => !(p.kind === 'at' && p.deck === deck)) } : {}),
    } as Partial<T>)
  }
  return inVariants({ ...now, decks: now.decks.filter((d) => d.id !== deck), items: now.items.map(freed) }, (v) => ({
    ...(v.items ? { items: mapRecord(v.items, freed) } : {}),
    ...(v.decks ? { decks: withoutKey(v.decks, deck) } : {}),
    // A variant that left out all others has them again: one deck there must be.
    ...(v.drop ? { drop: left.every((d) => v.drop?.includes(d)) ? [] : v.drop.filter((d) => d !== deck) } : {}),
  }))
}

type Place = NonNullable<Project['items'][number]['place']>[number]
type VariantWire = NonNullable<ProjectVariant['wires']>[string]

const inVariants = (project: Project, edit: (v: ProjectVariant) => Partial<ProjectVariant>): Project =>
  project.variants ? { ...project, variants: project.variants.map((v) => ({ ...v, ...edit(v) })) } : project
const mapRecord = <T>(record: Record<string, T>, map: (value: T) => T): Record<string, T> =>
  Object.fromEntries(Object.entries(record).map(([key, value]) => [key, map(value)]))
const withoutKey = <T>(record: Record<string, T>, key: string): Record<string, T> =>
  Object.fromEntries(Object.entries(record).filter(([k]) => k !== key))

/** All of that kind that belong to a deck. */
export function partsOf<P extends Part>(project: Project, part: P, deck: string): readonly Parts[P][] {
  const found = ((): readonly Listed[] => {
    if (isInDeck(part))
      return inDeck(
        project.decks.find((d) => d.id === deck),
        part,
      )
    if (part === 'passes') return (project.passes ?? []).filter((p) => p.decks.includes(deck))
    return part === 'exits'
      ? (project.exits ?? []).filter((e) => e.deck === deck)
      : (project.zones ?? []).filter((z) => z.deck === deck)
  })()
  return found as unknown as readonly Parts[P][]
}

const STEM: Readonly<Record<Part, string>> = {
  openings: 'opening',
  holes: 'hole',
  exits: 'lead',
  passes: 'pass',
  zones: 'zone',
}

/** One more of that kind, under the first id that is free; `stem` names it otherwise than by its kind. */
export function addPart<P extends Part>(
  project: Project,
  deck: string,
  part: P,
  fields: Omit<Parts[P], 'id'>,
  stem: string = STEM[part],
): Made {
  if (isInDeck(part)) {
    const old = project.decks.find((d) => d.id === deck)
    const id = nextName([...ids(old?.openings), ...ids(old?.holes)], stem)
    return { project: setDeck(project, deck, { [part]: [...inDeck(old, part), { id, ...fields }] }), id }
  }
  const list: readonly Listed[] = project[part as Exclude<Part, InDeck>] ?? []
  const id = nextName(ids(list), stem)
  return { project: { ...project, [part]: [...list, { id, ...fields }] }, id }
}

/** Some fields of one of that kind replaced; undefined takes a field away. */
export function setPart<P extends Part>(
  project: Project,
  deck: string,
  part: P,
  id: string,
  fields: { readonly [K in keyof Parts[P]]?: Parts[P][K] | undefined },
): Project {
  const edit = (list: readonly Listed[]): Listed[] =>
    list.map((e) => (e.id === id ? patched(e, fields as Partial<Listed>) : e))
  if (isInDeck(part)) {
    const old = project.decks.find((d) => d.id === deck)
    return setDeck(project, deck, { [part]: edit(inDeck(old, part)) })
  }
  return { ...project, [part]: edit(project[part as Exclude<Part, InDeck>] ?? []) }
}

/** One of that kind less; with an exit go its wires and its ends of nets, with a zone its release in variants. */
export function removePart(project: Project, part: Part, id: string, deck?: string): Project {
  const without = <T extends Listed>(list: readonly T[] | undefined): T[] => (list ?? []).filter((e) => e.id !== id)
  switch (part) {
    case 'openings':
    case 'holes': {
      const old = project.decks.find((d) => d.id === deck)
      const left = part === 'holes' ? without(old?.holes) : without(old?.openings)
      return setDeck(project, deck ?? '', { [part]: left.length > 0 ? left : undefined })
    }
    case 'passes':
      return { ...project, passes: without(project.passes) }
    case 'zones':
      return inVariants({ ...project, zones: without(project.zones) }, (v) =>
        v.release ? { release: v.release.filter((z) => z !== id) } : {},
      )
    case 'exits': {
      const gone = wiresOf(project, [id])
      const now: Project = {
        ...project,
        exits: without(project.exits),
        ...(project.wires ? { wires: project.wires.filter((w) => !gone.includes(w.id)) } : {}),
        // A net needs two ends.
        ...(project.nets
          ? {
              nets: project.nets
                .map((n) => ({ ...n, ends: n.ends.filter((e) => e.exit !== id) }))
                .filter((n) => n.ends.length >= 2),
            }
          : {}),
      }
      // Where a wire ended here in one variant alone, it ends there as in all.
      const there = (wire: VariantWire): VariantWire =>
        wire &&
        patched(wire, {
          ...(ends(wire.from, [id]) ? { from: undefined } : {}),
          ...(ends(wire.to, [id]) ? { to: undefined } : {}),
        })
      return inVariants(now, (v) =>
        v.wires
          ? { wires: mapRecord(Object.fromEntries(Object.entries(v.wires).filter(([w]) => !gone.includes(w))), there) }
          : {},
      )
    }
  }
}

/** Another id for one of that kind, in every place that names it. An id that is taken stays for the validation to refuse. */
export function renamePart(project: Project, deck: string, part: Part, from: string, to: string): Project {
  const now = setPart(project, deck, part, from, { id: to })
  if (part === 'zones')
    return inVariants(now, (v) => (v.release ? { release: v.release.map((z) => (z === from ? to : z)) } : {}))
  if (part !== 'exits') return now
  const end = <T extends object>(e: T): T => (ends(e, [from]) ? { ...e, exit: to } : e)
  const wire = <T extends { from?: object | undefined; to?: object | undefined }>(w: T): T => ({
    ...w,
    ...(w.from ? { from: end(w.from) } : {}),
    ...(w.to ? { to: end(w.to) } : {}),
  })
  return inVariants(
    {
      ...now,
      ...(now.wires ? { wires: now.wires.map(wire) } : {}),
      ...(now.nets ? { nets: now.nets.map((n) => ({ ...n, ends: n.ends.map(end) })) } : {}),
    },
    (v) => (v.wires ? { wires: mapRecord(v.wires, (w) => (w === null ? w : wire(w))) } : {}),
  )
}

/** Whether something of that kind has the name already: holes and openings within their deck, all else in the whole project. */
const isTaken = (project: Project, deck: string, part: Part, id: string): boolean =>
  ids(
    isInDeck(part)
      ? inDeck(
          project.decks.find((d) => d.id === deck),
          part,
        )
      : project[part],
  ).includes(id)

/** Why something of that kind cannot be called so (an id is not empty and has no `#`); undefined: it can. */
export function nameFault(
  project: Project,
  deck: string,
  part: Part,
  from: string,
  to: string,
): 'empty' | 'sign' | 'taken' | undefined {
  if (to === '') return 'empty'
  if (to.includes('#')) return 'sign'
  return to !== from && isTaken(project, deck, part, to) ? 'taken' : undefined
}

/** How many wires name an exit: they go with it. */
export const wiresAt = (project: Project, exit: string): readonly string[] => wiresOf(project, [exit])

/**
 * A pillar from deck to deck: a hole of the same name, place and diameter in both, and round it as much as the pillar is wide that
 * parts and leads keep out of; on the upper deck its screw has its head there. `width` 0: nothing is kept.
 */
export function addPillar(
  project: Project,
  decks: readonly [string, string],
  at: Point,
  diameter: number,
  width: number,
): Made {
  const both = project.decks.filter((d) => decks.includes(d.id))
  const id = nextName(
    both.flatMap((d) => [...ids(d.openings), ...ids(d.holes)]),
    'pillar',
  )
  const hole: DeckHole = { id, at: [at[0], at[1]], diameter }
  let now = project
  for (const deck of both) {
    now = setDeck(now, deck.id, { holes: [...(deck.holes ?? []), hole] })
    if (width > 0) {
      const shape: ShapeFile = { circle: [at[0], at[1], round(width / 2)] }
      const zone: ProjectZone = {
        id: freeName(ids(now.zones), `${id}-${deck.id}`),
        kind: 'keep-out',
        deck: deck.id,
        shape,
        why: fresh.pillar,
      }
      now = { ...now, zones: [...(now.zones ?? []), zone] }
    }
  }
  return { project: now, id }
}

type Point = readonly [number, number]

/** The bare chassis; undefined takes it away, and with it what is asked of the balance. */
export const setChassis = (project: Project, chassis: ProjectChassis | undefined): Project =>
  patched(project, { chassis } as Partial<Project>)

/** The deck nearest to the ground: what stands on that stands under it. */
export const lowestDeck = (project: Project): ProjectDeck =>
  project.decks.reduce((low, deck) => (deck.z < low.z ? deck : low))

/** A start for the typed numbers: contact along both sides of a box `[x, y, w, h]`, the mass in its middle at half the deck's height. */
export function chassisFrom(box: readonly [number, number, number, number], z: number): ProjectChassis {
  const [x, y, w, h] = box
  const contact: [number, number][] = [
    [x, y],
    [x + w, y],
    [x + w, y + h],
    [x, y + h],
  ]
  return {
    contact: contact.map(([a, b]): [number, number] => [round(a), round(b)]),
    mass: 0,
    centre: [round(x + w / 2), round(y + h / 2), round(z / 2)],
  }
}

/** Items that name a deck in what they ask for, by id. */
export const itemsOn = (project: Project, deck: string): readonly string[] =>
  project.items
    .filter((i) => i.decks?.includes(deck) || i.place?.some((p) => p.kind === 'at' && p.deck === deck))
    .map((i) => baseOf(i.id))
