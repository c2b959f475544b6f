/**
 * What a drawing cannot say, kept from the deck whose place it takes: names of openings and holes, which openings may be covered,
 * which were cut for straps.
 */
import { shapeToSolver } from '../../footprints/fields.ts'
import { bounds, prepare } from '../../solver/index.ts'
import type { ProjectDeck } from '../model/index.ts'

type Opening = NonNullable<ProjectDeck['openings']>[number]
type Hole = NonNullable<ProjectDeck['holes']>[number]

/** mm between sides, centres and diameters of what counts as the same, as in R5. */
const SAME = 0.1 + 1e-9

/**
 * `made` with the ids and the other fields of those of `old`'s openings and holes that stand in the same place; the rest gets ids
 * that are still free. An opening is the same where the box around it is.
 */
export function keptFrom(old: ProjectDeck | undefined, made: ProjectDeck): ProjectDeck {
  if (!old) return made
  const openings = paired(made.openings ?? [], old.openings ?? [], 'opening', sameBox, (was, now: Opening) => ({
    ...was,
    shape: now.shape,
  }))
  const holes = paired(made.holes ?? [], old.holes ?? [], 'hole', sameHole, (was, now: Hole) => ({
    ...was,
    ...now,
    id: was.id,
  }))
  return {
    ...made,
    ...(openings.length > 0 ? { openings } : {}),
    ...(holes.length > 0 ? { holes } : {}),
  }
}

function paired<T extends { readonly id: string }>(
  made: readonly T[],
  old: readonly T[],
  stem: string,
  same: (a: T, b: T) => boolean,
  keep: (was: T, now: T) => T,
): T[] {
  const left = [...old]
  const all = made.map((now) => {
    const k = left.findIndex((was) => same(was, now))
    return k < 0 ? { now } : { now, was: left.splice(k, 1)[0]! }
  })
  const taken = new Set(all.flatMap(({ was }) => (was ? [was.id] : [])))
  let next = 1
  return all.map(({ now, was }) => {
    if (was) return keep(was, now)
    while (taken.has(`${stem}-${next}`)) next += 1
    return { ...now, id: `${stem}-${next++}` }
  })
}

function sameBox(a: Opening, b: Opening): boolean {
  const [p, q] = [a, b].map((o) => bounds(prepare(shapeToSolver(o.shape))))
  const far = [p!.x - q!.x, p!.y - q!.y, p!.x + p!.w - q!.x - q!.w, p!.y + p!.h - q!.y - q!.h]
  return far.every((d) => Math.abs(d) / 1000 <= SAME)
}

const sameHole = (a: Hole, b: Hole): boolean =>
  Math.hypot(a.at[0] - b.at[0], a.at[1] - b.at[1]) <= SAME && Math.abs(a.diameter - b.diameter) <= SAME
