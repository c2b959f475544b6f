/**
 * What a problem is: decks, items, rules, as plain values. One variant, copies expanded, every length in Um, every
 * reference resolved to an index. `src/model` makes one from a project file; the search and the checker both read it.
 */
import type { Carries, NetAsked, TerminalKind } from './terminals.ts'
import type { Point, Rect, Turn, Um } from './units.ts'

/** A shape in some frame (contract §1). `bulge` = tan(sweep/4) of the segment that starts at the vertex; degrees anticlockwise from +x. */
export type Shape =
  | { readonly kind: 'rect'; readonly x: Um; readonly y: Um; readonly w: Um; readonly h: Um; readonly radius: Um }
  | { readonly kind: 'circle'; readonly cx: Um; readonly cy: Um; readonly r: Um }
  | { readonly kind: 'polygon'; readonly points: readonly { readonly x: Um; readonly y: Um; readonly bulge: number }[] }
  | {
      readonly kind: 'sector'
      readonly cx: Um
      readonly cy: Um
      readonly r: Um
      readonly from: number
      readonly to: number
    }

export interface MountHole {
  readonly id: string
  readonly at: Point
  readonly diameter: Um
  /** Diameter of head, washer or stand-off that needs solid deck; 0 = none. */
  readonly land: Um
  readonly screw?: string
}

export type Mount =
  | { readonly kind: 'screw'; readonly standoff: Um; readonly holes: readonly MountHole[] }
  | { readonly kind: 'adhesive' }
  | { readonly kind: 'strap'; readonly slots: readonly Rect[] }
  | { readonly kind: 'drop-in'; readonly cutout: Rect; readonly holes: readonly MountHole[]; readonly below: Um }
  | { readonly kind: 'plug-in' }

export interface Corridor {
  readonly id: string
  readonly shape: Shape
  /** Heights over the body's own underside. */
  readonly z: readonly [Um, Um]
  readonly why: string
  /** What must be in reach through it with nothing taken off; for statics. */
  readonly access?: Access
}

/** `program`: the plug through which a program is loaded. */
export type Access = 'cells' | 'program' | 'reset' | 'switch'

export interface Terminal extends Carries {
  readonly id: string
  readonly at: Point
  readonly name?: string
}

export interface TieBlock {
  readonly at: Point
  readonly columns: number
  readonly rows: number
  /** `column`: all points of one column are one conductor; `row`: all of one row. */
  readonly strip: 'column' | 'row'
}

/** A pin of a plug-in part. */
export interface PlugPin extends Carries {
  readonly id: string
  readonly at: Point
  readonly name?: string
}

export interface Breadboard {
  readonly pitch: Um
  readonly blocks: readonly TieBlock[]
  /** Blocks (indices) whose rows are one conductor; what is not named here is not known to be. For electric only. */
  readonly joined?: readonly (readonly number[])[]
}

export interface Head {
  readonly pivot: Point
  /** 0° looks along +v, anticlockwise. */
  readonly pan: readonly [number, number]
  readonly reach: Um
  readonly tail: Um
  /** Heights over the deck's top face. */
  readonly z: readonly [Um, Um]
  /** From here on for statics; the rules know only the fields above. Degrees, 0 = level, positive = looking up. */
  readonly tilt?: readonly [number, number]
  /** The tilt axis runs from left to right at pan 0: how far ahead of the pivot, and how high over the deck's top face. */
  readonly tiltAxis?: { readonly ahead: Um; readonly z: Um }
  /** What pans and tilts, at pan 0 and tilt 0: x to the right and y ahead from the middle of the tilt axis, z over the axis. */
  readonly payload?: readonly Solid[]
  /** What pans and does not tilt, at pan 0: x to the right and y ahead from the pivot, z over the deck's top face. */
  readonly bracket?: readonly Solid[]
  /** What the payload looks at, in the payload's frame, ahead. */
  readonly view?: View
}

/** A box with its sides along the axes; `at` is its left, rear, lower corner. */
export interface Solid {
  readonly id: string
  readonly at: SpacePoint
  readonly width: Um
  readonly depth: Um
  readonly height: Um
}

export interface SpacePoint {
  readonly x: Um
  readonly y: Um
  readonly z: Um
}

/** Pyramid of sight; `width` and `height` are full angles in degrees, `range` along its axis (missing: without end). */
export interface View {
  readonly from: SpacePoint
  readonly width: number
  readonly height: number
  readonly range?: Um
}

export type FootprintKind = 'board' | 'breadboard' | 'pack' | 'head' | 'sensor' | 'part'

export interface Footprint {
  readonly id: string
  readonly name: string
  readonly kind: FootprintKind
  readonly width: Um
  readonly depth: Um
  readonly height: Um
  /** Grams. */
  readonly mass: number
  readonly mount: Mount
  readonly above: Um | 'open'
  readonly corridors: readonly Corridor[]
  readonly terminals: readonly Terminal[]
  readonly breadboard?: Breadboard
  /** Pins that must fall on tie points; present on every plug-in part. */
  readonly plug?: {
    readonly pins: readonly PlugPin[]
    /** The part's face with the lamps that must be seen, as the footprint is drawn: `back` lies down. For electric only. */
    readonly lamps?: 'front' | 'back'
  }
  readonly head?: Head
  /** What a part that does not move looks at: footprint frame, z over the underside; `towards` 0° = along +v, anticlockwise. */
  readonly view?: View & { readonly towards: number }
  /** Lights on the top face that must be in sight from above. */
  readonly indicators?: readonly { readonly id: string; readonly at: Point; readonly name: string }[]
}

