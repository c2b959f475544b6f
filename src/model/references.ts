/**
 * Everything in a project that names something else: decks, exits, items and their copies, terminals, footprints, zones.
 * The base document and each variant are checked as they would be solved (asked.ts). Values that the schema found wrong are
 * missing here or null, so every access allows for that.
 */
import { type Issue, MOST_LISTED, oneOf, type Path, snippet } from '../../footprints/problems.ts'
import type { FootprintFile } from '../../footprints/schema.ts'
import { askedIssues, NAMED, type Named, nameable, own, type Sheet } from './asked.ts'
import type { Project, ProjectVariant } from './schema.ts'
import { applied, baseOf, some } from './variants.ts'
import { got, wanted } from './words.ts'

/** Entries times variants that one read looks at: nine hundred variants of a robot with five hundred parts and wires. */
const MOST_WORK = 1_000_000

/** Problems and warnings of a document whose faults by the schema have been taken out. */
export function referenceIssues(
  sound: Project,
  library: ReadonlyMap<string, FootprintFile>,
): { problems: Issue[]; warnings: Issue[] } {
  const project = withIds(lean(sound))
  const sheet = sheetOf(project, library)
  const warnings = new Once()
  const base = askedIssues(sheet, project, undefined, warnings)
  const variants = some(project.variants)
  if (variants.length === 0) return { problems: base, warnings: warnings.issues }

  const problems = new Once()
  const work = entriesOf(project)
  if (variants.length * work > MOST_WORK) {
    for (const issue of base) problems.add(issue)
    const expected = wanted.variants(Math.floor(MOST_WORK / work))
    problems.add({ path: ['variants'], found: got.variants(variants.length), expected })
    return { problems: problems.issues, warnings: warnings.issues }
  }
  const inBase = new Set(base.map((i) => JSON.stringify(i.path)))
  const present = new Set<string>()
  for (const [v, variant] of (project.variants ?? []).entries()) {
    if (!variant) continue
    for (const issue of ownNames(sheet, variant, ['variants', v])) problems.add(issue)
    const asked = applied(project, variant)
    for (const kind of NAMED) for (const e of asked[kind] ?? []) present.add(`${kind}/${e.id}`)
    for (const issue of askedIssues(sheet, asked, { ...variant, index: v }, warnings)) {
      const alone = issue.path[0] === 'variants' || inBase.has(JSON.stringify(issue.path))
      problems.add(alone ? issue : { ...issue, expected: wanted.inVariant(issue.expected, snippet(variant.id)) })
    }
    warnOfLostWires(sheet, asked, variant, warnings)
  }
  // What stands in some variant has been judged there; the rest is judged as it stands.
  for (const issue of base) if (!present.has(issue.owner)) problems.add(issue)
  return { problems: problems.issues, warnings: warnings.issues }
}

/** Issues, one a place, up to as many as are ever listed. */
class Once {
  readonly issues: Issue[] = []
  private readonly seen = new Set<string>()

  add(issue: Issue): void {
    const key = JSON.stringify(issue.path)
    if (this.issues.length <= MOST_LISTED && !this.seen.has(key)) this.issues.push(issue)
    this.seen.add(key)
  }
}

/** The fields of an entry that name something or are named, and a wire's `gauge`, of which something may be told too. */
const NAMING: Readonly<Record<Named, readonly string[]>> = {
  decks: ['id'],
  exits: ['id', 'deck'],
  passes: ['id', 'decks'],
  items: ['id', 'footprint', 'count', 'decks', 'place'],
  zones: ['id', 'deck'],
  wires: ['id', 'from', 'to', 'gauge'],
  nets: ['id', 'ends', 'switch'],
}

/** What is looked at here and no more: each variant is a copy, and a file may hold any number of fields that mean nothing. */
function lean(project: Project): Project {
  const part = (whole: object, fields: readonly string[]) =>
    Object.fromEntries(
      fields.flatMap((f) => (Object.hasOwn(whole, f) ? [[f, (whole as Record<string, unknown>)[f]]] : [])),
    )
  const lists = NAMED.flatMap((kind) => {
    const list: readonly unknown[] | undefined = project[kind]
    return list === undefined
      ? []
      : [[kind, list.map((e) => (typeof e === 'object' && e !== null ? part(e, NAMING[kind]) : e))] as const]
  })
  return { ...part(project, ['footprints', 'variants']), ...Object.fromEntries(lists) } as unknown as Project
}

