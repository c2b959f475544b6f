/**
 * What is under way in the deck workshop and is no part of the document: which deck is open, what a drag on its plan makes, and the drag
 * itself. Letting go turns it into one edit of the project.
 */
import { createStore, type StoreApi } from 'zustand/vanilla'
import {
  addCorner,
  type Corner,
  cornersOf,
  moveCorner,
  polygonOf,
  type ShapeAt,
  shapeAt,
  withShapeAt,
} from '../model/edit-corners.ts'
import { addPart, addPillar, type Made, type Part } from '../model/edit-deck.ts'
import { movePart, type PointMm, rectBetween, slotShape, snapped } from '../model/edit-shapes.ts'
import type { Project, ProjectZone } from '../model/index.ts'

/** `move`: a drag moves what is there. */
export const TOOLS = ['move', 'opening', 'slot', 'round', 'hole', 'pillar', 'lead', 'pass', 'zone'] as const
export type Tool = (typeof TOOLS)[number]

export interface Chosen {
  readonly part: Part
  readonly id: string
}

/** A corner of a shape, counted from 0; with `added` the one to be made in the middle of the edge that starts there. */
export interface DraftCorner {
  readonly of: ShapeAt
  readonly at: number
  readonly added?: true
}

/** From where to where, mm in the deck's frame, snapped. `moves`: what is moved whole; `corner`: what alone is. */
export interface DraftDrag {
  readonly from: PointMm
  readonly to: PointMm
  readonly moves?: Chosen
  readonly corner?: DraftCorner
  /** Where a pointer took the corner, which is hardly its very middle. */
  readonly grip?: PointMm
}

/** Lengths in mm. */
export interface ToolSizes {
  readonly diameter: number
  readonly slotWidth: number
  readonly radius: number
  /** So much is kept free round a pillar's middle; 0 = nothing. */
  readonly pillarWidth: number
  /** What a drag snaps to; 0 = nothing. */
  readonly step: number
}

/** A stand-off with its washer: common practice, no source. */
const PILLAR = 8

export interface DeckDraft {
  readonly deck: string
  readonly tool: Tool
  readonly sizes: ToolSizes
  readonly zone: ProjectZone['kind']
  /** Where pillars and passes lead. */
  readonly other: string | undefined
  readonly chosen: Chosen | undefined
  /** What was chosen was made by a button: its row wants the focus, to be typed into. */
  readonly typeInto: boolean
  readonly drag: DraftDrag | undefined
  /** The shape whose corners are shown, and which of them is in hand, from 0. */
  readonly corners: { readonly of: ShapeAt; readonly at: number } | undefined
  /** The variant that alone is to be changed, though it has no value of its own yet. */
  readonly onlyIn: string | undefined
}

export const createDeckDraft = (deck: string): StoreApi<DeckDraft> =>
  createStore<DeckDraft>(() => ({
    deck,
    tool: 'move',
    // A clearance hole for M3, medium fit: ISO 273 (from memory). The rest: common practice, no source.
    sizes: { diameter: 3.4, slotWidth: 4, radius: 1, pillarWidth: PILLAR, step: 1 },
    zone: 'keep-out',
    other: undefined,
    chosen: undefined,
    typeInto: false,
    drag: undefined,
    corners: undefined,
    onlyIn: undefined,
  }))

/** Another deck is open: nothing of the one before is in hand. */
export const onDeck = (deck: string): Partial<DeckDraft> => ({
  deck,
  chosen: undefined,
  drag: undefined,
  corners: undefined,
})

/** The other deck that pillars and passes lead to: the one chosen, or the nearest over or under this one. */
export function otherDeck(project: Project, { deck, other }: Pick<DeckDraft, 'deck' | 'other'>): string | undefined {
  const here = project.decks.find((d) => d.id === deck)
  const others = project.decks.filter((d) => d.id !== deck)
  if (others.some((d) => d.id === other)) return other
  const far = (z: number): number => Math.abs(z - (here?.z ?? 0))
  return [...others].sort((a, b) => far(a.z) - far(b.z))[0]?.id
}

export const dragFrom = (draft: DeckDraft, at: PointMm, moves?: Chosen): DeckDraft => {
  const from = snapped(at, draft.sizes.step)
  return { ...draft, drag: { from, to: from, ...(moves ? { moves } : {}) }, chosen: moves ?? draft.chosen }
}

