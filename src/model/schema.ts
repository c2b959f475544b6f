/**
 * The project file (contract §3) as one schema, and its type: the document as it stands in the file, in mm, with whatever
 * optional fields it has. What names something elsewhere in the file is checked in references.ts.
 */
import * as z from 'zod/mini'
import {
  band,
  byId,
  choice,
  coordinate,
  flag,
  id,
  length,
  list,
  listById,
  literal,
  object,
  point,
  range,
  ref,
  shape,
  size,
  straightContour,
  text,
  turn,
  whole,
} from '../../footprints/fields.ts'
import { loadSchema, powerSchema } from '../../footprints/power-fields.ts'
import { footprintSchema } from '../../footprints/schema.ts'
import { terminalKind } from '../../footprints/terminals.ts'
import { wanted as common } from '../../footprints/words.ts'
import type { ObjectiveName, Side, ZoneKind } from '../../solver/problem.ts'
import { net } from './net-fields.ts'
import { powerSettings, track, wireFields, wiringSettings } from './wiring-fields.ts'
import { wanted } from './words.ts'

/** Of one item (contract §1). */
export const MOST_COPIES = 200

export const SIDES = ['front', 'back', 'left', 'right'] as const satisfies readonly Side[]
export const ZONES = ['keep-out', 'reserved', 'view', 'underside'] as const satisfies readonly ZoneKind[]
/** What a project may ask for; without a word it asks for all but `new-holes`. */
export const OBJECTIVES = [
  'free-tie-points',
  'optional-value',
  'new-holes',
  'wire-length',
  'balance',
] as const satisfies readonly ObjectiveName[]

const settings = object({
  grid: z.optional(size),
  edgeClearance: z.optional(length),
  itemClearance: z.optional(length),
  minWeb: z.optional(length),
  // ours, optional: see src/electric
  wiring: z.optional(wiringSettings),
  power: z.optional(powerSettings),
  // ours, optional, limits of statics: how far the ground may slope before the robot tips, and how much one track may carry
  leastTipAngle: z.optional(range(0, 89, common.degrees)),
  mostTrackShare: z.optional(range(0.5, 1, wanted.share)),
})

const deck = object({
  id,
  name: z.optional(text),
  z: coordinate,
  thickness: size,
  outline: shape,
  // strap (ours, optional): a slot that was cut for a strap, so that a strap slot of a layout may be this one
  openings: z.optional(listById(object({ id, shape, mayCover: z.optional(flag), strap: z.optional(flag) }))),
  holes: z.optional(listById(object({ id, at: point, diameter: size }))),
  material: z.optional(text),
})

const grams = range(0, 1e6, common.grams)
const chassis = object({
  contact: straightContour.check(z.refine((c) => c.every((p) => p.length === 2), { error: wanted.flatCorners })),
  mass: grams,
  centre: z.tuple([coordinate, coordinate, coordinate], { error: common.pointInSpace }),
  // ours, optional: what leads keep clear of
  tracks: z.optional(listById(track)),
})

const exit = object({
  id,
  deck: ref,
  at: point,
  free: z.optional(length),
  diameter: z.optional(size),
  // ours, optional: what the motor or other load behind this lead draws
  load: z.optional(loadSchema),
  // ours, optional: what its leads carry
  kind: z.optional(terminalKind),
})

const pass = object({
  id,
  decks: z
    .tuple([ref, ref], { error: wanted.twoDecks })
    .check(z.refine(([a, b]) => a !== b, { error: wanted.differentDecks })),
  at: point,
  diameter: z.optional(size),
})

const place = z.discriminatedUnion(
  'kind',
  [
    object({ kind: literal('at'), deck: ref, at: point, turn: z.optional(turn) }),
    object({ kind: literal('centred'), axis: choice(['x', 'y']) }),
    object({ kind: literal('edge'), edge: choice(SIDES), within: length }),
    object({ kind: literal('inside'), shape }),
    object({ kind: literal('near'), item: ref, within: length }),
    object({ kind: literal('beyond'), item: ref, side: choice(SIDES) }),
    object({ kind: literal('host'), item: ref }),
  ],
  { error: common.objectWithKind },
)

