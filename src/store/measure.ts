/** Counting and measuring on a layout: contacts, strips, blocks, and how far it is to what is near. Lengths are Um. */
import { type Placement, type Problem, turnedSize } from '../../solver/index.ts'
import { placementOf } from './moves.ts'
import { type Box, boxOf } from './outline.ts'
import { splitTiePoints, tiePoints } from './tie-points.ts'

export interface Spot {
  readonly x: number
  readonly y: number
}

export interface BoardContact extends Spot {
  readonly free: boolean
  /** Of one board: contacts with the same name are one conductor. */
  readonly strip: string
}

/** The contacts of a placed breadboard, block after block. */
export function boardContacts(problem: Problem, placements: readonly Placement[], board: Placement): BoardContact[] {
  const plan = problem.items[board.item]?.footprint.breadboard
  const all = tiePoints(problem, board)
  if (!plan || all.length === 0) return []
  const covered = new Set(splitTiePoints(problem, placements, board).covered.map((p) => `${p.x} ${p.y}`))
  const strips = plan.blocks.flatMap((block, b) => {
    // Rows of joined blocks are one conductor, and go by the first of the group.
    const first = plan.joined?.find((group) => group.includes(b))?.[0] ?? b
    return Array.from({ length: block.columns * block.rows }, (_, k) =>
      block.strip === 'row' ? `${first} row ${k % block.rows}` : `${b} column ${Math.floor(k / block.rows)}`,
    )
  })
  return all.map((p, k) => ({ ...p, free: !covered.has(`${p.x} ${p.y}`), strip: strips[k] ?? '' }))
}

/** The strips of which no contact is covered, each with all its contacts in order. */
export function freeStrips(contacts: readonly BoardContact[]): BoardContact[][] {
  const strips = new Map<string, BoardContact[]>()
  for (const c of contacts) strips.set(c.strip, [...(strips.get(c.strip) ?? []), c])
  return [...strips.values()].filter((strip) => strip.every((c) => c.free))
}

export interface Block {
  /** From the first contact to the last. */
  readonly box: Box
  readonly contacts: number
}

/**
 * The upright rectangle with the most contacts and none of them covered; gaps between the rows of a board do not end it. Among
 * equals the first from the back, then from the left. Undefined where nothing is free.
 */
export function largestFreeBlock(contacts: readonly BoardContact[]): Block | undefined {
  const sorted = (values: number[]): number[] => [...new Set(values)].sort((a, b) => a - b)
  const xs = sorted(contacts.map((c) => c.x))
  const ys = sorted(contacts.map((c) => c.y))
  const column = new Map(xs.map((x, i) => [x, i]))
  const row = new Map(ys.map((y, j) => [y, j]))
  // 1 free, -1 covered, 0 nothing there.
  const cells = ys.map(() => new Int8Array(xs.length))
  for (const c of contacts) cells[row.get(c.y)!]![column.get(c.x)!] = c.free ? 1 : -1
  let best: { count: number; x0: number; x1: number; y0: number; y1: number } | undefined
  for (let y0 = 0; y0 < ys.length; y0++) {
    const free = new Int32Array(xs.length)
    const shut = new Uint8Array(xs.length)
    for (let y1 = y0; y1 < ys.length; y1++) {
      let count = 0
      let x0 = 0
      for (let x = 0; x < xs.length; x++) {
        const cell = cells[y1]![x]!
        if (cell < 0) shut[x] = 1
        else free[x]! += cell
        if (shut[x]) {
          count = 0
          x0 = x + 1
          continue
        }
        count += free[x]!
        if (count > (best?.count ?? 0)) best = { count, x0, x1: x, y0, y1 }
      }
    }
  }
  if (!best) return undefined
  const { count, x0, x1, y0, y1 } = best
  return { contacts: count, box: { x: xs[x0]!, y: ys[y0]!, w: xs[x1]! - xs[x0]!, h: ys[y1]! - ys[y0]! } }
}

