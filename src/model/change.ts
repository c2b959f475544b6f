/**
 * The solver's changes as edits of a project file: what a button "do it" has to do. Where the project has variants, the one
 * that was asked is edited and the others stay as they are; an exit has no field in a variant, so there the base is.
 */
import type { ShapeFile } from '../../footprints/fields.ts'
import type { Change, Shape } from '../../solver/index.ts'
import { toMm } from '../../solver/index.ts'
import { setOut } from './edit-variants.ts'
import type { Project, ProjectItem, ProjectPlace } from './schema.ts'
import { applyVariant } from './variants.ts'

/** One operation of a JSON Patch (RFC 6902) on the project file. `add` replaces a member that is there. */
export interface PatchOp {
  readonly op: 'add'
  readonly path: string
  readonly value: unknown
}

export interface Changed {
  readonly project: Project
  /** Empty for a hold let go: holds are no part of the problem's description. */
  readonly patch: readonly PatchOp[]
}

/** The project with the changes made for one variant, and the patch that makes them. Throws a RangeError on an unknown variant. */
export function changeProject(project: Project, variant: string, changes: readonly Change[]): Changed {
  let now = project
  const patch: PatchOp[] = []
  for (const change of changes) {
    const ops = opsOf(now, variant, change)
    for (const op of ops) now = patched(now, op) as Project
    patch.push(...ops)
  }
  return { project: now, patch }
}

function opsOf(project: Project, variant: string, change: Change): PatchOp[] {
  const index = (project.variants ?? []).findIndex((v) => v.id === variant)
  const own = index < 0 ? undefined : project.variants![index]!
  const asked = applyVariant(project, variant)
  /** Fields of one entry of a list: in the variant's patch of it, or in the entry itself. */
  const set = (list: 'items' | 'wires' | 'decks', id: string, fields: object): PatchOp[] => {
    if (own) {
      const patches: Record<string, object | null> = own[list] ?? {}
      const value = { ...patches, [id]: { ...patches[id], ...fields } }
      return [{ op: 'add', path: `/variants/${index}/${list}`, value }]
    }
    const k = (project[list] ?? []).findIndex((e) => e.id === id)
    return Object.entries(fields).map(([name, value]) => ({ op: 'add', path: `/${list}/${k}/${name}`, value }))
  }
  switch (change.kind) {
    case 'setting': {
      const value = { ...(own ?? project).settings, [change.setting]: toMm(change.to) }
      return [{ op: 'add', path: own ? `/variants/${index}/settings` : '/settings', value }]
    }
    case 'max-length':
      return set('wires', change.wire, { maxLength: toMm(change.to) })
    case 'free': {
      const k = (project.exits ?? []).findIndex((e) => e.id === change.exit)
      return [{ op: 'add', path: `/exits/${k}/free`, value: toMm(change.to) }]
    }
    case 'outline':
      return set('decks', change.deck, {
        outline: {
          ...unknownOf(asked.decks.find((d) => d.id === change.deck)?.outline),
          ...shapeToFile(change.outline),
        },
      })
    case 'release': {
      // a project without variants gets the one that it has written down: the zone itself stays, and can be kept again
      const { variants } = setOut(project, variant, 'release', change.zone, true, 'here')
      return own
        ? [{ op: 'add', path: `/variants/${index}/release`, value: variants![index]!.release }]
        : [{ op: 'add', path: '/variants', value: variants }]
    }
    case 'optional':
      return set('items', change.item, { required: false })
    case 'count':
      return set('items', change.item, { count: change.to })
    case 'no-place':
      return set('items', change.item, { place: placeOf(asked, change.item).filter((_, k) => k !== change.entry) })
    case 'within':
      return set('items', change.item, {
        place: placeOf(asked, change.item).map((p, k) => (k === change.entry ? { ...p, within: toMm(change.to) } : p)),
      })
    case 'let-go':
      return []
  }
}

const placeOf = (asked: Project, id: string): ProjectPlace[] =>
  asked.items.find((i: ProjectItem) => i.id === id)?.place ?? []

/** A document with one operation done; what it does not touch is shared. Paths are made here, and lead somewhere. */
function patched(document: unknown, op: PatchOp): unknown {
  const steps = op.path.split('/').slice(1)
  const edit = (node: unknown, at: number): unknown => {
    const key = steps[at]!
    const value = (was: unknown): unknown => (at === steps.length - 1 ? op.value : edit(was, at + 1))
    if (Array.isArray(node)) return node.map((e, i) => (i === Number(key) ? value(e) : e))
    const record = node as Record<string, unknown>
    return { ...record, [key]: value(record[key]) }
  }
  return edit(document, 0)
}

/** Fields that the format does not know: they are kept. */
const unknownOf = (shape: object = {}): object =>
  Object.fromEntries(Object.entries(shape).filter(([name]) => !SHAPE_FIELDS.includes(name)))
const SHAPE_FIELDS = ['rect', 'radius', 'circle', 'polygon', 'sector']

/** A solver's shape as it stands in a file, mm. */
export function shapeToFile(s: Shape): ShapeFile {
  switch (s.kind) {
    case 'rect':
      return { rect: [toMm(s.x), toMm(s.y), toMm(s.w), toMm(s.h)], ...(s.radius > 0 ? { radius: toMm(s.radius) } : {}) }
    case 'circle':
      return { circle: [toMm(s.cx), toMm(s.cy), toMm(s.r)] }
    case 'polygon':
      return {
        polygon: s.points.map((p) => (p.bulge === 0 ? [toMm(p.x), toMm(p.y)] : [toMm(p.x), toMm(p.y), p.bulge])),
      }
    case 'sector':
      return { sector: [toMm(s.cx), toMm(s.cy), toMm(s.r), s.from, s.to] }
  }
}
