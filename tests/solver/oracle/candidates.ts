/** Every position that an item could take, before other items are looked at. */
import type { Problem } from '../../../solver/problem.ts'
import type { Hold } from '../../../solver/result.ts'
import { deckBox } from './rules.ts'
import { pointOf, type Stand, sizeOf, stand, tiesOf } from './stand.ts'

/** Rule instances that are switched off, by key. */
export type Off = (key: string) => boolean
export const nothingOff: Off = () => false

interface Axis {
  readonly lo: number
  readonly hi: number
  /** Positions off the grid that `at` or `centred` asks for; on the grid as well only where that entry is switched off. */
  readonly fixed: readonly number[]
  readonly free: boolean
}

function positions(a: Axis, grid: number): number[] {
  const out = new Set<number>(a.fixed)
  if (a.free) for (let k = Math.ceil(a.lo / grid); k * grid <= a.hi; k++) out.add(k * grid)
  return [...out].sort((x, y) => x - y)
}

/** Range and fixed places along one axis; with R1 off a body may lie anywhere near the decks. */
function axisOf(p: Problem, i: number, deck: number, turn: number, axis: 'x' | 'y', off: Off): Axis {
  const item = p.items[i]!
  const box = deckBox(p, deck)
  const [w, h] = sizeOf(item, turn)
  const size = axis === 'x' ? w : h
  const [from, length] = axis === 'x' ? [box.left, box.right - box.left] : [box.back, box.front - box.back]
  const [before, after] =
    axis === 'x' ? [item.overhang.left, item.overhang.right] : [item.overhang.back, item.overhang.front]
  let lo = from - before
  let hi = from + length + after - size
  if (off(`R1|${item.id}`)) {
    // Room for every other body between this one and the deck.
    const reach =
      p.items.reduce((s, o) => Math.max(s, o.footprint.width, o.footprint.depth), 0) + p.itemClearance + p.grid
    lo -= reach + size
    hi += reach + size
  }
  const fixed: number[] = []
  let free = true
  item.place.forEach((e, k) => {
    if (e.kind === 'at') {
      fixed.push(axis === 'x' ? e.at.x : e.at.y)
      if (!off(`R10|${item.id}|${k}`)) free = false
    }
    if (e.kind === 'centred' && e.axis === axis) {
      const twice = 2 * from + length - size
      fixed.push(Math.floor(twice / 2), Math.ceil(twice / 2))
      if (!off(`R10|${item.id}|${k}`)) free = false
    }
  })
  return { lo, hi, fixed, free }
}

const heldElsewhere = (hold: Hold | undefined, deck: number, turn: number): boolean =>
  hold !== undefined && (hold.deck !== deck || hold.turn !== turn)

/** All stands of an item that is not a plug-in part, rules not yet asked. */
export function freeStands(p: Problem, i: number, off: Off, hold?: Hold): Stand[] {
  const item = p.items[i]!
  const out: Stand[] = []
  for (const deck of item.decks)
    for (const turn of new Set(item.turns)) {
      if (heldElsewhere(hold, deck, turn)) continue
      const xs = hold ? [hold.at.x as number] : positions(axisOf(p, i, deck, turn, 'x', off), p.grid)
      const ys = hold ? [hold.at.y as number] : positions(axisOf(p, i, deck, turn, 'y', off), p.grid)
      for (const x of xs) for (const y of ys) out.push(stand(p, { item: i, deck, x, y, turn }))
    }
  return out
}

/** All stands of a plug-in part on one placed host: its first pin on each tie point, at each turn. */
export function seatedStands(p: Problem, i: number, host: Stand, hold?: Hold): Stand[] {
  const item = p.items[i]!
  if (!item.decks.includes(host.deck)) return []
  const first = item.footprint.plug!.pins[0]!.at
  const out: Stand[] = []
  for (const turn of new Set(item.turns)) {
    if (heldElsewhere(hold, host.deck, turn)) continue
    const bare = stand(p, { item: i, deck: host.deck, x: 0, y: 0, turn, host: host.item })
    const [px, py] = pointOf(p, bare, first.x, first.y)
    for (const t of tiesOf(p.items[host.item]!)) {
      const [tx, ty] = pointOf(p, host, t.x, t.y)
      if (hold && (hold.at.x !== tx - px || hold.at.y !== ty - py)) continue
      out.push(stand(p, { item: i, deck: host.deck, x: tx - px, y: ty - py, turn, host: host.item }))
    }
  }
  return out
}
