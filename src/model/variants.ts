/**
 * Variants (contract §3): one project, asked in several ways. Pure: a variant applied gives a project of its own.
 */
import type { Project, ProjectNet, ProjectVariant } from './schema.ts'

/** The variants in the file's order; a project without any has one, `base`. */
export function variantsOf(project: Project): { id: string; name: string }[] {
  const variants = project.variants ?? []
  return variants.length === 0
    ? [{ id: 'base', name: project.name }]
    : variants.map(({ id, name }) => ({ id, name: name ?? id }))
}

/** `board#3` → `board`. */
export const baseOf = (ref: string): string => ref.split('#', 1)[0]!

/**
 * The project as the variant asks it, without `variants`. Fields that the variant names replace, lists as wholes.
 *
 * What goes with something that goes:
 * - an item omitted: its wires, and its ends of nets. A `place` entry of another item that names it stays, and is not true (R10).
 * - a deck dropped: its zones, its exits, its passes, and wires to such exits (the reader warns of each; `null` in the variant's
 *   `wires` says that it is meant). Items lose it from their `decks`; the reader refuses a variant that leaves an item of a
 *   list no deck at all, or that keeps an `at` on it.
 *
 * Throws a RangeError where there is no such variant.
 */
export function applyVariant(project: Project, id: string): Project {
  const variant = (project.variants ?? []).find((v) => v?.id === id)
  if (variant !== undefined) return applied(project, variant)
  if (id === 'base' && (project.variants ?? []).length === 0) return withoutVariants(project)
  throw new RangeError(`There is no variant ${JSON.stringify(id)}.`)
}

function withoutVariants(project: Project): Project {
  const { variants: _, ...rest } = project
  return rest
}

/** Tolerates holes and missing lists: the reader applies variants of files that it will refuse. */
export function applied(project: Project, variant: ProjectVariant): Project {
  const omit = new Set(variant.omit)
  const drop = new Set(variant.drop)
  const release = new Set(variant.release)
  const patches = entries(variant.items)
  const deckPatches = entries(variant.decks)
  const wirePatches = entries(variant.wires)
  const exits = some(project.exits)
  const gone = new Set(exits.filter((e) => drop.has(e.deck)).map((e) => e.id))
  const lost = (end: { exit: string } | { item: string } | undefined) =>
    end !== undefined &&
    ('exit' in end ? gone.has(end.exit) : typeof end.item === 'string' && omit.has(baseOf(end.item)))
  return {
    ...withoutVariants(project),
    settings: patched(project.settings ?? {}, variant.settings),
    decks: some(project.decks)
      .filter((d) => !drop.has(d.id))
      .map((d) => patched(d, deckPatches.get(d.id))),
    exits: exits.filter((e) => !drop.has(e.deck)),
    passes: some(project.passes).filter((p) => !p.decks?.some((d) => drop.has(d))),
    items: some(project.items)
      .filter((i) => !omit.has(i.id))
      .map((i) => {
        const item = patched(i, patches.get(i.id))
        return item.decks === undefined ? item : { ...item, decks: item.decks.filter((d) => !drop.has(d)) }
      }),
    zones: some(project.zones).filter((z) => !release.has(z.id) && !drop.has(z.deck)),
    wires: some(project.wires)
      .filter((w) => wirePatches.get(w.id) !== null)
      .map((w) => patched(w, wirePatches.get(w.id) ?? undefined))
      .filter((w) => !lost(w.from) && !lost(w.to)),
    ...(project.nets === undefined ? {} : { nets: some(project.nets).map((n) => netLeft(n, gone, omit)) }),
  }
}

/** A net without the ends and the switch that are gone. */
function netLeft(net: ProjectNet, exits: ReadonlySet<string>, omit: ReadonlySet<string>): ProjectNet {
  const out = (item: unknown): boolean => typeof item === 'string' && omit.has(baseOf(item))
  const { switch: by, ...rest } = net
  return {
    ...rest,
    ...(by === undefined || out(by) ? {} : { switch: by }),
    ends: some(net.ends).filter((e) => !(typeof e.exit === 'string' && exits.has(e.exit)) && !out(e.item)),
  }
}

const entries = <T>(record: Record<string, T> | undefined): Map<string, T> => new Map(Object.entries(record ?? {}))
/** What of a list can be read at all: a file may hold anything, and is read to the end to name all that is wrong. */
export const some = <T>(list: readonly T[] | undefined): T[] =>
  (list ?? []).filter((e) => typeof e === 'object' && e !== null)

/** Fields that the patch has replace; one that is undefined is one it does not have. An id names the entry and stays. */
function patched<T extends object>(whole: T, patch: { readonly [K in keyof T]?: T[K] | undefined } | undefined): T {
  const given = Object.entries(patch ?? {}).filter(([key, value]) => value !== undefined && key !== 'id')
  return { ...whole, ...(Object.fromEntries(given) as Partial<T>) }
}
