/** The bill of items: plates, then parts by footprint, with what each weighs. */
import { bounds, type Placement, type Problem, prepare, toMm } from '../../solver/index.ts'
import { bill } from './words-tables.ts'

export interface BillRow {
  readonly kind: 'deck' | 'item'
  readonly name: string
  /** Id of the footprint, or of the deck. */
  readonly id: string
  readonly count: number
  /** Ids of the items, in the project's order; empty for a deck. */
  readonly items: readonly string[]
  /** Envelope along x (or the part's own width), along y (depth), and height or thickness, mm. */
  readonly width: number
  readonly depth: number
  readonly height: number
  /** Grams each; null for a plate, whose weight nobody states. */
  readonly mass: number | null
  readonly note: string
}

/**
 * All plates, then all placed items, those of one footprint together. Items marked `later` stand in rows of their own, and what
 * is left out does not appear.
 *
 * `billOfItems(problem, placements)[1]` → `{ kind: 'item', name: 'breadboard, 400 contacts', id: 'breadboard-400', count: 2,
 * items: ['board#1', 'board#2'], width: 82.5, depth: 54.5, height: 8.5, mass: 42, note: '' }`
 */
export function billOfItems(problem: Problem, placements: readonly Placement[]): BillRow[] {
  const decks = problem.decks.map((d): BillRow => {
    const box = bounds(prepare(d.outline))
    const [width, depth, height] = [toMm(box.w), toMm(box.h), toMm(d.thickness)]
    const size = { width, depth, height }
    return { kind: 'deck', name: d.name, id: d.id, count: 1, items: [], ...size, mass: null, note: d.material ?? '' }
  })
  const rows = new Map<string, BillRow>()
  const placed = new Set(placements.map((p) => p.item))
  problem.items.forEach((item, i) => {
    if (!placed.has(i)) return
    const f = item.footprint
    const key = JSON.stringify([f.id, item.later])
    const row = rows.get(key)
    rows.set(key, {
      kind: 'item',
      name: f.name,
      id: f.id,
      count: (row?.count ?? 0) + 1,
      items: [...(row?.items ?? []), item.id],
      width: toMm(f.width),
      depth: toMm(f.depth),
      height: toMm(f.height),
      mass: f.mass,
      note: item.later ? bill.later : '',
    })
  })
  return [...decks, ...rows.values()]
}