/** Takes a corner that stands at `place`; `grip`: where a pointer did so. */
export const cornerFrom = (draft: DeckDraft, corner: DraftCorner, place: PointMm, grip?: PointMm): DeckDraft => ({
  ...draft,
  corners: { of: corner.of, at: corner.added ? corner.at + 1 : corner.at },
  drag: { from: place, to: place, corner, ...(grip ? { grip } : {}) },
})

/** `to` snapped; what is moved whole keeps its own distance from the steps, a corner comes to stand on one. */
export function dragTo(draft: DeckDraft, at: PointMm): DeckDraft {
  const { drag, sizes } = draft
  if (!drag) return draft
  const { from, grip } = drag
  if (!grip) return { ...draft, drag: { ...drag, to: snapped(at, sizes.step) } }
  const [dx, dy] = [at[0] - grip[0], at[1] - grip[1]]
  // A hand that trembles moves nothing.
  const still = Math.hypot(dx, dy) < sizes.step / 2
  return { ...draft, drag: { ...drag, to: still ? from : snapped([from[0] + dx, from[1] + dy], sizes.step) } }
}

/** What a drag moves, by so much more; mm. */
export const dragBy = (draft: DeckDraft, dx: number, dy: number): DeckDraft =>
  draft.drag
    ? { ...draft, drag: { ...draft.drag, to: snapped([draft.drag.to[0] + dx, draft.drag.to[1] + dy], 0) } }
    : draft

/** The corners as letting go now would leave them, sound or not; undefined: none is moved. */
export function draggedCorners(project: Project, { deck, drag }: DeckDraft): readonly Corner[] | undefined {
  if (!drag?.corner) return undefined
  const { of, at, added } = drag.corner
  const corners = cornersOf(shapeAt(project, deck, of))
  if (!corners || at >= corners.length) return undefined
  if (added) return moveCorner(addCorner(corners, at), at + 1, drag.to)
  return drag.from[0] === drag.to[0] && drag.from[1] === drag.to[1] ? undefined : moveCorner(corners, at, drag.to)
}

/** What letting go now would make of the project; undefined: nothing. */
export function dropped(project: Project, draft: DeckDraft): Made | undefined {
  const { drag, deck, tool, sizes } = draft
  if (!drag) return undefined
  const { from, to, moves } = drag
  if (drag.corner) {
    const corners = draggedCorners(project, draft)
    if (!corners) return undefined
    return { project: withShapeAt(project, deck, drag.corner.of, polygonOf(corners)), id: '' }
  }
  if (moves) {
    const project_ = movePart(project, deck, moves.part, moves.id, to[0] - from[0], to[1] - from[1])
    return project_ === project ? undefined : { project: project_, id: moves.id }
  }
  const length = Math.hypot(to[0] - from[0], to[1] - from[1])
  const at: [number, number] = [to[0], to[1]]
  switch (tool) {
    case 'move':
      return undefined
    case 'opening': {
      const shape = rectBetween(from, to, sizes.radius)
      return shape && addPart(project, deck, 'openings', { shape })
    }
    case 'slot':
      if (length === 0) return undefined
      return addPart(project, deck, 'openings', { shape: slotShape(from, to, sizes.slotWidth) }, 'slot')
    case 'round':
      // From the middle outwards; a click alone has no size.
      if (length === 0) return undefined
      return addPart(project, deck, 'openings', {
        shape: { circle: [from[0], from[1], Math.round(length * 1000) / 1000] },
      })
    case 'zone': {
      const shape = rectBetween(from, to)
      return shape && addPart(project, deck, 'zones', { kind: draft.zone, deck, shape })
    }
    case 'hole':
      return addPart(project, deck, 'holes', { at, diameter: sizes.diameter })
    case 'lead':
      return addPart(project, deck, 'exits', { deck, at, free: 150 })
    case 'pillar':
    case 'pass': {
      const other = otherDeck(project, draft)
      if (other === undefined) return undefined
      if (tool === 'pillar') return addPillar(project, [deck, other], at, sizes.diameter, sizes.pillarWidth)
      return addPart(project, deck, 'passes', { decks: [deck, other], at, diameter: 8 })
    }
  }
}

/** The list that a tool's result stands in; undefined: none. */
export const partOf = (tool: Tool): Part | undefined =>
  ({
    move: undefined,
    opening: 'openings' as const,
    slot: 'openings' as const,
    round: 'openings' as const,
    hole: 'holes' as const,
    pillar: 'holes' as const,
    lead: 'exits' as const,
    pass: 'passes' as const,
    zone: 'zones' as const,
  })[tool]
