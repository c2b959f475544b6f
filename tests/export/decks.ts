/** Invented decks for the export tests, built as plain problems; every number ours. */
import type { Deck, Footprint, Item, Mount, Placement, Point, Problem, Shape, Turn } from '../../solver/index.ts'
import { mm } from '../../solver/index.ts'

export const pt = (x: number, y: number): Point => ({ x: mm(x), y: mm(y) })

export const rect = (x: number, y: number, w: number, h: number, radius = 0): Shape => ({
  kind: 'rect',
  x: mm(x),
  y: mm(y),
  w: mm(w),
  h: mm(h),
  radius: mm(radius),
})

export const round = (cx: number, cy: number, r: number): Shape => ({
  kind: 'circle',
  cx: mm(cx),
  cy: mm(cy),
  r: mm(r),
})

export function part(id: string, width: number, depth: number, mount: Mount, more: Partial<Footprint> = {}): Footprint {
  return {
    id,
    name: id,
    kind: 'part',
    width: mm(width),
    depth: mm(depth),
    height: mm(5),
    mass: 0,
    mount,
    above: mm(0),
    corridors: [],
    terminals: [],
    ...more,
  }
}

export const screws = (...holes: readonly (readonly [number, number, number])[]): Mount => ({
  kind: 'screw',
  standoff: mm(3),
  holes: holes.map(([u, v, diameter], i) => ({ id: `h${i}`, at: pt(u, v), diameter: mm(diameter), land: mm(0) })),
})

export function item(id: string, footprint: Footprint, more: Partial<Item> = {}): Item {
  return {
    id,
    base: id,
    footprint,
    required: true,
    value: 1,
    turns: [0, 1, 2, 3],
    decks: [0],
    place: [],
    stack: mm(0),
    later: false,
    overhang: { front: mm(0), back: mm(0), left: mm(0), right: mm(0) },
    ...more,
  }
}

export function deck(id: string, outline: Shape, more: Partial<Deck> = {}): Deck {
  return { id, name: id, z: mm(40), thickness: mm(3), outline, openings: [], holes: [], ...more }
}

export function problem(decks: readonly Deck[], items: readonly Item[], more: Partial<Problem> = {}): Problem {
  return {
    name: 'bench plate',
    variant: 'base',
    grid: mm(1),
    edgeClearance: mm(0),
    itemClearance: mm(0),
    minWeb: mm(2),
    decks,
    exits: [],
    passes: [],
    items,
    zones: [],
    wires: [],
    objective: [],
    ...more,
  }
}

export const at = (index: number, x: number, y: number, turn: Turn = 0, deckIndex = 0): Placement => ({
  item: index,
  deck: deckIndex,
  at: pt(x, y),
  turn,
})
