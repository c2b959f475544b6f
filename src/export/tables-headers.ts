/** Header pins to snap off: the pins of plug-in parts as straight strips of 2.54 mm pitch. */
import type { Placement, Problem } from '../../solver/index.ts'
import { stripsOf } from '../model/header-strips.ts'
import { headers } from './words-tables.ts'

export interface HeaderRow {
  /** Pins of one strip. */
  readonly pins: number
  readonly count: number
  /** Ids of the items, each as often as it needs such a strip. */
  readonly items: readonly string[]
  readonly note: string
}

/**
 * Strips for all placed plug-in parts that are not `later`, the longest first.
 *
 * Two controllers of 2 × 15 pins and a display of 4: `headerPins(problem, placements)` →
 * `[{ pins: 15, count: 4, items: ['brain', 'brain', 'aid', 'aid'], note: '' }, { pins: 4, count: 1, items: ['display'], note: '' }]`
 */
export function headerPins(problem: Problem, placements: readonly Placement[]): HeaderRow[] {
  const placed = new Set(placements.map((p) => p.item))
  const rows = new Map<number, string[]>()
  problem.items.forEach((item, i) => {
    if (!placed.has(i) || item.later) return
    for (const pins of stripsOf(item.footprint)) rows.set(pins, [...(rows.get(pins) ?? []), item.id])
  })
  return [...rows]
    .sort(([a], [b]) => b - a)
    .map(([pins, items]) => ({ pins, count: items.length, items, note: pins === 1 ? headers.single : '' }))
}
