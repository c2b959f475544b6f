/**
 * Describing a part: a draft footprint from nothing or from a copy, its fields set one by one, what is wrong with it and what is odd, and
 * its way into a project or a file of its own and back.
 */
import { issuesOf } from '../../footprints/fields.ts'
import { PITCH } from '../../footprints/pitch.ts'
import { type Issue, type Path, pathText, type Read } from '../../footprints/problems.ts'
import { type FootprintFile, footprintIssues, footprintSchema } from '../../footprints/schema.ts'
import type { EditProblem } from './built.ts'
import { type Checked, readFile } from './door.ts'
import { freeId } from './edit-items.ts'
import type { Project } from './schema.ts'
import { fresh, got, wanted } from './words.ts'

export type MountKind = FootprintFile['mount']['kind']
export type MountHoleFile = NonNullable<Extract<FootprintFile['mount'], { kind: 'screw' }>['holes']>[number]

const HEAD = { format: 'deckwright-footprint', version: 1 } as const

/** A part to begin with: 50 × 30 × 10 mm, stuck down; where its numbers are from is still to be said. */
export const emptyFootprint = (id: string): FootprintFile => ({
  ...HEAD,
  id,
  name: fresh.part,
  kind: 'part',
  body: { width: 50, depth: 30, height: 10 },
  mass: 0,
  mount: { kind: 'adhesive' },
})

/** A copy under another id. Its source is taken off: whether the copy's numbers are still from there must be said anew. */
export function copyOfFootprint(footprint: FootprintFile, id: string): FootprintFile {
  const { source: _, format: __, version: ___, ...rest } = structuredClone(footprint)
  return { ...HEAD, ...rest, id }
}

/** An id that neither the library nor the project has. */
export const freeFootprintId = (project: Project, library: ReadonlyMap<string, FootprintFile>, wish: string): string =>
  freeId([...library.keys(), ...(project.footprints ?? []).map((f) => f.id)], wish)

/** Library and project together, the project's own first, as they count in it. */
export function footprintsOf(
  project: Project,
  library: ReadonlyMap<string, FootprintFile>,
): ReadonlyMap<string, FootprintFile> {
  const own = project.footprints ?? []
  const all = new Map(own.map((f) => [f.id, f]))
  for (const [id, f] of library) if (!all.has(id)) all.set(id, f)
  return all
}

/** A copy of `whole` with another value at the path; undefined takes a field away, and an entry out of a list. */
export function withAt<T>(whole: T, path: Path, value: unknown): T {
  const [step, ...rest] = path
  if (step === undefined) return value as T
  if (Array.isArray(whole) || (whole === undefined && typeof step === 'number')) {
    const list = [...((whole ?? []) as unknown[])]
    if (rest.length === 0 && value === undefined) list.splice(step as number, 1)
    else list[step as number] = withAt(list[step as number], rest, value)
    return list as T
  }
  const next = { ...(whole as object) } as Record<string, unknown>
  if (rest.length === 0 && value === undefined) delete next[step]
  else next[step] = withAt(next[step], rest, value)
  return next as T
}

/** The draft held in another way; holes go along where both ways have them, and pins come and go with plugging in. */
export function mountedBy(draft: FootprintFile, kind: MountKind): FootprintFile {
  const before = draft.mount
  if (before.kind === kind) return draft
  const { plug, ...rest } = draft
  const holes = before.kind === 'screw' || before.kind === 'drop-in' ? (before.holes ?? []) : []
  const { width, depth } = draft.body
  switch (kind) {
    case 'screw':
      return { ...rest, mount: { kind, standoff: 0, holes } }
    case 'drop-in':
      return {
        ...rest,
        mount: { kind, cutout: [round(width / 10), round(depth / 10), round(width * 0.8), round(depth * 0.8)], holes },
      }
    case 'strap':
      return { ...rest, mount: { kind, slots: strapSlots(width, depth) } }
    case 'plug-in':
      return { ...rest, mount: { kind }, plug: plug ?? { pins: [{ id: '1', at: [PITCH / 2, PITCH / 2] }] } }
    case 'adhesive':
      return { ...rest, mount: { kind } }
  }
}

const round = (mm: number): number => Math.round(mm * 1000) / 1000

/** Slots for one strap across the middle, 3 × 12 mm, a little inside the body's ends. */
const strapSlots = (width: number, depth: number): [number, number, number, number][] => {
  const long = Math.min(12, round(width / 2))
  const x = round((width - long) / 2)
  return [
    [x, 1, long, 3],
    [x, round(Math.max(depth - 4, 1)), long, 3],
  ]
}

/** Two places in the middle, as far apart as measured: rounding each by itself would make it a micrometre more. */
function apartIn(size: number, apart: number): [number, number] {
  const first = round((size - apart) / 2)
  return [first, round(first + apart)]
}

/** How far apart holes are taken to be before somebody says so: 3.5 mm from both ends. */
export const cornersApart = (size: number): number => Math.max(1, Math.round(size - 7))

/** Four holes, `across` and `along` apart between centres, in the middle of the body. */
export function cornerHoles(
  body: FootprintFile['body'],
  across: number,
  along: number,
  hole: Omit<MountHoleFile, 'id' | 'at'>,
): MountHoleFile[] {
  const [x, y] = [apartIn(body.width, across), apartIn(body.depth, along)]
  return y.flatMap((v, j) => x.map((u, i): MountHoleFile => ({ id: `h${2 * j + i + 1}`, at: [u, v], ...hole })))
}

