/**
 * What is under way in the deck workshop and is no part of the document: which deck is open, what a drag on its plan makes, and the drag
 * itself. Letting go turns it into one edit of the project.
 */
import { createStore, type StoreApi } from 'zustand/vanilla'
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

/** From where to where, mm in the deck's frame, snapped. `part` and `id`: what is being moved. */
export interface DraftDrag {
  readonly from: PointMm
  readonly to: PointMm
  readonly moves?: Chosen
}

/** Lengths in mm. */
export interface ToolSizes {
  readonly diameter: number
  readonly slotWidth: number
  readonly radius: number
  /** What a drag snaps to; 0 = nothing. */
  readonly step: number
}

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
}

export const createDeckDraft = (deck: string): StoreApi<DeckDraft> =>
  createStore<DeckDraft>(() => ({
    deck,
    tool: 'move',
    // A clearance hole for M3, medium fit: ISO 273 (from memory). The rest: common practice, no source.
    sizes: { diameter: 3.4, slotWidth: 4, radius: 1, step: 1 },
    zone: 'keep-out',
    other: undefined,
    chosen: undefined,
    typeInto: false,
    drag: undefined,
  }))

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

/** `to` snapped; what is moved keeps its own distance from the steps. */
export const dragTo = (draft: DeckDraft, at: PointMm): DeckDraft =>
  draft.drag ? { ...draft, drag: { ...draft.drag, to: snapped(at, draft.sizes.step) } } : draft

/** What letting go now would make of the project; undefined: nothing. */
export function dropped(project: Project, draft: DeckDraft): Made | undefined {
  const { drag, deck, tool, sizes } = draft
  if (!drag) return undefined
  const { from, to, moves } = drag
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
      if (tool === 'pillar') return addPillar(project, [deck, other], at, sizes.diameter)
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
