/**
 * One document as it is asked, the base or a variant applied: does every name in it mean something there? Paths lead to where
 * the name is written: in the variant where that replaces the field, in the base otherwise.
 */
import { type Issue, MOST_LISTED, oneOf, type Path, snippet } from '../../footprints/problems.ts'
import type { FootprintFile } from '../../footprints/schema.ts'
import { isNoSize } from './awg.ts'
import type { Project, ProjectItem, ProjectVariant, ProjectWire, ProjectWireEnd } from './schema.ts'
import { baseOf, some } from './variants.ts'
import { got, wanted } from './words.ts'

export const MOST_BODIES = 500

/** The lists whose entries have ids that something may name, or that name something. */
export const NAMED = ['decks', 'exits', 'passes', 'items', 'zones', 'wires', 'nets'] as const
export type Named = (typeof NAMED)[number]

/** The document as written, and where each id stands in it. */
export interface Sheet {
  readonly project: Project
  readonly footprints: ReadonlyMap<string, FootprintFile>
  readonly index: Readonly<Record<Named, ReadonlyMap<string, number>>>
}

export interface Owned extends Issue {
  /** The entry that holds it, like `items/brain`. */
  readonly owner: string
}

/** Entries whose own id is wrong go by one that no file can name (references.ts). */
export const nameable = (ids: Iterable<string>): string[] => [...ids].filter((id) => !id.startsWith('#'))

/** A field by a name from the file, which may be any word. */
export const own = <T>(record: Record<string, T> | undefined, name: string): T | undefined =>
  record !== undefined && Object.hasOwn(record, name) ? record[name] : undefined

type Applied = ProjectVariant & { readonly index: number }
type Ids = ReadonlySet<string> | ReadonlyMap<string, unknown>
type Said<T> = Partial<T> & { id: string }
interface Patched {
  readonly items: Said<ProjectItem>
  readonly wires: Said<ProjectWire>
}

export function askedIssues(
  sheet: Sheet,
  asked: Project,
  variant: Applied | undefined,
  warnings: { add(issue: Issue): void },
): Owned[] {
  const check = new Check(sheet, asked, variant, warnings)
  check.decks()
  check.items()
  check.wires()
  check.nets()
  return check.issues
}

class Check {
  readonly issues: Owned[] = []
  private readonly deckIds: ReadonlySet<string>
  private readonly byId: ReadonlyMap<string, ProjectItem>
  private readonly exitIds: ReadonlySet<string>
  private readonly omitted: ReadonlySet<string>
  private readonly dropped: ReadonlySet<string>

  constructor(
    private readonly sheet: Sheet,
    private readonly asked: Project,
    private readonly variant: Applied | undefined,
    private readonly warnings: { add(issue: Issue): void },
  ) {
    this.deckIds = new Set(some(asked.decks).map((d) => d.id))
    this.byId = new Map(some(asked.items).map((i) => [i.id, i]))
    this.exitIds = new Set(some(asked.exits).map((e) => e.id))
    this.omitted = new Set(variant?.omit)
    this.dropped = new Set(variant?.drop)
  }

  private say(owner: string, path: Path, found: string, expected: () => string): void {
    if (this.issues.length <= MOST_LISTED) this.issues.push({ owner, path, found, expected: expected() })
  }

  private path(kind: Named, id: string, field: string): Path {
    const patches = kind === 'items' || kind === 'wires' || kind === 'decks' ? this.variant?.[kind] : undefined
    const patch = own<object | null>(patches, id)
    return this.variant !== undefined && typeof patch === 'object' && patch !== null && Object.hasOwn(patch, field)
      ? ['variants', this.variant.index, kind, id, field]
      : [kind, this.sheet.index[kind].get(id) ?? 0, field]
  }

  private oneOfThese(owner: string, path: Path, name: unknown, ids: Ids): void {
    if (typeof name !== 'string' || ids.has(name)) return
    this.say(owner, path, snippet(name), () => oneOf(nameable(ids.keys()), name))
  }

