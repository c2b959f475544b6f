/** A part by itself on a piece of deck, as a problem and a layout, so that the views of a robot can show it. */
import type { FootprintFile } from '../../footprints/schema.ts'
import { mm, type Placement, type Problem } from '../../solver/index.ts'
import { type Project, toProblem } from '../model/index.ts'

/** Deck round the body, mm. */
const MARGIN = 12

/** The footprint must be sound. What is dropped in gets its cut-out, and what is screwed down its holes. */
export function partStand(footprint: FootprintFile): { readonly problem: Problem; readonly placement: Placement } {
  const { width, depth } = footprint.body
  const { mount } = footprint
  const shifted = ([x, y]: readonly [number, number]): [number, number] => [x + MARGIN, y + MARGIN]
  const cuts = mount.kind === 'strap' ? (mount.slots ?? []) : mount.kind === 'drop-in' ? [mount.cutout] : []
  const holes = mount.kind === 'screw' || mount.kind === 'drop-in' ? (mount.holes ?? []) : []
  const project: Project = {
    format: 'deckwright-project',
    version: 1,
    units: 'mm',
    name: footprint.id,
    decks: [
      {
        id: 'deck',
        z: 0,
        thickness: 3,
        outline: { rect: [0, 0, width + 2 * MARGIN, depth + 2 * MARGIN] },
        openings: cuts.map(([x, y, w, h], k) => ({
          id: `cut-${k}`,
          shape: { rect: [x + MARGIN, y + MARGIN, w, h] },
          // As those that were cut for a strap before: what stands on them covers them.
          ...(mount.kind === 'strap' ? { mayCover: true, strap: true } : {}),
        })),
        holes: holes.map((h, k) => ({ id: `hole-${k}`, at: shifted(h.at), diameter: h.diameter })),
      },
    ],
    footprints: [footprint],
    items: [{ id: 'part', footprint: footprint.id }],
  }
  return {
    problem: toProblem(project, 'base', new Map()),
    placement: { item: 0, deck: 0, at: { x: mm(MARGIN), y: mm(MARGIN) }, turn: 0 },
  }
}
