/**
 * Everything in a project that names something else: decks, exits, items and their copies, terminals, footprints, zones.
 * The base document and each variant are checked as they would be solved. Values that the schema found wrong are missing
 * here or null, so every access allows for that.
 */
import { type Issue, oneOf, type Path, snippet } from '../../footprints/problems.ts'
import type { FootprintFile } from '../../footprints/schema.ts'
import type { Project, ProjectItem, ProjectVariant, ProjectWireEnd } from './schema.ts'
import { applied, baseOf } from './variants.ts'

export const MOST_BODIES = 500

interface Owned extends Issue {
  /** The entry that holds it, like `items/brain`. */
  readonly owner: string
}

type Named = 'decks' | 'exits' | 'passes' | 'items' | 'zones' | 'wires'

/** Problems and warnings of a document whose faults by the schema have been taken out. */
export function referenceIssues(
  project: Project,
  library: ReadonlyMap<string, FootprintFile>,
): { problems: Issue[]; warnings: Issue[] } {
  const sheet = new Sheet(project, library)
  const base = sheet.check(project, undefined)
  const variants = some(project.variants)
  if (variants.length === 0) return { problems: base, warnings: sheet.warnings }

  const problems: Issue[] = []
  const seen = new Set<string>()
  const say = (issue: Issue) => {
    const key = JSON.stringify(issue.path)
    if (!seen.has(key)) problems.push(issue)
    seen.add(key)
  }
  const inBase = new Set(base.map((i) => JSON.stringify(i.path)))
  const present = new Set<string>()
  variants.forEach((variant) => {
    const v = project.variants!.indexOf(variant)
    for (const issue of sheet.ownNames(variant, ['variants', v])) say(issue)
    const asked = applied(project, variant)
    for (const kind of ['exits', 'passes', 'items', 'zones', 'wires'] as const) {
      for (const e of asked[kind] ?? []) present.add(`${kind}/${e.id}`)
    }
    for (const issue of sheet.check(asked, variant)) {
      const own = issue.path[0] === 'variants' || inBase.has(JSON.stringify(issue.path))
      say(own ? issue : { ...issue, expected: `${issue.expected}, in variant ${snippet(variant.id)}` })
    }
  })
  // What no variant asks for is wrong only by itself.
  for (const issue of base) if (!present.has(issue.owner)) say(issue)
  return { problems, warnings: sheet.warnings }
}

class Sheet {
  readonly warnings: Issue[] = []
  private readonly footprints: Map<string, FootprintFile>
  private readonly index: Record<Named, Map<string, number>>
  private readonly warned = new Set<string>()

  constructor(
    private readonly project: Project,
    library: ReadonlyMap<string, FootprintFile>,
  ) {
    this.footprints = new Map(library)
    for (const f of some(project.footprints)) if (typeof f.id === 'string') this.footprints.set(f.id, f)
    this.index = {
      decks: indexOf(project.decks),
      exits: indexOf(project.exits),
      passes: indexOf(project.passes),
      items: indexOf(project.items),
      zones: indexOf(project.zones),
      wires: indexOf(project.wires),
    }
  }

  warn(issue: Issue): void {
    const key = JSON.stringify(issue.path)
    if (!this.warned.has(key)) this.warnings.push(issue)
    this.warned.add(key)
  }

  /** Ids that the variant itself names. */
  ownNames(variant: ProjectVariant, path: Path): Issue[] {
    const issues: Issue[] = []
    const each = (field: string, names: readonly (string | number)[], steps: Path, kind: Named) => {
      names.forEach((name, i) => {
        if (typeof name !== 'string' || this.index[kind].has(name)) return
        const expected =
          kind === 'items' && this.index.items.has(baseOf(name))
            ? `${snippet(baseOf(name))}: a variant speaks of all copies of an item`
            : oneOf([...this.index[kind].keys()], name)
        issues.push({ path: [...path, field, steps[i] ?? i], found: snippet(name), expected })
      })
    }
    const keys = (record: object | undefined) => Object.keys(record ?? {})
    each('items', keys(variant.items), keys(variant.items), 'items')
    each('wires', keys(variant.wires), keys(variant.wires), 'wires')
    each('decks', keys(variant.decks), keys(variant.decks), 'decks')
    each('omit', variant.omit ?? [], [], 'items')
    each('release', variant.release ?? [], [], 'zones')
    each('drop', variant.drop ?? [], [], 'decks')
    return issues
  }