  /** The item that `id` or `id#k` names; none where it is omitted or wrong. */
  private item(owner: string, path: Path, name: unknown): ProjectItem | undefined {
    if (typeof name !== 'string' || this.omitted.has(baseOf(name))) return undefined
    const item = this.byId.get(baseOf(name))
    if (item === undefined) {
      // Where the list as a whole is wrong, that has been said.
      if (this.sheet.project.items !== undefined) {
        this.say(owner, path, snippet(name), () => oneOf(nameable(this.byId.keys()), name))
      }
      return undefined
    }
    const count = item.count ?? 1
    const k = /^#([1-9]\d{0,2})$/.exec(name.slice(item.id.length))?.[1]
    if (name === item.id || (k !== undefined && !(Number(k) > count))) return item
    this.say(owner, path, snippet(name), () => wanted.itemOrCopy(snippet(item.id), item.id, count))
    return undefined
  }

  private deck(owner: string, path: Path, name: unknown): void {
    if (this.sheet.project.decks !== undefined) this.oneOfThese(owner, path, name, this.deckIds)
  }

  decks(): void {
    const { variant, asked } = this
    if (variant !== undefined && this.deckIds.size === 0 && this.sheet.index.decks.size > 0) {
      this.say('decks/', ['variants', variant.index, 'drop'], snippet(variant.drop), () => wanted.deckLeft)
    }
    for (const kind of ['exits', 'zones'] as const) {
      for (const e of some<{ id: string; deck: string }>(asked[kind])) {
        this.deck(`${kind}/${e.id}`, this.path(kind, e.id, 'deck'), e.deck)
      }
    }
    for (const p of some(asked.passes)) {
      const path = this.path('passes', p.id, 'decks')
      for (const [i, d] of (p.decks ?? []).entries()) this.deck(`passes/${p.id}`, [...path, i], d)
    }
  }

  items(): void {
    let bodies = 0
    for (const item of this.byId.values()) {
      bodies += item.count || 1
      this.itemNames(item)
    }
    for (const item of this.gone('items')) this.itemNames(item)
    if (bodies > MOST_BODIES) {
      const path = this.variant === undefined ? ['items'] : ['variants', this.variant.index]
      this.say('items/', path, got.bodies(bodies), () => wanted.bodies(MOST_BODIES))
    }
  }

  private itemNames(item: Said<ProjectItem>): void {
    const owner = `items/${item.id}`
    if (typeof item.footprint === 'string' && !this.sheet.footprints.has(item.footprint)) {
      const path = this.path('items', item.id, 'footprint')
      this.say(owner, path, snippet(item.footprint), () => oneOf([...this.sheet.footprints.keys()], item.footprint))
    }
    this.itemDecks(owner, item)
    const places = this.path('items', item.id, 'place')
    for (const [i, p] of (item.place ?? []).entries()) {
      if (p === null) continue
      if (p.kind === 'at' && (this.byId.has(item.id) || !this.dropped.has(p.deck))) {
        this.deck(owner, [...places, i, 'deck'], p.deck)
      }
      if (p.kind !== 'near' && p.kind !== 'beyond' && p.kind !== 'host') continue
      const path = [...places, i, 'item']
      const named = this.item(owner, path, p.item)
      const part = named === undefined ? undefined : this.sheet.footprints.get(named.footprint)
      if (p.kind !== 'host' || part === undefined || part.breadboard !== undefined) continue
      this.warnings.add({ path, found: got.noTiePoints(snippet(p.item)), expected: wanted.breadboard })
    }
  }

  /** Of entries that go with what the variant omits or drops, what it says of them itself: that may be wrong all the same. */
  private gone<K extends keyof Patched>(kind: K): Patched[K][] {
    const patches: Record<string, object | null> = this.variant?.[kind] ?? {}
    const kept = new Set(some<{ id: string }>(this.asked[kind]).map((e) => e.id))
    return Object.entries(patches).flatMap(([id, patch]) =>
      typeof patch === 'object' && patch !== null && !kept.has(id) && this.sheet.index[kind].has(id)
        ? [{ ...patch, id } as Patched[K]]
        : [],
    )
  }