/** An entry whose id is missing or taken gets one that no file can hold, so that what it names is checked all the same. */
function withIds(project: Project): Project {
  const named = NAMED.map((kind) => {
    const list: readonly { id: string }[] | undefined = project[kind]
    return [
      kind,
      list?.map((e, i) => (e && typeof e === 'object' && typeof e.id !== 'string' ? { ...e, id: `#${i}` } : e)),
    ]
  })
  return { ...project, ...Object.fromEntries(named.filter(([, list]) => list !== undefined)) }
}

function sheetOf(project: Project, library: ReadonlyMap<string, FootprintFile>): Sheet {
  const footprints = new Map(library)
  for (const f of some(project.footprints)) if (typeof f.id === 'string') footprints.set(f.id, f)
  const index = Object.fromEntries(NAMED.map((kind) => [kind, indexOf(project[kind])])) as unknown as Sheet['index']
  return { project, footprints, index }
}

function indexOf(list: readonly { id: string }[] | undefined): Map<string, number> {
  const index = new Map<string, number>()
  for (const [i, e] of (list ?? []).entries()) {
    if (typeof e?.id === 'string' && !index.has(e.id)) index.set(e.id, i)
  }
  return index
}

/** What one variant costs whatever it holds, in entries. */
const COPY = 20
const entriesOf = (project: Project): number =>
  NAMED.reduce((sum, kind) => sum + (project[kind]?.length ?? 0), COPY) +
  some(project.items).reduce((sum, i) => sum + (i.place?.length ?? 0) + (i.decks?.length ?? 0), 0) +
  some(project.nets).reduce((sum, n) => sum + (n.ends?.length ?? 0), 0)

/** Ids that a variant itself names. */
function ownNames(sheet: Sheet, variant: ProjectVariant, path: Path): Issue[] {
  const issues: Issue[] = []
  const wrong = (kind: Named, name: unknown, steps: Path) => {
    if (typeof name !== 'string' || sheet.index[kind].has(name) || issues.length > MOST_LISTED) return
    const copy = kind === 'items' && sheet.index.items.has(baseOf(name))
    const expected = copy ? wanted.wholeItem(snippet(baseOf(name))) : oneOf(nameable(sheet.index[kind].keys()), name)
    issues.push({ path: [...path, ...steps], found: snippet(name), expected })
  }
  for (const kind of ['items', 'wires', 'decks'] as const) {
    for (const name of Object.keys(variant[kind] ?? {})) wrong(kind, name, [kind, name])
  }
  for (const [field, kind] of [
    ['omit', 'items'],
    ['release', 'zones'],
    ['drop', 'decks'],
  ] as const) {
    for (const [i, name] of (variant[field] ?? []).entries()) wrong(kind, name, [field, i])
  }
  return issues
}

/** Wires that go because their exit's deck goes: said aloud unless the variant says so itself. */
function warnOfLostWires(sheet: Sheet, asked: Project, variant: ProjectVariant, warnings: Once): void {
  if ((variant.drop ?? []).length === 0) return
  const kept = new Set((asked.wires ?? []).map((w) => w.id))
  const omitted = new Set(variant.omit)
  const exits = new Set((asked.exits ?? []).map((e) => e.id))
  for (const w of some(sheet.project.wires)) {
    if (kept.has(w.id) || own(variant.wires, w.id) === null) continue
    const ends = [w.from, w.to].filter((e) => typeof e === 'object' && e !== null)
    if (ends.some((e) => 'item' in e && typeof e.item === 'string' && omitted.has(baseOf(e.item)))) continue
    const lost = ends.find((e) => 'exit' in e && !exits.has(e.exit))
    if (lost === undefined || !('exit' in lost)) continue
    warnings.add({
      path: ['wires', sheet.index.wires.get(w.id) ?? 0],
      found: got.lostWire(snippet(lost.exit), snippet(variant.id)),
      expected: wanted.lostWire(snippet(w.id)),
    })
  }
}
