/** What a button adds to a deck, where nobody pointed at a place: as near to the middle of the plate as there is room. Lengths in mm. */
import { shapeToSolver } from '../../footprints/fields.ts'
import { mm, prepare, type Region, rectInside, rectOverlaps } from '../../solver/index.ts'
import { addPart, addPillar, type Made, type Part, partsOf } from '../model/edit-deck.ts'
import type { PointMm } from '../model/edit-shapes.ts'
import { DEFAULTS, type Project } from '../model/index.ts'
import { type DeckDraft, otherDeck, type Tool } from './deck-draft.ts'
import { cutsIn, DRAWN } from './deck-worries.ts'
import { boxOf } from './outline.ts'

type Rect = [number, number, number, number]

/** So many places along a plate's longer side are tried, at whole millimetres. */
const TRIED = 200

/** What something new must not lie on: all that is open in the plate, and for holes and openings where none may be; for a zone the zones. */
function inTheWay(project: Project, deck: string, part: Part): readonly Region[] {
  const zones = partsOf(project, 'zones', deck)
  const regions = (list: typeof zones): Region[] => list.map((z) => prepare(shapeToSolver(z.shape)))
  if (part === 'zones') return regions(zones)
  const bare = part === 'holes' || part === 'openings'
  return [
    ...cutsIn(project, deck, DRAWN).map((c) => c.region),
    ...(bare ? regions(zones.filter((z) => z.kind === 'underside')) : []),
  ]
}

/**
 * The middle of something of that size, nearest to the middle of the first deck's plate, where nothing of any of the decks is yet;
 * among places equally near the one farthest right, then farthest to the front. The middle itself where there is none.
 */
function freePlace(
  project: Project,
  decks: readonly string[],
  part: Part,
  [width, depth]: readonly [number, number],
): [number, number] {
  const there = project.decks.filter((d) => decks.includes(d.id))
  const plates = there.map((d) => prepare(shapeToSolver(d.outline)))
  const taken = there.flatMap((d) => inTheWay(project, d.id, part))
  const gap = part === 'zones' ? 0 : mm(project.settings?.minWeb ?? DEFAULTS.minWeb)
  const isFree = ([x, y]: PointMm): boolean => {
    const rect = { x: mm(x - width / 2), y: mm(y - depth / 2), w: mm(width), h: mm(depth) }
    return plates.every((p) => rectInside(p, rect, gap)) && !taken.some((r) => rectOverlaps(r, rect, gap))
  }
  const first = project.decks.find((d) => d.id === decks[0])
  if (!first) return [0, 0]
  const box = boxOf(shapeToSolver(first.outline))
  const middle: [number, number] = [Math.round((box.x + box.w / 2) / 1000), Math.round((box.y + box.h / 2) / 1000)]
  const step = Math.ceil(Math.max(box.w, box.h) / 1000 / TRIED)
  const most = (side: number): number => Math.floor(side / 2000 / step)
  const steps = (n: number): number[] => Array.from({ length: 2 * n + 1 }, (_, k) => (k - n) * step)
  const places = steps(most(box.w)).flatMap((dx) => steps(most(box.h)).map((dy) => [dx, dy] as const))
  const far = ([dx, dy]: PointMm): number => dx * dx + dy * dy
  places.sort((a, b) => far(a) - far(b) || b[0] - a[0] || b[1] - a[1])
  const free = places.find(([dx, dy]) => isFree([middle[0] + dx, middle[1] + dy]))
  return free ? [middle[0] + free[0], middle[1] + free[1]] : middle
}

/** One more of what a tool makes; undefined where it needs a second deck and there is none. */
export function added(project: Project, draft: DeckDraft, tool: Exclude<Tool, 'move'>): Made | undefined {
  const { deck, sizes } = draft
  const place = (part: Part, width: number, depth = width, on: readonly string[] = [deck]): [number, number] =>
    freePlace(project, on, part, [width, depth])
  switch (tool) {
    case 'opening': {
      const [x, y] = place('openings', 20, 10)
      const radius = Math.min(sizes.radius, 5)
      const shape = { rect: [x - 10, y - 5, 20, 10] as Rect, ...(radius > 0 ? { radius } : {}) }
      return addPart(project, deck, 'openings', { shape })
    }
    case 'slot': {
      const [x, y] = place('openings', 20, sizes.slotWidth)
      const rect: Rect = [x - 10, y - sizes.slotWidth / 2, 20, sizes.slotWidth]
      return addPart(project, deck, 'openings', { shape: { rect, radius: Math.min(sizes.slotWidth / 2, 10) } }, 'slot')
    }
    case 'round':
      return addPart(project, deck, 'openings', { shape: { circle: [...place('openings', 12), 6] } })
    case 'hole':
      return addPart(project, deck, 'holes', { at: place('holes', sizes.diameter), diameter: sizes.diameter })
    case 'lead':
      return addPart(project, deck, 'exits', { deck, at: place('exits', DRAWN), free: 150 })
    case 'zone': {
      const [x, y] = place('zones', 20)
      return addPart(project, deck, 'zones', { kind: draft.zone, deck, shape: { rect: [x - 10, y - 10, 20, 20] } })
    }
    case 'pillar':
    case 'pass': {
      const other = otherDeck(project, draft)
      if (other === undefined) return undefined
      const both = [deck, other] as const
      if (tool === 'pass')
        return addPart(project, deck, 'passes', { decks: [...both], at: place('passes', 8, 8, both), diameter: 8 })
      const wide = Math.max(sizes.diameter, sizes.pillarWidth)
      return addPillar(project, both, place('holes', wide, wide, both), sizes.diameter, sizes.pillarWidth)
    }
  }
}