  /** Against the list as written, so that its numbers are the file's; decks that the variant drops are lost on purpose. */
  private itemDecks(owner: string, item: Said<ProjectItem>): void {
    const path = this.path('items', item.id, 'decks')
    const written = path.reduce<unknown>(
      (holder, step) => (holder as Record<string | number, unknown> | undefined)?.[step],
      this.sheet.project,
    )
    if (!Array.isArray(written) || item.decks === undefined) return
    if (written.length > 0 && item.decks?.length === 0) {
      this.say(owner, path, snippet(written), () => wanted.deckKept)
    }
    for (const [i, d] of written.entries()) {
      if (!this.dropped.has(d)) this.deck(owner, [...path, i], d)
    }
  }

  wires(): void {
    for (const w of some(this.asked.wires)) this.wireNames(w, this.exitIds)
    for (const w of this.gone('wires')) this.wireNames(w, this.sheet.index.exits)
  }

  private wireNames(w: Said<ProjectWire>, exits: Ids): void {
    for (const side of ['from', 'to'] as const) {
      const end: ProjectWireEnd | undefined = w[side]
      if (typeof end !== 'object' || end === null) continue
      this.wireEnd(`wires/${w.id}`, this.path('wires', w.id, side), end, exits)
    }
    if (!isNoSize(w.gauge)) return
    this.warnings.add({ path: this.path('wires', w.id, 'gauge'), found: snippet(w.gauge), expected: wanted.awg })
  }

  nets(): void {
    for (const n of some(this.asked.nets)) {
      const owner = `nets/${n.id}`
      const at = this.sheet.index.nets.get(n.id) ?? 0
      if (n.switch !== undefined) this.oneCopy(owner, ['nets', at, 'switch'], n.switch)
      // Ends as written, so that their numbers are the file's: those that a variant loses are not in `n`.
      for (const [i, end] of (this.sheet.project.nets?.[at]?.ends ?? []).entries()) {
        if (typeof end !== 'object' || end === null) continue
        const path = ['nets', at, 'ends', i]
        if (end.exit !== undefined) {
          this.oneOfThese(owner, [...path, 'exit'], end.exit, this.sheet.index.exits)
          continue
        }
        this.terminal(owner, path, this.oneCopy(owner, [...path, 'item'], end.item), end.terminal, true)
      }
    }
  }

  /** An item of which there is one, or one copy of it; without a number the first, so that a count may grow. */
  private oneCopy(owner: string, path: Path, name: unknown): ProjectItem | undefined {
    const item = this.item(owner, path, name)
    // Of a count that is wrong nothing is said here.
    if (item === undefined || !((item.count ?? 1) > 1) || (name as string).includes('#')) return item
    const expected = wanted.oneCopy(item.id, item.count ?? 1)
    this.warnings.add({ path, found: snippet(name), expected })
    return item
  }

  private wireEnd(owner: string, path: Path, end: ProjectWireEnd, exits: Ids): void {
    if ('exit' in end) {
      this.oneOfThese(owner, [...path, 'exit'], end.exit, exits)
      return
    }
    const item = this.item(owner, [...path, 'item'], end.item)
    this.terminal(owner, path, item, end.terminal)
  }

  /** `pins`: ids of its pins may be named too. */
  private terminal(owner: string, path: Path, item: ProjectItem | undefined, terminal: unknown, pins = false): void {
    const part = item === undefined ? undefined : this.sheet.footprints.get(item.footprint)
    if (part === undefined || typeof terminal !== 'string') return
    if (pins && some(part.plug?.pins).some((p) => p.id === terminal)) return
    const terminals = some(part.terminals).flatMap((t) => (typeof t.id === 'string' ? [t.id] : []))
    // One whose own id is wrong may be the one that is meant.
    if (terminals.includes(terminal) || terminals.length < (part.terminals ?? []).length) return
    const of = snippet(part.id)
    this.say(owner, [...path, 'terminal'], snippet(terminal), () =>
      terminals.length === 0 ? wanted.noTerminals(of) : wanted.terminal(oneOf(terminals, terminal), of),
    )
  }
}
