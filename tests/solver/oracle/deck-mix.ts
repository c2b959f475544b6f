/** What random decks are made of: the whole mix, and the plain one that single rules start from. */
import type { Mix } from './parts.ts'

/** How often each feature turns up (0–1), and the sizes in mm. */
export interface DeckMix extends Mix {
  readonly grids: readonly number[]
  readonly deck: readonly [number, number]
  /** Most grid steps along a side of the deck (never under 6 mm). */
  readonly cells: number
  readonly items: readonly [number, number]
  /** Bodies, as a share of the deck's sides. */
  readonly body: readonly [number, number]
  readonly shaped: number
  readonly second: number
  readonly openings: number
  readonly holes: number
  readonly rounds: number
  readonly zones: number
  readonly boards: number
  readonly plugs: number
  readonly heads: number
  readonly counted: number
  readonly optional: number
  readonly later: number
  readonly stack: number
  readonly clearance: number
  readonly overhang: number
  readonly place: number
  readonly pairPlace: number
  readonly wires: number
  readonly limits: number
  readonly chassis: number
  readonly turns: number
  readonly tiePoints: number
  /** Thin the features of some decks out, so that crowded and easy ones both turn up. */
  readonly vary: boolean
}

/** All rules at once. */
export const everything: DeckMix = {
  mounts: ['screw', 'adhesive', 'adhesive', 'strap', 'drop-in'],
  grids: [1, 1, 0.5, 2, 2.5, 3, 4, 5, 7.3],
  deck: [6, 40],
  cells: 9,
  items: [2, 4],
  body: [0.15, 0.5],
  corridor: 0.3,
  above: 0.3,
  open: 0.12,
  terminals: 0.95,
  mass: 0.6,
  shaped: 0.45,
  second: 0.35,
  openings: 0.3,
  holes: 0.3,
  rounds: 0.3,
  zones: 0.4,
  boards: 0.35,
  plugs: 0.6,
  heads: 0.15,
  counted: 0.25,
  optional: 0.5,
  later: 0.1,
  stack: 0.2,
  clearance: 0.35,
  overhang: 0.15,
  place: 0.2,
  pairPlace: 0.2,
  wires: 0.75,
  limits: 0.45,
  chassis: 0.5,
  turns: 0.6,
  tiePoints: 10,
  vary: true,
}

/** Nothing but bodies on a plain deck: what the mixes for single rules start from. */
export const plain: DeckMix = {
  ...everything,
  mounts: ['adhesive'],
  corridor: 0,
  above: 0,
  open: 0,
  terminals: 0,
  mass: 0,
  shaped: 0,
  second: 0,
  openings: 0,
  holes: 0,
  rounds: 0,
  zones: 0,
  boards: 0,
  plugs: 0,
  heads: 0,
  counted: 0,
  optional: 0,
  later: 0,
  stack: 0,
  clearance: 0,
  overhang: 0,
  place: 0,
  pairPlace: 0,
  wires: 0,
  limits: 0,
  chassis: 0,
  vary: false,
}