export interface FreeSeen {
  readonly deck: number
  readonly strips: readonly (readonly BoardContact[])[]
  readonly block: Block | undefined
}

/** Whole free strips of every board, and the largest free block of each deck. */
export function freeRoom(problem: Problem, placements: readonly Placement[]): FreeSeen[] {
  return problem.decks.map((_, deck) => {
    const boards = placements.filter((p) => p.deck === deck).map((p) => boardContacts(problem, placements, p))
    const blocks = boards.flatMap((b) => largestFreeBlock(b) ?? [])
    const block = blocks.reduce<Block | undefined>((a, b) => (a && a.contacts >= b.contacts ? a : b), undefined)
    return { deck, strips: boards.flatMap(freeStrips), block }
  })
}

export const SIDES = ['left', 'right', 'back', 'front'] as const
export type Side = (typeof SIDES)[number]

export interface Distance {
  readonly side: Side
  /** Index of the neighbour; none: the edge of the deck's outline, as its bounding box has it. */
  readonly item?: number
  /** Negative where they overlap, or where the body passes the edge. */
  readonly gap: number
  /** A stroke along x or y. */
  readonly from: Spot
  readonly to: Spot
}

export const bodyBox = (problem: Problem, p: Placement): Box => {
  const footprint = problem.items[p.item]?.footprint
  const size = footprint ? turnedSize(footprint.width, footprint.depth, p.turn) : { w: 0, h: 0 }
  return { x: p.at.x, y: p.at.y, w: size.w, h: size.h }
}

/** From one body to the nearest other on each of its sides, straight along x or y; and to the deck's edges. */
export function distancesOf(problem: Problem, placements: readonly Placement[], item: number): Distance[] {
  const own = placementOf(placements, item)
  const outline = own && problem.decks[own.deck]?.outline
  if (!own || !outline) return []
  const a = bodyBox(problem, own)
  const edge = boxOf(outline)
  // What it is plugged into, and what is plugged into it, is not beside it.
  const others = placements
    .filter((p) => p.deck === own.deck && p.item !== item && p.item !== own.host && p.host !== item)
    .map((p) => ({ item: p.item, box: bodyBox(problem, p) }))
  return SIDES.flatMap((side): Distance[] => {
    const upright = side === 'back' || side === 'front'
    const [start, length, along, across] = upright ? (['y', 'h', 'x', 'w'] as const) : (['x', 'w', 'y', 'h'] as const)
    const low = side === 'left' || side === 'back'
    const mine = low ? a[start] : a[start] + a[length]
    const stroke = (other: number, at: number): Pick<Distance, 'from' | 'to' | 'gap'> => {
      const spot = (value: number): Spot => (upright ? { x: at, y: value } : { x: value, y: at })
      return { gap: low ? mine - other : other - mine, from: spot(mine), to: spot(other) }
    }
    const middle = a[along] + a[across] / 2
    const beside = others.flatMap(({ item: other, box }): Distance[] => {
      const lo = Math.max(a[along], box[along])
      const hi = Math.min(a[along] + a[across], box[along] + box[across])
      const theirs = low ? box[start] + box[length] : box[start]
      const past = low ? theirs > a[start] + a[length] / 2 : theirs < a[start] + a[length] / 2
      return hi <= lo || past ? [] : [{ side, item: other, ...stroke(theirs, (lo + hi) / 2) }]
    })
    const nearest = beside.reduce<Distance | undefined>((x, y) => (x && x.gap <= y.gap ? x : y), undefined)
    const toEdge = { side, ...stroke(low ? edge[start] : edge[start] + edge[length], middle) }
    return nearest ? [nearest, toEdge] : [toEdge]
  })
}

/** Length, and its parts along x and y. */
export const between = (a: Spot, b: Spot): { readonly length: number; readonly dx: number; readonly dy: number } => ({
  length: Math.hypot(a.x - b.x, a.y - b.y),
  dx: Math.abs(a.x - b.x),
  dy: Math.abs(a.y - b.y),
})
