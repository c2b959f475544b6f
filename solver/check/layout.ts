/** What every rule file looks at: the problem, the raw placements, the bodies, and the openings of each deck. */
import type { Placement, Problem } from '../problem.ts'
import { prepare, type Region } from '../shapes.ts'
import type { Rect } from '../units.ts'
import { type Body, bodiesOf, cutoutOn } from './body.ts'
import { coincides } from './reuse.ts'

export interface DeckOpening {
  readonly id: string
  readonly region: Region
  readonly mayCover: boolean
  readonly strap: boolean
  /** `lead`: the round opening of an exit or a pass. */
  readonly kind: 'opening' | 'lead'
}

export interface DeckPlan {
  readonly outline: Region
  readonly openings: readonly DeckOpening[]
}

export interface Layout {
  readonly problem: Problem
  readonly placements: readonly Placement[]
  readonly bodies: readonly Body[]
  /** By item index. */
  readonly bodyOf: ReadonlyMap<number, Body>
  /** By deck index. */
  readonly decks: readonly DeckPlan[]
}

export function layoutOf(problem: Problem, placements: readonly Placement[]): Layout {
  const bodies = bodiesOf(problem, placements)
  return {
    problem,
    placements,
    bodies,
    bodyOf: new Map(bodies.map((b) => [b.index, b])),
    decks: problem.decks.map((deck, d) => ({ outline: prepare(deck.outline), openings: openingsOf(problem, d) })),
  }
}

/** All openings of a deck: its own, then exits and passes with a diameter. */
export function openingsOf(problem: Problem, deck: number): DeckOpening[] {
  const round = (id: string, at: { x: number; y: number }, diameter: number): DeckOpening => ({
    id,
    // A radius may end in half a micrometre; round shapes are worked in doubles anyway.
    region: prepare({ kind: 'circle', cx: at.x, cy: at.y, r: diameter / 2 } as Parameters<typeof prepare>[0]),
    mayCover: false,
    strap: false,
    kind: 'lead',
  })
  return [
    ...(problem.decks[deck]?.openings ?? []).map(
      (o): DeckOpening => ({
        id: o.id,
        region: prepare(o.shape),
        mayCover: o.mayCover,
        strap: o.strap ?? false,
        kind: 'opening',
      }),
    ),
    ...problem.exits
      .filter((e) => e.deck === deck && e.diameter !== undefined)
      .map((e) => round(e.id, e.at, e.diameter!)),
    ...problem.passes
      .filter((p) => p.decks.includes(deck) && p.diameter !== undefined)
      .map((p) => round(p.id, p.at, p.diameter!)),
  ]
}

/** Whether a drop-in part's cut-out is this opening. */
export function isOwnCutout(body: Body, opening: DeckOpening): boolean {
  const cutout = cutoutOn(body.item.footprint, body.placement)
  return cutout !== undefined && coincides(cutout, opening.region.shape)
}

/** Whether a strap's slot is this opening: one that was cut for a strap. */
export const isOwnSlot = (slot: Rect, { strap, region }: DeckOpening): boolean => strap && coincides(slot, region.shape)

/** Whether a body stands on the deck itself (R1). */
export const stands = (body: Body): boolean => body.item.footprint.mount.kind !== 'plug-in'