const item = object({
  id,
  footprint: ref,
  count: z.optional(whole(1, MOST_COPIES)),
  required: z.optional(flag),
  value: z.optional(range(0, 1e9, wanted.ofValue)),
  turns: z.optional(list(turn).check(z.refine((t) => t.length > 0, { error: wanted.someTurns }))),
  decks: z.optional(list(ref)),
  place: z.optional(list(place)),
  stack: z.optional(length),
  later: z.optional(flag),
  // ours, optional, for statics: what a stack weighs, lightest and heaviest, and what a later item will weigh and reach
  stackMass: z.optional(
    z
      .tuple([grams, grams], { error: wanted.masses })
      .check(z.refine(([lo, hi]) => lo <= hi, { error: wanted.massesInOrder })),
  ),
  laterMass: z.optional(grams),
  laterReach: z.optional(length),
  overhang: z.optional(
    object({
      front: z.optional(length),
      back: z.optional(length),
      left: z.optional(length),
      right: z.optional(length),
    }),
  ),
  // ours, optional: fields that replace those of the footprint's `power`
  power: z.optional(powerSchema),
})

const zone = object({
  id,
  kind: choice(ZONES),
  deck: ref,
  shape,
  z: z.optional(band),
  why: z.optional(text),
})

const wireEnd = object({ exit: z.optional(ref), item: z.optional(ref), terminal: z.optional(ref) }).check(
  z.refine(
    (e) => {
      if (typeof e !== 'object' || e === null || Array.isArray(e)) return true
      return 'exit' in e ? !('item' in e || 'terminal' in e) : 'item' in e && 'terminal' in e
    },
    { error: wanted.wireEnd, when: () => true },
  ),
) as unknown as z.ZodMiniType<{ exit: string } | { item: string; terminal: string }>

const numberOrText = (what: string) => z.union([z.number(), z.string()], { error: what })
const wire = object({
  id,
  from: wireEnd,
  to: wireEnd,
  maxLength: z.optional(length),
  loop: z.optional(length),
  conductors: z.optional(whole(1, 1000)),
  gauge: z.optional(numberOrText(wanted.gauge)),
  // ours, optional: what the user calls the wire's colour, for the cut list
  colour: z.optional(text),
  current: z.optional(range(0, 1e4, common.amperes)),
  supply: z.optional(numberOrText(wanted.supply)),
  ...wireFields,
})

const variant = object({
  id,
  name: z.optional(text),
  items: z.optional(byId(z.partial(z.omit(item, { id: true })))),
  omit: z.optional(list(ref)),
  release: z.optional(list(ref)),
  wires: z.optional(byId(z.nullable(z.partial(z.omit(wire, { id: true }))))),
  settings: z.optional(settings),
  decks: z.optional(byId(z.partial(z.omit(deck, { id: true })))),
  drop: z.optional(list(ref)),
})

const objective = list(choice(OBJECTIVES)).check(
  z.refine((o) => new Set(o).size === o.length, { error: wanted.objectivesOnce }),
)

export const projectSchema = object({
  format: literal('deckwright-project'),
  version: literal(1),
  units: literal('mm'),
  name: text,
  settings: z.optional(settings),
  decks: listById(deck).check(z.refine((d) => d.length > 0, { error: wanted.someDecks })),
  chassis: z.optional(chassis),
  exits: z.optional(listById(exit)),
  passes: z.optional(listById(pass)),
  footprints: z.optional(listById(footprintSchema)),
  items: listById(item),
  zones: z.optional(listById(zone)),
  wires: z.optional(listById(wire)),
  nets: z.optional(listById(net)),
  objective: z.optional(objective),
  variants: z.optional(listById(variant)),
  // ours, optional: what the page keeps (page-notes.ts)
  page: z.optional(z.unknown()),
})

export type Project = z.infer<typeof projectSchema>
export type ProjectDeck = Project['decks'][number]
export type ProjectItem = Project['items'][number]
export type ProjectPlace = NonNullable<ProjectItem['place']>[number]
export type ProjectWire = NonNullable<Project['wires']>[number]
export type ProjectWireEnd = ProjectWire['from']
export type ProjectNet = NonNullable<Project['nets']>[number]
export type ProjectZone = NonNullable<Project['zones']>[number]
export type ProjectExit = NonNullable<Project['exits']>[number]
export type ProjectPass = NonNullable<Project['passes']>[number]
export type ProjectVariant = NonNullable<Project['variants']>[number]
export type ProjectSettings = NonNullable<Project['settings']>
