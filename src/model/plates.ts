/**
 * What each deck has of outline, openings, holes, leads and passes, in every way that a variant asks it, and where each of them is
 * written: whoever looks for what is wrong with a plate can name the field, and says it once.
 */
import { shapeToSolver } from '../../footprints/fields.ts'
import type { Path } from '../../footprints/problems.ts'
import { mm, prepare, type Region } from '../../solver/index.ts'
import { own } from './asked.ts'
import type { Project, ProjectVariant } from './schema.ts'

/** One thing that is cut or drilled. `diameter` 0: only a place, where nothing is made. */
export interface Cut {
  readonly kind: 'opening' | 'hole' | 'exit' | 'pass'
  readonly id: string
  readonly path: Path
  readonly region: Region
  /** None for an opening. */
  readonly round?: { readonly at: readonly [number, number]; readonly diameter: number }
  /** The variant in which it is written; none: in the base. */
  readonly by?: ProjectVariant
}

/** A deck as at least one variant asks it. */
export interface Plate {
  readonly deck: string
  readonly outline: { readonly region: Region; readonly by?: ProjectVariant }
  readonly cuts: readonly Cut[]
}

const FIELDS = ['outline', 'openings', 'holes'] as const

/** Of a project that is sound. The base stands first where somebody asks it so; each way of a deck is there once. */
export function platesOf(project: Project): Plate[] {
  const { decks, variants } = project
  return decks.flatMap((deck, index) => {
    // By which variant gives which field: what stands in the base is prepared once for all.
    const ways = new Map<string, { by: (ProjectVariant | undefined)[]; asked: ProjectVariant[] }>()
    for (const variant of variants?.length ? variants : [undefined]) {
      if (variant?.drop?.includes(deck.id)) continue
      const patch = own(variant?.decks, deck.id)
      const by = FIELDS.map((f) => (patch?.[f] === undefined ? undefined : variant))
      const key = by.map((v) => (v ? variants!.indexOf(v) : '')).join()
      const way = ways.get(key) ?? { by, asked: [] }
      if (variant) way.asked.push(variant)
      ways.set(key, way)
    }
    const made = new Map<string, unknown>()
    const once = <T>(what: string, by: ProjectVariant | undefined, make: () => T): T => {
      const key = `${what} ${by ? variants!.indexOf(by) : ''}`
      if (!made.has(key)) made.set(key, make())
      return made.get(key) as T
    }
    const pathOf = (field: string, by: ProjectVariant | undefined): Path =>
      by ? ['variants', variants!.indexOf(by), 'decks', deck.id, field] : ['decks', index, field]
    return [...ways.values()]
      .sort((a, b) => a.by.filter(Boolean).length - b.by.filter(Boolean).length)
      .map(({ by: [outline, openings, holes], asked }): Plate => {
        const seen = (by: ProjectVariant | undefined) => own(by?.decks, deck.id) ?? deck
        return {
          deck: deck.id,
          outline: {
            region: once('outline', outline, () => prepare(shapeToSolver(seen(outline).outline ?? deck.outline))),
            ...(outline && { by: outline }),
          },
          cuts: [
            ...once('openings', openings, () =>
              (seen(openings).openings ?? []).map(({ id, shape }, k): Cut => {
                const path = [...pathOf('openings', openings), k, 'shape']
                const region = prepare(shapeToSolver(shape))
                return { kind: 'opening', id, path, region, ...(openings && { by: openings }) }
              }),
            ),
            ...once('holes', holes, () =>
              (seen(holes).holes ?? []).map((h, k) => {
                const path = [...pathOf('holes', holes), k, 'at']
                return { ...round('hole', h, path), ...(holes && { by: holes }) }
              }),
            ),
            ...leadsOf(project, deck.id, asked),
          ],
        }
      })
  })
}

/** Exits, and passes that are holes: a pass without a diameter may lead round the edge of a deck. */
function leadsOf({ exits = [], passes = [] }: Project, deck: string, asked: readonly ProjectVariant[]): Cut[] {
  return [
    ...exits.flatMap((e, i) => (e.deck === deck ? [round('exit', e, ['exits', i, 'at'])] : [])),
    ...passes.flatMap((p, i) => {
      const there = asked.length === 0 || asked.some((v) => !v.drop?.some((d) => p.decks.includes(d)))
      if (!p.decks.includes(deck) || p.diameter === undefined || !there) return []
      return [round('pass', p, ['passes', i, 'at'])]
    }),
  ]
}

const round = (
  kind: Cut['kind'],
  { id, at, diameter }: { id: string; at: readonly [number, number]; diameter?: number | undefined },
  path: Path,
): Cut => ({ kind, id, path, ...roundCut(at, diameter) })

/** A round one's part of what there is to know of it. */
export const roundCut = (at: readonly [number, number], diameter = 0): Required<Pick<Cut, 'region' | 'round'>> => ({
  region: prepare({ kind: 'circle', cx: mm(at[0]), cy: mm(at[1]), r: mm(diameter / 2) }),
  round: { at, diameter },
})
