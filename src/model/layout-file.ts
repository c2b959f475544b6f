/**
 * The layout file (contract §6): one schema, read and written. Reading asks only for what a layout is, its placements; what can
 * be worked out again is a figure, and a figure that makes no sense is a warning and is dropped.
 */
import * as z from 'zod/mini'
import { choice, flag, issuesOf, list, literal, object, range, size, text, turn } from '../../footprints/fields.ts'
import { type Issue, oneOf, type Read, snippet } from '../../footprints/problems.ts'
import { wanted as common } from '../../footprints/words.ts'
import type { SolveResult } from '../../solver/index.ts'
import { type Checked, readFile, withoutFaults } from './door.ts'
import { OBJECTIVES, type Project } from './schema.ts'
import { variantsOf } from './variants.ts'
import { wanted } from './words.ts'

const STATUS = ['optimal', 'feasible', 'infeasible', 'unknown'] as const satisfies readonly SolveResult['status'][]

const figure = z.number({ error: wanted.number })
const ref = z.string({ error: wanted.idOfProject })

/** mm: no deck of a legal file reaches so far, not with its longest, roundest arc (28 m, a bulge of 1000) and the widest overhang. */
const OUTERMOST = 15_000_000
const stands = range(-OUTERMOST, OUTERMOST, common.coordinate)
/** Where a body stands: farther out than a file's own numbers may be, for decks and overhangs reach beyond those. */
export const place = z.tuple([stands, stands], { error: common.point })

const placements = list(object({ item: ref, deck: ref, at: place, turn: z.optional(turn), host: z.optional(ref) }))

const layoutSchema = object({
  format: literal('deckwright-layout'),
  version: literal(1),
  project: z.optional(text),
  variant: z.optional(ref),
  status: z.optional(choice(STATUS)),
  objectives: z.optional(
    list(object({ name: choice(OBJECTIVES), value: figure, bound: z.optional(figure), proven: z.optional(flag) })),
  ),
  placements,
  leftOut: z.optional(list(ref)),
  wires: z.optional(list(object({ id: ref, length: figure, cut: z.optional(figure) }))),
  freeTiePoints: z.optional(figure),
  freeArea: z.optional(figure),
  grid: z.optional(size),
  seconds: z.optional(figure),
  conflict: z.optional(list(object({ rule: text, items: list(ref), text }))),
  conflictIrreducible: z.optional(flag),
  // what would make it fit (optional, ours): sentences, the patch of the project file that does it, and a layout of that
  loosenings: z.optional(list(object({ text, relative: figure, least: flag, patch: list(z.unknown()), placements }))),
  looseningsComplete: z.optional(flag),
})

/** A layout as it stands in the file: mm, mm², seconds, ids. */
export type LayoutFile = z.infer<typeof layoutSchema>

const NEEDED = new Set<unknown>(['format', 'version', 'variant', 'placements'])

/** A turn that is not given is taken as 0, and told: it may have been forgotten. */
const turnless = (places: LayoutFile['placements']): Issue[] =>
  places.flatMap(({ turn: said }, i) =>
    said === undefined
      ? [{ path: ['placements', i, 'turn'], found: snippet(undefined), expected: wanted.turnTaken }]
      : [],
  )

/**
 * A layout file's text to the layout in it. Never throws; a figure that makes no sense is dropped with a warning. `of`, the project that
 * it is of, must have the variant that it names; where there is none at hand, nothing is said of that.
 */
export function readLayout(source: string | Uint8Array, file: string, of?: Project): Read<LayoutFile> {
  return readFile<LayoutFile>(source, file, 'deckwright-layout', (document): Checked => {
    const { problems, warnings } = issuesOf(layoutSchema, document)
    const needed = (i: Issue) => i.path.length === 0 || NEEDED.has(i.path[0])
    const wrong = problems.filter((i) => !needed(i))
    // The whole figure goes, not only the part of it that is wrong.
    const value = withoutFaults(
      document,
      [...new Set(wrong.map((i) => i.path[0]!))].map((f) => ({ path: [f] })),
    )
    const refused = [...problems.filter(needed), ...(of === undefined ? [] : strangeVariant(of, value))]
    const told = refused.length > 0 ? [] : turnless((value as LayoutFile).placements)
    return {
      problems: refused,
      warnings: [...warnings, ...told, ...wrong.map((i) => ({ ...i, expected: wanted.recomputed(i.expected) }))],
      value,
    }
  })
}

export const writeLayout = (layout: LayoutFile): string => `${JSON.stringify(layout, null, 2)}\n`

/** A variant that the project lacks; one that is no text has been told by the schema. */
function strangeVariant(project: Project, document: unknown): Issue[] {
  const { variant } = Object(document) as Partial<LayoutFile>
  const ids = variantsOf(project).map((v) => v.id)
  if (typeof variant !== 'string' || ids.includes(variant)) return []
  return [{ path: ['variant'], found: snippet(variant), expected: wanted.variantOf(oneOf(ids, variant)) }]
}

/** The variant that a layout of the project is of: the first where it names none. */
export const layoutVariant = (project: Project, layout: LayoutFile): string =>
  layout.variant ?? variantsOf(project)[0]!.id
