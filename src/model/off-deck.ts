/**
 * Exits, and passes that are holes, whose middle is beside the plate that they say they come through. No rule asks for it, and leads are
 * measured from there all the same, so it is told and nothing more. A pass without a diameter may lead round the edge of a deck.
 */
import { shapeToSolver } from '../../footprints/fields.ts'
import { type Issue, MOST_LISTED, type Path, snippet } from '../../footprints/problems.ts'
import { mm, pointDistance, prepare, type Region } from '../../solver/index.ts'
import { own } from './asked.ts'
import type { Project, ProjectVariant } from './schema.ts'
import { wanted } from './words.ts'

/** Corners of outlines: no robot comes near it, and a file made to hurt is not looked at to its end. */
const MOST_LOOKED = 10_000_000

/** Um: so far a place on a slanted or round edge may come off it where each coordinate is rounded to 0.001 mm, by half of that: √(½² + ½²). */
const ROUNDED = 0.71

interface Plate {
  readonly region: Region
  /** The one that gives the deck this outline; none where it is the deck's own. */
  readonly variant?: ProjectVariant
}

/** Of a project that is sound: each that stands beside its deck, once a deck. */
export function offDeck(project: Project): Issue[] {
  const exits = project.exits ?? []
  const passes = (project.passes ?? []).map((p, i) => ({ ...p, i })).filter((p) => p.diameter !== undefined)
  if (exits.length + passes.length === 0) return []
  const plates = platesOf(project)
  const issues: Issue[] = []
  let looked = 0
  const look = (path: Path, at: readonly [number, number], decks: readonly string[]): void => {
    for (const deck of decks) {
      const off = (plates.get(deck) ?? []).find(({ region, variant }) => {
        if (variant?.drop?.some((d) => decks.includes(d))) return false
        looked += region.pieces.length
        return looked <= MOST_LOOKED && pointDistance(region, mm(at[0]), mm(at[1])) > ROUNDED
      })
      if (off === undefined || issues.length > MOST_LISTED) continue
      const expected = wanted.overDeck(snippet(deck))
      const { variant } = off
      issues.push({
        path,
        found: snippet(at),
        expected: variant ? wanted.inVariant(expected, snippet(variant.id)) : expected,
      })
    }
  }
  for (const [i, e] of exits.entries()) look(['exits', i, 'at'], e.at, [e.deck])
  for (const p of passes) look(['passes', p.i, 'at'], p.at, p.decks)
  return issues
}

/** Every outline that a deck has in any variant, the deck's own first. */
function platesOf({ decks, variants = [] }: Project): Map<string, Plate[]> {
  return new Map(
    decks.map((deck) => {
      const region = (outline: typeof deck.outline): Region => prepare(shapeToSolver(outline))
      const there = variants.filter((v) => !v.drop?.includes(deck.id))
      const patched = there.flatMap((variant) => {
        const outline = own(variant.decks, deck.id)?.outline
        return outline === undefined ? [] : [{ region: region(outline), variant }]
      })
      const bare = variants.length === 0 || patched.length < there.length
      return [deck.id, [...(bare ? [{ region: region(deck.outline) }] : []), ...patched]]
    }),
  )
}