  /** The document as one variant (or none) asks it. */
  check(asked: Project, variant: ProjectVariant | undefined): Owned[] {
    const issues: Owned[] = []
    const v = variant === undefined ? -1 : this.project.variants!.indexOf(variant)
    const path = (kind: Named, id: string, field: string): Path => {
      const patch = kind === 'items' || kind === 'wires' || kind === 'decks' ? variant?.[kind]?.[id] : undefined
      return patch !== null && patch !== undefined && Object.hasOwn(patch, field)
        ? ['variants', v, kind, id, field]
        : [kind, this.index[kind].get(id) ?? 0, field]
    }
    const decks = new Set(some(asked.decks).map((d) => d.id))
    const items = new Map(some(asked.items).map((i) => [i.id, i]))
    const exits = new Map(some(asked.exits).map((e) => [e.id, e]))
    const omitted = new Set(variant?.omit)
    const say = (owner: string, p: Path, found: unknown, expected: string) =>
      issues.push({ owner, path: p, found: snippet(found), expected })
    const deckAt = (owner: string, p: Path, name: unknown) => {
      if (typeof name === 'string' && !decks.has(name)) say(owner, p, name, oneOf([...decks], name))
    }
    const itemAt = (owner: string, p: Path, name: unknown): ProjectItem | undefined => {
      if (typeof name !== 'string' || omitted.has(baseOf(name))) return undefined
      const item = items.get(baseOf(name))
      if (item === undefined) {
        say(owner, p, name, oneOf([...items.keys()], name))
        return undefined
      }
      const copy = name.slice(item.id.length)
      const k = /^#([1-9]\d{0,2})$/.exec(copy)?.[1]
      const count = item.count ?? 1
      if (copy === '' || (k !== undefined && Number(k) <= count)) return item
      const copies = count === 1 ? '' : `, or one of its copies ${item.id}#1 to ${item.id}#${count}`
      say(owner, p, name, `${snippet(item.id)}${copies}`)
      return undefined
    }

    if (variant !== undefined && decks.size === 0 && this.index.decks.size > 0) {
      say('decks/', ['variants', v, 'drop'], variant.drop, 'one deck left or more')
    }
    for (const e of some(asked.exits)) deckAt(`exits/${e.id}`, path('exits', e.id, 'deck'), e.deck)
    for (const z of some(asked.zones)) deckAt(`zones/${z.id}`, path('zones', z.id, 'deck'), z.deck)
    for (const p of some(asked.passes)) {
      const at = path('passes', p.id, 'decks')
      for (const [i, d] of (p.decks ?? []).entries()) deckAt(`passes/${p.id}`, [...at, i], d)
    }

    let bodies = 0
    for (const item of items.values()) {
      const owner = `items/${item.id}`
      bodies += item.count ?? 1
      if (typeof item.footprint === 'string' && !this.footprints.has(item.footprint)) {
        say(
          owner,
          path('items', item.id, 'footprint'),
          item.footprint,
          oneOf([...this.footprints.keys()], item.footprint),
        )
      }
      const at = path('items', item.id, 'decks')
      const written = at.reduce<unknown>(
        (o, s) => (o as Record<string | number, unknown> | undefined)?.[s],
        this.project,
      )
      if (Array.isArray(written) && written.length > 0 && item.decks?.length === 0) {
        say(owner, at, written, `a deck that variant ${snippet(variant?.id)} does not drop, or the item omitted there`)
      } else {
        // The written list, so that the numbers are the file's; decks that the variant drops have been lost on purpose.
        const dropped = new Set(variant?.drop)
        for (const [i, d] of (Array.isArray(written) ? written : []).entries()) {
          if (!dropped.has(d)) deckAt(owner, [...at, i], d)
        }
      }
      const places = path('items', item.id, 'place')
      for (const [i, p] of (item.place ?? []).entries()) {
        if (p === null) continue
        if (p.kind === 'at') deckAt(owner, [...places, i, 'deck'], p.deck)
        if (p.kind !== 'near' && p.kind !== 'beyond' && p.kind !== 'host') continue
        const named = itemAt(owner, [...places, i, 'item'], p.item)
        if (p.kind === 'host' && named !== undefined) this.checkHost(named, p.item, [...places, i, 'item'])
      }
    }
    if (bodies > MOST_BODIES) {
      const p = variant === undefined ? ['items'] : ['variants', v]
      issues.push({ owner: 'items/', path: p, found: `${bodies} bodies`, expected: `at most ${MOST_BODIES} in all` })
    }

    for (const w of some(asked.wires)) {
      for (const side of ['from', 'to'] as const) {
        const end: ProjectWireEnd | undefined = w[side]
        if (end === undefined || end === null) continue
        const owner = `wires/${w.id}`
        const at = path('wires', w.id, side)
        if ('exit' in end) {
          if (typeof end.exit === 'string' && !exits.has(end.exit)) {
            say(owner, [...at, 'exit'], end.exit, oneOf([...exits.keys()], end.exit))
          }
          continue
        }
        const item = itemAt(owner, [...at, 'item'], end.item)
        if (item === undefined || typeof end.terminal !== 'string') continue
        const part = this.footprints.get(item.footprint)
        if (part?.id === undefined) continue
        const terminals = some(part.terminals).map((t) => t.id)
        if (terminals.includes(end.terminal)) continue
        const of = `, a terminal of footprint ${snippet(part.id)}`
        say(owner, [...at, 'terminal'], end.terminal, `${oneOf(terminals, end.terminal)}${of}`)
      }
    }
    if (variant !== undefined) this.warnOfLostWires(asked, variant)
    return issues
  }

