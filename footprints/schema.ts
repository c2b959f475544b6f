/**
 * The footprint file (contract §2): one schema for library parts and for those that stand inline in a project, what the
 * schema cannot say as plain checks, and the way to the solver's footprint. Lengths in files are mm, masses grams.
 */
import * as z from 'zod/mini'
import type { Access, Footprint, FootprintKind, Head, Mount, MountHole } from '../solver/problem.ts'
import { mm } from '../solver/units.ts'
import { twice } from './contacts.ts'
import {
  band,
  box,
  choice,
  coordinate,
  degrees,
  id,
  issuesOf,
  length,
  list,
  listById,
  literal,
  object,
  point,
  range,
  shape,
  shapeToSolver,
  size,
  text,
  whole,
} from './fields.ts'
import { PITCH } from './pitch.ts'
import { powerSchema } from './power-fields.ts'
import { type FileProblem, type Issue, type Path, pathText, type Read, snippet } from './problems.ts'
import { carries, carriesToSolver } from './terminals.ts'
import { got, wanted } from './words.ts'

const hole = object({ id, at: point, diameter: size, land: z.optional(length), screw: z.optional(text) })

const mount = z.discriminatedUnion(
  'kind',
  [
    object({ kind: literal('screw'), standoff: z.optional(length), holes: z.optional(listById(hole)) }),
    object({ kind: literal('adhesive') }),
    object({ kind: literal('strap'), slots: z.optional(list(box)) }),
    object({
      kind: literal('drop-in'),
      cutout: box,
      holes: z.optional(listById(hole)),
      below: z.optional(length),
    }),
    object({ kind: literal('plug-in') }),
  ],
  { error: wanted.objectWithKind },
)

const KINDS = ['board', 'breadboard', 'pack', 'head', 'sensor', 'part'] as const satisfies readonly FootprintKind[]

/** More tie points than this in one part would be no breadboard, and would fill the memory. */
const MOST_POINTS = 20_000
const block = object({ at: point, columns: whole(1, 1000), rows: whole(1, 1000), strip: choice(['column', 'row']) })

const pan = z.tuple([degrees, degrees], { error: wanted.pan }).check(
  z.refine(([from, to]) => from < to && to - from <= 360, {
    error: wanted.panInOrder,
  }),
)

// The optional fields from here on are ours, for statics: what a head carries, what a sensor looks at, what must stay in reach.
const whereInSpace = z.tuple([coordinate, coordinate, coordinate], { error: wanted.pointInSpace })
const solid = object({
  id,
  box: z.tuple([coordinate, coordinate, coordinate, size, size, size], {
    error: wanted.solid,
  }),
})
const tilt = z.tuple([degrees, degrees], { error: wanted.pan }).check(
  z.refine(([from, to]) => from <= to && from >= -180 && to <= 180, {
    error: wanted.tiltInOrder,
  }),
)
const cone = {
  width: range(0.1, 170, wanted.degrees),
  height: range(0.1, 170, wanted.degrees),
  range: z.optional(size),
}

const head = object({
  pivot: point,
  pan,
  reach: size,
  tail: length,
  z: band,
  tilt: z.optional(tilt),
  tiltAxis: z.optional(z.tuple([coordinate, coordinate], { error: wanted.tiltAxis })),
  payload: z.optional(listById(solid)),
  bracket: z.optional(listById(solid)),
  view: z.optional(object({ from: whereInSpace, ...cone })),
})

const ACCESSES = ['cells', 'program', 'reset', 'switch'] as const satisfies readonly Access[]
const corridor = object({ id, shape, z: band, why: z.optional(text), access: z.optional(choice(ACCESSES)) })

