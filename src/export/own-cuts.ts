/**
 * What a plate has of its own, whatever stands on it: holes that are taken to be there already (contract §8), and openings, lead holes and
 * passes, which are cut with a new plate.
 */
import { bounds, type Deck, type Problem, prepare, type Shape, toMm, um } from '../../solver/index.ts'

/** How many there are of each diameter, mm, the widest first; those that stand twice in a file are one. */
export function thereAlready({ holes }: Deck): { readonly count: number; readonly diameter: number }[] {
  const counts = new Map<number, number>()
  const once = new Set(holes.map(({ at, diameter }) => `${at.x} ${at.y} ${diameter}`))
  for (const hole of once) {
    const diameter = Number(hole.split(' ')[2]) / 1000
    counts.set(diameter, (counts.get(diameter) ?? 0) + 1)
  }
  return [...counts].map(([diameter, count]) => ({ diameter, count })).sort((a, b) => b.diameter - a.diameter)
}

export interface OwnCut {
  readonly kind: 'opening' | 'slot' | 'drawn' | 'exit' | 'pass' | 'hole'
  readonly id: string
  /** Along x and along y, mm; of a round one both are its diameter. */
  readonly size: readonly [number, number]
  readonly round: boolean
  /** Of corners, mm; 0 of sharp ones, and of what is round or drawn. */
  readonly radius: number
  /** Of its centre, from the left and the lower edge of the outline's bounding box, mm. */
  readonly fromLeft: number
  readonly fromLower: number
}

/** Of a deck by its index: what is cut with the plate, then the holes that are taken to be there already. */
export function ownCuts(problem: Problem, deck: number): OwnCut[] {
  const { outline, openings, holes } = problem.decks[deck]!
  const datum = bounds(prepare(outline))
  const of = (kind: OwnCut['kind'], id: string, shape: Shape): OwnCut => {
    const { x, y, w, h } = bounds(prepare(shape))
    const [radius, round] =
      shape.kind === 'rect' ? [shape.radius, w === h && 2 * shape.radius >= w] : [0, shape.kind === 'circle']
    return {
      kind,
      id,
      size: [toMm(w), toMm(h)],
      round,
      radius: round ? 0 : toMm(um(radius)),
      fromLeft: toMm(um(x - datum.x + w / 2)),
      fromLower: toMm(um(y - datum.y + h / 2)),
    }
  }
  const disc = (
    kind: OwnCut['kind'],
    { id, at, diameter }: { id: string; at: Deck['holes'][number]['at']; diameter?: number },
  ): OwnCut[] => (diameter ? [of(kind, id, { kind: 'circle', cx: at.x, cy: at.y, r: um(diameter / 2) })] : [])
  return [
    ...openings.map(({ id, shape }) => of(kindOf(shape), id, shape)),
    ...problem.exits.filter((e) => e.deck === deck).flatMap((e) => disc('exit', e)),
    ...problem.passes.filter((p) => p.decks.includes(deck)).flatMap((p) => disc('pass', p)),
    ...holes.flatMap((h) => disc('hole', h)),
  ]
}

function kindOf(shape: Shape): OwnCut['kind'] {
  if (shape.kind === 'circle') return 'opening'
  if (shape.kind !== 'rect') return 'drawn'
  return shape.w !== shape.h && 2 * shape.radius >= Math.min(shape.w, shape.h) ? 'slot' : 'opening'
}
