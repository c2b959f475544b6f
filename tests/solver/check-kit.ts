/** Small problems for the checker's tests: everything in millimetres, everything missing set to what asks least. */
import { check } from '../../solver/check/check.ts'
import type {
  Breadboard,
  Corridor,
  Deck,
  Footprint,
  Head,
  Item,
  Mount,
  Placement,
  Problem,
  Shape,
  Wire,
  Zone,
} from '../../solver/problem.ts'
import type { Finding, RuleId } from '../../solver/result.ts'
import { mm, type Point, type Rect, type Turn } from '../../solver/units.ts'

/** One micrometre, in millimetres: the step just inside and just outside every limit. */
export const UM = 0.001

export const pt = (x: number, y: number): Point => ({ x: mm(x), y: mm(y) })
export const box = (x: number, y: number, w: number, h: number): Rect => ({ x: mm(x), y: mm(y), w: mm(w), h: mm(h) })
export const rect = (x: number, y: number, w: number, h: number, radius = 0): Shape => ({
  kind: 'rect',
  ...box(x, y, w, h),
  radius: mm(radius),
})
export const circle = (x: number, y: number, r: number): Shape => ({ kind: 'circle', cx: mm(x), cy: mm(y), r: mm(r) })
export const sector = (x: number, y: number, r: number, from: number, to: number): Shape => ({
  kind: 'sector',
  cx: mm(x),
  cy: mm(y),
  r: mm(r),
  from,
  to,
})
export const poly = (...points: readonly (readonly [number, number, number?])[]): Shape => ({
  kind: 'polygon',
  points: points.map(([x, y, bulge]) => ({ ...pt(x, y), bulge: bulge ?? 0 })),
})

/** A 100 × 80 mm plate, 3 mm thick, its top 50 mm over the ground. */
export function deck(outline: Shape = rect(0, 0, 100, 80), more: Partial<Deck> = {}): Deck {
  return { id: 'main', name: 'main', z: mm(50), thickness: mm(3), outline, openings: [], holes: [], ...more }
}

export const screwed = (
  holes: readonly { at: readonly [number, number]; diameter: number; land?: number }[] = [],
  standoff = 0,
): Mount => ({
  kind: 'screw',
  standoff: mm(standoff),
  holes: holes.map((h, i) => ({
    id: `h${i + 1}`,
    at: pt(...h.at),
    diameter: mm(h.diameter),
    land: mm(h.land ?? 0),
  })),
})

interface Part {
  readonly mount?: Mount
  readonly mass?: number
  readonly above?: number | 'open'
  readonly corridors?: readonly Corridor[]
  readonly terminals?: Readonly<Record<string, readonly [number, number]>>
  readonly breadboard?: Breadboard
  readonly pins?: readonly (readonly [number, number])[]
  readonly head?: Head
}

/** A footprint of `w` × `d` × `h` mm, screwed down without holes unless `part` says otherwise. */
export function part(w: number, d: number, h = 10, more: Part = {}): Footprint {
  return {
    id: 'part',
    name: 'part',
    kind: 'part',
    width: mm(w),
    depth: mm(d),
    height: mm(h),
    mass: more.mass ?? 0,
    mount: more.mount ?? screwed(),
    above: more.above === 'open' ? 'open' : mm(more.above ?? 0),
    corridors: more.corridors ?? [],
    terminals: Object.entries(more.terminals ?? {}).map(([id, at]) => ({ id, at: pt(...at) })),
    ...(more.breadboard ? { breadboard: more.breadboard } : {}),
    ...(more.pins ? { plug: { pins: more.pins.map((at, i) => ({ id: `${i + 1}`, at: pt(...at) })) } } : {}),
    ...(more.head ? { head: more.head } : {}),
  }
}

export function item(id: string, footprint: Footprint, more: Partial<Item> = {}): Item {
  return {
    id,
    base: id.replace(/#.*/, ''),
    footprint,
    required: true,
    value: 1,
    turns: [0, 1, 2, 3],
    decks: [0, 1, 2],
    place: [],
    stack: mm(0),
    later: false,
    overhang: { front: mm(0), back: mm(0), left: mm(0), right: mm(0) },
    ...more,
  }
}

/** `overhang` of one item, in mm. */
export const overhang = (o: Partial<Record<'front' | 'back' | 'left' | 'right', number>>): Item['overhang'] => ({
  front: mm(o.front ?? 0),
  back: mm(o.back ?? 0),
  left: mm(o.left ?? 0),
  right: mm(o.right ?? 0),
})

export function problem(items: readonly Item[], more: Partial<Problem> = {}): Problem {
  return {
    name: 'bench',
    variant: 'base',
    grid: mm(UM),
    edgeClearance: mm(0),
    itemClearance: mm(0),
    minWeb: mm(0),
    decks: [deck()],
    exits: [],
    passes: [],
    items,
    zones: [],
    wires: [],
    objective: ['free-tie-points', 'optional-value', 'wire-length', 'balance'],
    ...more,
  }
}

/** Item number, corner in mm, turn, deck number, host's item number. */
export function put(index: number, x: number, y: number, turn: Turn = 0, on = 0, host?: number): Placement {
  const p = { item: index, deck: on, at: pt(x, y), turn }
  return host === undefined ? p : { ...p, host }
}

export const zone = (kind: Zone['kind'], shape: Shape, z?: readonly [number, number]): Zone => ({
  id: `${kind}-1`,
  kind,
  deck: 0,
  shape,
  ...(z ? { z: [mm(z[0]), mm(z[1])] as const } : {}),
})

export const corridor = (shape: Shape, lo: number, hi: number): Corridor => ({
  id: 'plug',
  shape,
  z: [mm(lo), mm(hi)],
  why: 'data plug',
})

export const wire = (from: Wire['from'], to: Wire['to'], more: Partial<Wire> = {}): Wire => ({
  id: 'w',
  from,
  to,
  loop: mm(0),
  conductors: 1,
  ...more,
})

/** The rules that a layout breaks, one entry a finding. */
export const broken = (p: Problem, placements: readonly Placement[]): RuleId[] =>
  check(p, placements).map((f) => f.rule)

/** Findings of one rule. */
export const of = (rule: RuleId, p: Problem, placements: readonly Placement[]): Finding[] =>
  check(p, placements).filter((f) => f.rule === rule)