export const footprintSchema = object({
  format: z.optional(literal('deckwright-footprint')),
  version: z.optional(literal(1)),
  id,
  name: z.optional(text),
  source: z.optional(text),
  kind: z.optional(choice(KINDS)),
  body: object({ width: size, depth: size, height: size }),
  mass: z.optional(range(0, 1e6, wanted.grams)),
  mount,
  above: z.optional(z.union([length, z.literal('open')], { error: wanted.above })),
  corridors: z.optional(listById(corridor)),
  terminals: z.optional(listById(object({ id, at: point, ...carries }))),
  breadboard: z.optional(
    object({
      pitch: z.optional(size),
      blocks: list(block).check(
        z.refine((b) => b.length > 0, { error: wanted.someBlocks }),
        z.refine((b) => b.reduce((sum, k) => sum + k.columns * k.rows, 0) <= MOST_POINTS, {
          error: wanted.tiePoints(MOST_POINTS),
        }),
      ),
      // ours, optional: which blocks (by number from 0) are one conductor, as a rail's groups of five
      joined: z.optional(list(list(whole(0, MOST_POINTS)))),
    }).check(z.refine((b) => !twice(b.blocks, b.pitch ?? PITCH), { path: ['blocks'], error: wanted.contactsOnce })),
  ),
  plug: z.optional(
    object({
      pins: listById(object({ id, at: point, ...carries })).check(
        z.refine((p) => p.length > 0, { error: wanted.somePins }),
      ),
      // ours, optional: the face with the lamps that must be seen, as the footprint is drawn (back lies down)
      lamps: z.optional(choice(['front', 'back'])),
    }),
  ),
  head: z.optional(head),
  view: z.optional(object({ from: whereInSpace, towards: z.optional(degrees), ...cone })),
  indicators: z.optional(listById(object({ id, at: point, name: z.optional(text) }))),
  // ours, optional: what src/electric reckons with
  power: z.optional(powerSchema),
})

/** A footprint as it stands in the file. `format` and `version` may be missing inline. */
export type FootprintFile = z.infer<typeof footprintSchema>

/** What the schema cannot say. `f` may lack whatever the schema complained about. */
export function footprintIssues(f: Partial<FootprintFile>, path: Path): Issue[] {
  const issues: Issue[] = []
  const plugIn = f.mount?.kind === 'plug-in'
  if (plugIn && f.plug === undefined) {
    issues.push({ path: [...path, 'plug'], found: got.nothing, expected: wanted.pins })
  }
  if (f.mount?.kind !== undefined && !plugIn && f.plug !== undefined) {
    const found = got.pinsOn(snippet(f.mount.kind))
    issues.push({ path: [...path, 'plug'], found, expected: wanted.noPins })
  }
  // Values that the schema found wrong may stand here.
  for (const [g, group] of (f.breadboard?.joined ?? []).entries()) {
    for (const [i, b] of (Array.isArray(group) ? group : []).entries()) {
      if (f.breadboard?.blocks?.[b]?.strip === 'row') continue
      const at = [...path, 'breadboard', 'joined', g, i]
      issues.push({ path: at, found: snippet(b), expected: wanted.rowBlock })
    }
  }
  return issues
}

/** A footprint read from parsed JSON. Problems without line and column; a missing `source` is a warning. */
export function readFootprintValue(value: unknown, file: string): Read<FootprintFile> {
  const { problems, warnings } = issuesOf(footprintSchema, value)
  if (problems.length === 0) problems.push(...footprintIssues(value as FootprintFile, []))
  const inFile = ({ path, found, expected }: Issue): FileProblem => ({ file, path: pathText(path), found, expected })
  const told = warnings.map(inFile)
  if (problems.length > 0) return { ok: false, problems: problems.map(inFile), warnings: told }
  return { ok: true, value: value as FootprintFile, warnings: told }
}

const DEFAULT_ABOVE_BREADBOARD = 25

/** The part's kind; where the file gives none, what it carries says it. */
export const kindOf = (f: FootprintFile): FootprintKind =>
  f.kind ?? (f.breadboard !== undefined ? 'breadboard' : f.head !== undefined ? 'head' : 'part')

