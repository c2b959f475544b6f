/**
 * Openings, holes, exits and passes that are beside the plate that they say they are in, or reach over its edge. No rule asks for it, and
 * all of them are taken as they stand, so it is told and nothing more.
 */
import { type Issue, snippet } from '../../footprints/problems.ts'
import { discInside, mm, pointDistance, type Region, regionInside, regionOverlaps, toMm } from '../../solver/index.ts'
import type { Cut, Plate } from './plates.ts'
import { got, wanted } from './words.ts'

/** Um: so far a place on a slanted or round edge may come off it where each coordinate is rounded to 0.001 mm, by half of that: √(½² + ½²). */
const ROUNDED = 0.71
/** Um: the same of a circle or a shape, whose size is rounded too. */
export const SLACK = 1.5

/** How many pieces of outlines may still be looked at. */
export interface Effort {
  left: number
}

/** Whether there is as much left, which is taken from it; what asks for more than that is not looked at. */
export function allows(effort: Effort, pieces: number): boolean {
  if (pieces > effort.left) return false
  effort.left -= pieces
  return true
}

/** What is wrong with one, as found and expected; none where all of it is in the plate. */
export function offPlate(
  cut: Pick<Cut, 'region' | 'round'>,
  plate: Region,
  deck: string,
): Omit<Issue, 'path'> | undefined {
  const { region, round } = cut
  if (round) {
    const [x, y] = [mm(round.at[0]), mm(round.at[1])]
    const r = mm(round.diameter) / 2
    if (pointDistance(plate, x, y) > ROUNDED) return { found: snippet(round.at), expected: wanted.overDeck(deck) }
    if (r <= SLACK || discInside(plate, x, y, r - SLACK)) return undefined
    const found = got.circle(snippet(round.at), round.diameter)
    return { found, expected: wanted.circleOverDeck(deck, round.diameter / 2) }
  }
  if (regionInside(region, plate, SLACK)) return undefined
  const { x, y, w, h } = region.box
  const [x1, y1] = [x + w, y + h].map((v) => toMm(v as typeof x))
  return {
    found: got.opening([toMm(x), x1!], [toMm(y), y1!], regionOverlaps(region, plate)),
    expected: wanted.shapeOverDeck(deck),
  }
}

/** Pieces that are looked at to tell of a shape: all of the plate's for every stretch between pieces that come near its own. */
function workOf({ pieces: own }: Region, { pieces }: Region): number {
  const apart = (p: Piece, q: Piece): boolean =>
    p.minX > q.maxX || q.minX > p.maxX || p.minY > q.maxY || q.minY > p.maxY
  const close = own.reduce((n, p) => n + pieces.filter((q) => !apart(p, q)).length, 0)
  return (own.length + 2 * close) * 6 * pieces.length
}

type Piece = Region['pieces'][number]

/** Each that is not wholly in its plate, once a deck. */
export function offDeck(plates: readonly Plate[], effort: Effort): Issue[] {
  const issues: Issue[] = []
  const told = new Set<string>()
  const looked = new Map<Cut, Set<Region>>()
  for (const { deck, outline, cuts } of plates) {
    for (const cut of cuts) {
      const key = [deck, ...cut.path].join(' ')
      const before = looked.get(cut) ?? new Set()
      if (told.has(key) || before.has(outline.region)) continue
      looked.set(cut, before.add(outline.region))
      const pieces = outline.region.pieces.length
      if (!allows(effort, cut.round ? pieces : pieces * cut.region.pieces.length)) continue
      if (!cut.round && !allows(effort, workOf(cut.region, outline.region))) continue
      const off = offPlate(cut, outline.region, snippet(deck))
      if (off === undefined) continue
      told.add(key)
      const { by } = outline
      const expected = by && by !== cut.by ? wanted.inVariant(off.expected, snippet(by.id)) : off.expected
      issues.push({ path: cut.path, found: off.found, expected })
    }
  }
  return issues
}
