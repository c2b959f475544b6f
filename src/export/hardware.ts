/**
 * The hardware list: screws, nuts, washers, stand-offs, straps and adhesive for a layout, with lengths from the stack-up. What
 * a footprint does not say is assumed, and each row says so.
 */
import type { Item, Placement, Problem, Um } from '../../solver/index.ts'
import { toMm } from '../../solver/index.ts'
import { type Part, type Pieces, screwsOf } from './hardware-screws.ts'
import { strapsOf } from './hardware-straps.ts'
import { hardware as words } from './words-tables.ts'

export interface HardwareRow extends Pieces {
  /** Ids of the items that it is for, in the project's order, and how many (or how much) each needs. */
  readonly items: readonly { readonly item: string; readonly amount: number }[]
  /** The sum: pieces, or cm². */
  readonly amount: number
}

/**
 * Everything that holds the placed items down, those of `later` items left out. Holes that are there already need their screws too.
 *
 * `hardwareList(problem, placements)[0]` → `{ kind: 'screw', what: 'M2.5 × 16 socket head cap screw', standard: 'ISO 4762',
 * thread: 'M2.5', length: 16, unit: 'pieces', amount: 4, items: [{ item: 'brain', amount: 4 }], note: 'through board 1.6 mm (assumed), …' }`
 */
export function hardwareList(problem: Problem, placements: readonly Placement[]): HardwareRow[] {
  const rows = new Map<string, HardwareRow>()
  const seen = new Set<number>()
  for (const p of [...placements].sort((a, b) => a.item - b.item)) {
    const item = problem.items[p.item]
    const deck = problem.decks[p.deck]
    if (!item || !deck || item.later || seen.has(p.item)) continue
    seen.add(p.item)
    for (const { piece, amount } of partsOf(item, deck.thickness)) {
      const key = JSON.stringify(piece)
      const row = rows.get(key) ?? { ...piece, items: [], amount: 0 }
      const sum = Math.round((row.amount + amount) * 10) / 10
      const others = row.items.filter((i) => i.item !== item.id)
      const own = row.items.find((i) => i.item === item.id)?.amount ?? 0
      rows.set(key, { ...row, amount: sum, items: [...others, { item: item.id, amount: own + amount }] })
    }
  }
  const place = (r: HardwareRow) => KINDS.indexOf(r.kind)
  const size = (r: HardwareRow) => Number(r.thread.replace(/[^\d.]/g, '')) || 0
  return [...rows.values()].sort(
    (a, b) => place(a) - place(b) || size(a) - size(b) || (a.length ?? 0) - (b.length ?? 0),
  )
}

const KINDS: readonly Pieces['kind'][] = ['screw', 'washer', 'nut', 'stand-off', 'strap', 'adhesive', 'drop-in']

function partsOf(item: Item, deck: Um): Part[] {
  const f = item.footprint
  switch (f.mount.kind) {
    case 'screw':
      return screwsOf(f, f.mount.holes, f.mount.standoff, deck)
    case 'drop-in': {
      const { cutout, below, holes } = f.mount
      const what = words.dropIn(toMm(cutout.w), toMm(cutout.h))
      const note = words.dropInNote(toMm(below))
      const piece = { kind: 'drop-in', what, standard: '', thread: '', length: null, unit: 'pieces', note } as const
      return [{ piece, amount: 1 }, ...screwsOf(f, holes, 0 as Um, deck)]
    }
    case 'strap':
      return strapsOf(f, f.mount.slots, deck)
    case 'adhesive': {
      const note = words.adhesiveNote
      const what = words.adhesive
      const piece = { kind: 'adhesive', what, standard: '', thread: '', length: null, unit: 'cm²', note } as const
      return [{ piece, amount: Math.round((toMm(f.width) * toMm(f.depth)) / 10) / 10 }]
    }
    case 'plug-in':
      return []
  }
}
