/** Mixes that exercise mainly one rule, and the sizes that each oracle can bear. */
import { type DeckMix, everything, plain } from './deck-mix.ts'

/** Set for the long run: every seed instead of a sample. */
export const LONG = process.env.DECKWRIGHT_LONG === '1'

export type RuleName = 'R1' | 'R2' | 'R3' | 'R4' | 'R5' | 'R6' | 'R7' | 'R8' | 'R9' | 'R10'

// With a chassis every position is worth something, so that a rule shows wherever it bites.
const bare: DeckMix = {
  ...plain,
  items: [2, 3],
  optional: 0.3,
  body: [0.2, 0.55],
  chassis: 0.8,
  mass: 0.9,
  terminals: 0.5,
  wires: 0.4,
}

export const ruleMixes: Record<RuleName, DeckMix> = {
  R1: {
    ...bare,
    mounts: ['adhesive', 'screw', 'drop-in'],
    shaped: 0.7,
    openings: 0.7,
    rounds: 0.5,
    clearance: 0.5,
    overhang: 0.3,
    items: [1, 2],
  },
  R2: { ...bare, clearance: 0.6, second: 0.3, counted: 0.3, items: [2, 4] },
  R3: { ...bare, mounts: ['adhesive', 'screw'], corridor: 0.9, stack: 0.2, second: 0.3 },
  R4: { ...bare, mounts: ['adhesive', 'screw', 'strap'], zones: 1, stack: 0.3, second: 0.2, items: [1, 2] },
  R5: { ...bare, mounts: ['screw', 'strap', 'drop-in'], holes: 0.8, openings: 0.4, shaped: 0.3, zones: 0.2 },
  R6: { ...bare, boards: 0.8, plugs: 1, clearance: 0.2, items: [2, 3], body: [0.2, 0.3] },
  R7: { ...bare, terminals: 1, wires: 1, limits: 0.9, second: 0.4, counted: 0.3, rounds: 0.1 },
  R8: { ...bare, mounts: ['adhesive', 'screw'], second: 1, above: 0.6, open: 0.2, stack: 0.3, openings: 0.4 },
  R9: { ...bare, mounts: ['adhesive', 'screw'], heads: 0.5, above: 0.4, open: 0.2, stack: 0.2, second: 0.35 },
  R10: { ...bare, place: 0.6, pairPlace: 0.5, counted: 0.3, second: 0.2, shaped: 0.3 },
}

/** For brute force. */
export const tiny: DeckMix = everything
/** For CP-SAT: finer grids, more items. */
export const small: DeckMix = { ...everything, cells: 22, items: [3, 5], deck: [8, 40] }