  private checkHost(item: ProjectItem, name: string, path: Path): void {
    const part = this.footprints.get(item.footprint)
    if (part === undefined || part.breadboard !== undefined) return
    this.warn({ path, found: `${snippet(name)}, which has no tie points`, expected: 'a breadboard to plug into' })
  }

  private warnOfLostWires(asked: Project, variant: ProjectVariant): void {
    if ((variant.drop ?? []).length === 0) return
    const kept = new Set((asked.wires ?? []).map((w) => w.id))
    const omitted = new Set(variant.omit)
    const known = new Set((asked.exits ?? []).map((e) => e.id))
    for (const w of some(this.project.wires)) {
      if (kept.has(w.id) || variant.wires?.[w.id] === null) continue
      const ends = [w.from, w.to]
      if (
        ends.some((e) => e !== undefined && 'item' in e && typeof e.item === 'string' && omitted.has(baseOf(e.item)))
      ) {
        continue
      }
      const lost = ends.find((e) => e !== undefined && 'exit' in e && !known.has(e.exit))
      if (lost === undefined || !('exit' in lost)) continue
      this.warn({
        path: ['wires', this.index.wires.get(w.id) ?? 0],
        found: `a wire to exit ${snippet(lost.exit)}, whose deck variant ${snippet(variant.id)} drops; it is left out there`,
        expected: `null for ${snippet(w.id)} in that variant's "wires" where this is meant`,
      })
    }
  }
}

const some = <T>(list: readonly T[] | undefined): T[] => (list ?? []).filter((e) => typeof e === 'object' && e !== null)

function indexOf(list: readonly { id: string }[] | undefined): Map<string, number> {
  const index = new Map<string, number>()
  for (const [i, e] of (list ?? []).entries()) {
    if (typeof e?.id === 'string' && !index.has(e.id)) index.set(e.id, i)
  }
  return index
}