/** mm to Um, defaults filled in. `f` has been read OK. */
export function footprintToSolver(f: FootprintFile): Footprint {
  const kind = kindOf(f)
  const above = f.above ?? (kind === 'breadboard' ? DEFAULT_ABOVE_BREADBOARD : 0)
  return {
    id: f.id,
    name: f.name ?? f.id,
    kind,
    width: mm(f.body.width),
    depth: mm(f.body.depth),
    height: mm(f.body.height),
    mass: f.mass ?? 0,
    mount: mountToSolver(f.mount),
    above: above === 'open' ? 'open' : mm(above),
    corridors: (f.corridors ?? []).map((c) => ({
      id: c.id,
      shape: shapeToSolver(c.shape),
      z: [mm(c.z[0]), mm(c.z[1])],
      why: c.why ?? '',
      ...(c.access === undefined ? {} : { access: c.access }),
    })),
    terminals: (f.terminals ?? []).map((t) => ({
      id: t.id,
      at: xy(t.at),
      ...carriesToSolver(t),
    })),
    ...(f.breadboard === undefined
      ? {}
      : {
          breadboard: {
            pitch: mm(f.breadboard.pitch ?? PITCH),
            blocks: f.breadboard.blocks.map((b) => ({
              at: xy(b.at),
              columns: b.columns,
              rows: b.rows,
              strip: b.strip,
            })),
            ...(f.breadboard.joined === undefined ? {} : { joined: f.breadboard.joined.map((g) => [...g]) }),
          },
        }),
    ...(f.plug === undefined
      ? {}
      : {
          plug: {
            pins: f.plug.pins.map((p) => ({ id: p.id, at: xy(p.at), ...carriesToSolver(p) })),
            ...(f.plug.lamps === undefined ? {} : { lamps: f.plug.lamps }),
          },
        }),
    ...(f.head === undefined ? {} : { head: headToSolver(f.head) }),
    ...(f.view === undefined ? {} : { view: { ...viewToSolver(f.view), towards: f.view.towards ?? 0 } }),
    ...(f.indicators === undefined
      ? {}
      : { indicators: f.indicators.map((i) => ({ id: i.id, at: xy(i.at), name: i.name ?? i.id })) }),
  }
}

const xyz = ([x, y, z]: readonly [number, number, number]) => ({ x: mm(x), y: mm(y), z: mm(z) })
const solidToSolver = ({ id, box: [x, y, z, w, d, h] }: z.infer<typeof solid>) => ({
  id,
  at: xyz([x, y, z]),
  width: mm(w),
  depth: mm(d),
  height: mm(h),
})
const viewToSolver = (v: NonNullable<z.infer<typeof head>['view']>) => ({
  from: xyz(v.from),
  width: v.width,
  height: v.height,
  ...(v.range === undefined ? {} : { range: mm(v.range) }),
})

const headToSolver = (h: z.infer<typeof head>): Head => ({
  pivot: xy(h.pivot),
  pan: [h.pan[0], h.pan[1]],
  reach: mm(h.reach),
  tail: mm(h.tail),
  z: [mm(h.z[0]), mm(h.z[1])],
  ...(h.tilt === undefined ? {} : { tilt: [h.tilt[0], h.tilt[1]] as const }),
  ...(h.tiltAxis === undefined ? {} : { tiltAxis: { ahead: mm(h.tiltAxis[0]), z: mm(h.tiltAxis[1]) } }),
  ...(h.payload === undefined ? {} : { payload: h.payload.map(solidToSolver) }),
  ...(h.bracket === undefined ? {} : { bracket: h.bracket.map(solidToSolver) }),
  ...(h.view === undefined ? {} : { view: viewToSolver(h.view) }),
})

const xy = ([x, y]: readonly [number, number]) => ({ x: mm(x), y: mm(y) })
const rect = ([x, y, w, h]: readonly [number, number, number, number]) => ({ x: mm(x), y: mm(y), w: mm(w), h: mm(h) })

function mountToSolver(m: FootprintFile['mount']): Mount {
  switch (m.kind) {
    case 'screw':
      return { kind: 'screw', standoff: mm(m.standoff ?? 0), holes: (m.holes ?? []).map(holeToSolver) }
    case 'strap':
      return { kind: 'strap', slots: (m.slots ?? []).map(rect) }
    case 'drop-in':
      return {
        kind: 'drop-in',
        cutout: rect(m.cutout),
        holes: (m.holes ?? []).map(holeToSolver),
        below: mm(m.below ?? 0),
      }
    case 'adhesive':
    case 'plug-in':
      return { kind: m.kind }
  }
}

const holeToSolver = (h: z.infer<typeof hole>): MountHole => ({
  id: h.id,
  at: xy(h.at),
  diameter: mm(h.diameter),
  land: mm(h.land ?? 0),
  ...(h.screw === undefined ? {} : { screw: h.screw }),
})
