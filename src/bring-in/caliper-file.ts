/**
 * The measures file: what was measured with a caliper, and what it is to become. Lengths in mm.
 *
 * `{"format":"deckwright-measures","version":1,"gives":…,"caliper":…,"holes":[…],"measures":[…]}`
 * - `gives`: `{"kind":"deck","id","z","thickness"}` (`name`, `material` as in a project) or
 *   `{"kind":"footprint","id","height"}` (`name`, `standoff`).
 * - `caliper`: `{"reading","instrument"}`, standard uncertainties: of one reading, and of the instrument itself.
 * - `holes`: `{"id","diameter"?,"near":[x,y]?}`; a diameter that is missing is to be measured, or follows from near and far sides.
 * - `measures`: `{"from","to"?,"jaws"?,"readings":[mm,…]}`: ends are hole ids, edges (left, right, front, back) or corners
 *   (front-left …); without `to` it is the hole's diameter. `jaws`: centre (default), to an edge or corner near or far, between
 *   holes inner or outer.
 */
import * as z from 'zod/mini'
import {
  choice,
  coordinate,
  id,
  issuesOf,
  length,
  list,
  listById,
  literal,
  object,
  point,
  size,
  text,
} from '../../footprints/fields.ts'
import { type Issue, oneOf, type Read, snippet } from '../../footprints/problems.ts'
import { type Checked, readFile, withoutFaults } from '../model/door.ts'
import { CORNERS, EDGES, faultOf, isCorner, isEdge } from './caliper-model.ts'
import { measured } from './words-caliper.ts'

const MOST_HOLES = 50
const MOST_MEASURES = 1000
const MOST_READINGS = 100
const JAWS = ['centre', 'near', 'far', 'inner', 'outer'] as const

const atMost = (most: number, says: string) =>
  z.check<unknown[]>(({ value, issues }) => {
    if (value.length > most) {
      issues.push({ code: 'custom', path: [], message: says, input: value, continue: true })
    }
  })

const readings = list(size, measured.readings).check(
  z.refine((r) => r.length > 0, { error: measured.someReadings }),
  atMost(MOST_READINGS, measured.atMostReadings(MOST_READINGS)),
)
const measure = object({ from: text, to: z.optional(text), jaws: z.optional(choice(JAWS)), readings })
const hole = object({ id, diameter: z.optional(size), near: z.optional(point) })
const gives = z.discriminatedUnion(
  'kind',
  [
    object({
      kind: literal('deck'),
      id,
      name: z.optional(text),
      z: coordinate,
      thickness: size,
      material: z.optional(text),
    }),
    object({
      kind: literal('footprint'),
      id,
      name: z.optional(text),
      height: size,
      standoff: z.optional(length),
    }),
  ],
  { error: measured.gives },
)

export const measuresSchema = object({
  format: literal('deckwright-measures'),
  version: literal(1),
  units: z.optional(literal('mm')),
  name: z.optional(text),
  gives,
  caliper: z.optional(object({ reading: z.optional(size), instrument: z.optional(length) })),
  holes: z.optional(listById(hole).check(atMost(MOST_HOLES, measured.atMostHoles(MOST_HOLES)))),
  measures: list(measure).check(atMost(MOST_MEASURES, measured.atMostMeasures(MOST_MEASURES))),
})

export type MeasuresFile = z.infer<typeof measuresSchema>

/** A measures file's text; never throws, all problems at once, each with its field. */
export function readMeasures(source: string | Uint8Array, file: string): Read<MeasuresFile> {
  return readFile<MeasuresFile>(source, file, 'deckwright-measures', (document): Checked => {
    const { problems, warnings } = issuesOf(measuresSchema, document)
    const sound = withoutFaults(document, problems) as Partial<MeasuresFile>
    // Names make no sense where a list itself is none.
    if (problems.some((p) => p.path.length < 2)) return { problems, warnings }
    return { problems: [...problems, ...namesIn(sound)], warnings }
  })
}

function namesIn(file: Partial<MeasuresFile>): Issue[] {
  const issues: Issue[] = []
  const holes = (file.holes ?? []).map((h) => h?.id)
  holes.forEach((name, i) => {
    if (name === undefined || !(isEdge(name) || isCorner(name))) return
    issues.push({ path: ['holes', i, 'id'], found: snippet(name), expected: measured.otherName })
  })
  const ends = [...holes.filter((h) => h !== undefined), ...EDGES, ...CORNERS]
  for (const [i, m] of (file.measures ?? []).entries()) {
    if (typeof m?.from !== 'string') continue
    let known = true
    for (const field of ['from', 'to'] as const) {
      const name = m[field]
      if (name === undefined || ends.includes(name)) continue
      known = false
      issues.push({ path: ['measures', i, field], found: snippet(name), expected: oneOf(ends, name) })
    }
    const fault = known ? faultOf(m) : undefined
    if (fault === undefined) continue
    issues.push({ path: ['measures', i, fault.field], found: snippet(m[fault.field]), expected: fault.expected })
  }
  return issues
}
