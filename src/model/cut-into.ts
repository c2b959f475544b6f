/**
 * Holes across the edge of an opening, a lead's hole or another hole: a drill that breaks into a gap runs off. Openings that cross one
 * another are one opening, and a hole wholly in one is where a saw begins: both may be meant, and nothing is said of them.
 */
import { type Issue, snippet } from '../../footprints/problems.ts'
import { discInside, discOverlaps, mm, regionInside } from '../../solver/index.ts'
import { allows, type Effort, SLACK } from './off-deck.ts'
import type { Cut, Plate } from './plates.ts'
import { got, wanted } from './words.ts'

/** Each hole with each that it is across the edge of, once. */
export function cutInto(plates: readonly Plate[], effort: Effort): Issue[] {
  const issues: Issue[] = []
  const looked = new Map<Cut, Set<Cut>>()
  const told = new Set<string>()
  for (const { cuts } of plates) {
    for (const [hole, other] of pairs(cuts, effort)) {
      const before = looked.get(hole) ?? new Set()
      if (before.has(other)) continue
      looked.set(hole, before.add(other))
      if (!allows(effort, 20 * other.region.pieces.length) || !across(hole, other)) continue
      const key = [...hole.path, other.kind, other.id].join(' ')
      if (told.has(key)) continue
      told.add(key)
      const { at, diameter } = hole.round!
      const by = other.by && other.by !== hole.by ? other.by : undefined
      issues.push({
        path: hole.path,
        found: got.across(got.circle(snippet(at), diameter), other.kind, snippet(other.id)),
        expected: by ? wanted.inVariant(wanted.clearOfIt, snippet(by.id)) : wanted.clearOfIt,
      })
    }
  }
  return issues
}

/** Whether a hole's circle and the edge of another cut cross. */
function across({ region: disc, round }: Cut, { region: other }: Cut): boolean {
  const { at, diameter } = round!
  const [x, y, r] = [mm(at[0]), mm(at[1]), mm(diameter) / 2 - SLACK]
  return r > 0 && discOverlaps(other, x, y, r) && !discInside(other, x, y, r) && !regionInside(other, disc, SLACK)
}

/** Holes with what their boxes meet: from left to right, so that far ones are never compared. Of two holes the one that is listed later comes first. */
function* pairs(cuts: readonly Cut[], effort: Effort): Generator<[Cut, Cut]> {
  const sorted = cuts
    .map((cut, place) => ({ cut, place, box: cut.region.box }))
    .filter(({ cut }) => cut.round?.diameter !== 0)
    .sort((a, b) => a.box.x - b.box.x)
  for (const [i, a] of sorted.entries()) {
    for (let k = i + 1; k < sorted.length; k++) {
      const b = sorted[k]!
      if (b.box.x > a.box.x + a.box.w || !allows(effort, 1)) break
      if (b.box.y > a.box.y + a.box.h || a.box.y > b.box.y + b.box.h) continue
      const [first, second] = a.place < b.place ? [a.cut, b.cut] : [b.cut, a.cut]
      if (second.kind === 'hole') yield [second, first]
      else if (first.kind === 'hole') yield [first, second]
    }
  }
}