export interface Opening {
  readonly id: string
  readonly shape: Shape
  readonly mayCover: boolean
  /** A slot cut for a strap: a strap slot that coincides with it reuses it. */
  readonly strap?: boolean
}

export interface Hole {
  readonly id: string
  readonly at: Point
  readonly diameter: Um
}

export interface Deck {
  readonly id: string
  readonly name: string
  /** Height of the top face over the ground. */
  readonly z: Um
  readonly thickness: Um
  readonly outline: Shape
  readonly openings: readonly Opening[]
  readonly holes: readonly Hole[]
  readonly material?: string
}

export interface Exit {
  readonly id: string
  /** Index into `Problem.decks`. */
  readonly deck: number
  readonly at: Point
  /** What its leads carry. */
  readonly kind?: TerminalKind
  readonly free?: Um
  readonly diameter?: Um
}

export interface Pass {
  readonly id: string
  readonly decks: readonly [number, number]
  readonly at: Point
  readonly diameter?: Um
}

export type Side = 'front' | 'back' | 'left' | 'right'

/**
 * `items` are indices into `Problem.items`: the copies that the file's name stands for, any one of which will do; none where it names an item that the variant omits.
 * `numbered`: the file says `board#1` of the only board; `name` is that one's id, and where there come to be more it means the first alone.
 */
export interface ItemRef {
  readonly name: string
  readonly items: readonly number[]
  readonly numbered?: true
}

export type Place =
  | { readonly kind: 'at'; readonly deck: number; readonly at: Point; readonly turn?: Turn }
  | { readonly kind: 'centred'; readonly axis: 'x' | 'y' }
  | { readonly kind: 'edge'; readonly edge: Side; readonly within: Um }
  | { readonly kind: 'inside'; readonly shape: Shape }
  | { readonly kind: 'near'; readonly item: ItemRef; readonly within: Um }
  | { readonly kind: 'beyond'; readonly item: ItemRef; readonly side: Side }
  | { readonly kind: 'host'; readonly item: ItemRef }

export interface Item {
  /** `id`, or `id#k` where the file counts more than one. */
  readonly id: string
  /** The file's id, the same for all copies. */
  readonly base: string
  readonly footprint: Footprint
  readonly required: boolean
  /** Earned when an optional item is placed. */
  readonly value: number
  readonly turns: readonly Turn[]
  /** Allowed decks, indices into `Problem.decks`. */
  readonly decks: readonly number[]
  readonly place: readonly Place[]
  readonly stack: Um
  readonly later: boolean
  readonly overhang: Readonly<Record<Side, Um>>
  /** Grams that may stand on top of the body, lightest and heaviest; for statics. */
  readonly stackMass?: readonly [number, number]
  /** Of a `later` item, for statics: grams once it is there (missing: the footprint's), and how far its centre of gravity may lie from the body's, in plan. */
  readonly laterMass?: number
  readonly laterReach?: Um
}

export type ZoneKind = 'keep-out' | 'reserved' | 'view' | 'underside'

export interface Zone {
  readonly id: string
  readonly kind: ZoneKind
  readonly deck: number
  readonly shape: Shape
  /** Over the deck's top face; missing = all heights (for `view`, lo = 0). */
  readonly z?: readonly [Um, Um]
  readonly why?: string
}

export type WireEnd =
  | { readonly kind: 'exit'; readonly exit: number }
  /** `at` in the footprint's frame; the nearest of `ref.items` counts. */
  | { readonly kind: 'item'; readonly ref: ItemRef; readonly terminal: string; readonly at: Point }

export interface Wire {
  readonly id: string
  readonly from: WireEnd
  readonly to: WireEnd
  readonly maxLength?: Um
  readonly loop: Um
  readonly conductors: number
  /** As the file gives it: AWG where it is a number; for tables only. */
  readonly gauge?: number | string
  /** As the user names it; for tables only. */
  readonly colour?: string
}

export interface Chassis {
  readonly contact: readonly Point[]
  /** Grams. */
  readonly mass: number
  readonly centre: { readonly x: Um; readonly y: Um; readonly z: Um }
}

/** `new-holes` is ours, beside the contract's four: holes, slots and cut-outs that are not there yet; only where a project asks for it. */
export type ObjectiveName = 'free-tie-points' | 'optional-value' | 'new-holes' | 'wire-length' | 'balance'

export interface Problem {
  readonly name: string
  readonly variant: string
  readonly grid: Um
  readonly edgeClearance: Um
  readonly itemClearance: Um
  readonly minWeb: Um
  readonly decks: readonly Deck[]
  readonly chassis?: Chassis
  readonly exits: readonly Exit[]
  readonly passes: readonly Pass[]
  readonly items: readonly Item[]
  readonly zones: readonly Zone[]
  /** Without those of `later` items and those that name an item the variant omits. */
  readonly wires: readonly Wire[]
  readonly objective: readonly ObjectiveName[]
  /** Who is to be joined with whom; absent where the file says nothing. For electric only. */
  readonly nets?: readonly NetAsked[]
  /** Copies that the file names by their number in what is left out here (wires and nets of `later` items, what feeds a wire), so that the number must stay good. */
  readonly named?: readonly string[]
  /** Limits that statics puts on a layout: degrees, and the share of the weight (0.5 to 1) on one track. */
  readonly leastTipAngle?: number
  readonly mostTrackShare?: number
}

/** Where one item stands: `at` = lower-left corner of the turned body; `deck`, `host` = indices. */
export interface Placement {
  readonly item: number
  readonly deck: number
  readonly at: Point
  readonly turn: Turn
  readonly host?: number
}