/**
 * Pins in one row or two, `apart` between the rows, in the middle of the body, numbered anticlockwise as seen from above from the
 * lower-left one.
 */
export function pinRows(
  body: FootprintFile['body'],
  columns: number,
  rows: 1 | 2,
  apart: number,
  pitch = PITCH,
): { id: string; at: [number, number] }[] {
  const [first] = apartIn(body.width, (columns - 1) * pitch)
  const x = (i: number): number => round(first + i * pitch)
  const low = round(rows === 1 ? body.depth / 2 : (body.depth - apart) / 2)
  const lower = Array.from({ length: columns }, (_, i): [number, number] => [x(i), low])
  const upper =
    rows === 1
      ? []
      : Array.from({ length: columns }, (_, i): [number, number] => [x(columns - 1 - i), round(low + apart)])
  return [...lower, ...upper].map((at, k) => ({ id: String(k + 1), at }))
}

/** What must be put right before the part can be used: as a file's reader finds it, and the source, which is asked for. */
export function footprintProblems(draft: FootprintFile): readonly EditProblem[] {
  const { problems } = issuesOf(footprintSchema, draft)
  const all = [...problems, ...(problems.length === 0 ? footprintIssues(draft, []) : [])]
  if ((draft.source ?? '').trim() === '') {
    const expected = wanted.source
    all.push({ path: ['source'], found: got.nothing, expected })
  }
  return all.map(({ path, found, expected }) => ({ path: pathText(path), found, expected }))
}

/** What may be meant but seldom is. */
export type Oddity =
  | { readonly kind: 'outside'; readonly what: 'hole' | 'terminal' | 'pin' | 'slot' | 'contact'; readonly id: string }
  | { readonly kind: 'off-pitch'; readonly pin: string }
  | { readonly kind: 'no-holes' }

/** Oddities of a draft without problems. */
export function oddities(draft: FootprintFile): readonly Oddity[] {
  const { width, depth } = draft.body
  const out: Oddity[] = []
  const inside = ([u, v]: readonly number[], r = 0): boolean =>
    u! - r >= -1e-9 && v! - r >= -1e-9 && u! + r <= width + 1e-9 && v! + r <= depth + 1e-9
  const { mount } = draft
  if (mount.kind === 'screw' || mount.kind === 'drop-in')
    for (const h of mount.holes ?? [])
      if (!inside(h.at, h.diameter / 2)) out.push({ kind: 'outside', what: 'hole', id: h.id })
  if (mount.kind === 'screw' && (mount.holes ?? []).length === 0) out.push({ kind: 'no-holes' })
  if (mount.kind === 'strap')
    for (const [k, [u, v, w, h]] of (mount.slots ?? []).entries())
      if (!inside([u, v]) || !inside([u + w, v + h])) out.push({ kind: 'outside', what: 'slot', id: String(k + 1) })
  for (const t of draft.terminals ?? []) if (!inside(t.at)) out.push({ kind: 'outside', what: 'terminal', id: t.id })
  const pins = draft.plug?.pins ?? []
  const [first] = pins
  for (const p of pins) {
    if (!inside(p.at)) out.push({ kind: 'outside', what: 'pin', id: p.id })
    // Breadboards of this library have 2.54 mm between contacts; R6 allows 0.01 mm.
    const off = (k: 0 | 1): number => {
      const steps = (p.at[k] - first!.at[k]) / PITCH
      return Math.abs(steps - Math.round(steps)) * PITCH
    }
    if (Math.max(off(0), off(1)) > 0.01) out.push({ kind: 'off-pitch', pin: p.id })
  }
  const pitch = draft.breadboard?.pitch ?? PITCH
  for (const [k, b] of (draft.breadboard?.blocks ?? []).entries()) {
    const far = [b.at[0] + (b.columns - 1) * pitch, b.at[1] + (b.rows - 1) * pitch]
    if (!inside(b.at) || !inside(far)) out.push({ kind: 'outside', what: 'contact', id: String(k + 1) })
  }
  return out
}

/** The project with the footprint among its own, in place of one of that id. */
export function withOwnFootprint(project: Project, footprint: FootprintFile): Project {
  const own = project.footprints ?? []
  const known = own.some((f) => f.id === footprint.id)
  return {
    ...project,
    footprints: known ? own.map((f) => (f.id === footprint.id ? footprint : f)) : [...own, footprint],
  }
}

/** Ids of the items, and of the variants that ask for it for some item, that a footprint is used by. */
export const usersOf = (project: Project, footprint: string): readonly string[] => [
  ...project.items.filter((i) => i.footprint === footprint).map((i) => i.id),
  ...(project.variants ?? []).flatMap((v) =>
    Object.entries(v.items ?? {}).flatMap(([item, f]) => (f.footprint === footprint ? [`${item} (${v.id})`] : [])),
  ),
]

/** The text of a footprint file (contract §2). */
export const footprintText = (footprint: FootprintFile): string =>
  `${JSON.stringify({ ...HEAD, ...footprint, ...HEAD }, null, 2)}\n`

/** A footprint file's text to the footprint in it. Never throws; all problems come at once. */
export const readFootprint = (text: string | Uint8Array, file: string): Read<FootprintFile> =>
  readFile<FootprintFile>(text, file, 'deckwright-footprint', (document): Checked => {
    const { problems, warnings } = issuesOf(footprintSchema, document)
    const more: Issue[] = problems.length === 0 ? footprintIssues(document as FootprintFile, []) : []
    return { problems: [...problems, ...more], warnings }
  })
