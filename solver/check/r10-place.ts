/** R10: every required item is placed once, where and how it may be; and positions keep to the grid. */
import type { Item, ItemRef, Place, Placement, Side } from '../problem.ts'
import type { Finding } from '../result.ts'
import { bounds, prepare, rectInside } from '../shapes.ts'
import type { Rect } from '../units.ts'
import { found, say } from '../words.ts'
import { type Body, isPlaceable } from './body.ts'
import type { Layout } from './layout.ts'
import { deckName, insideShort, name, short } from './say.ts'

export function place(layout: Layout): Finding[] {
  const { problem, placements } = layout
  return [
    ...placements.flatMap((p) => unknownFindings(layout, p)),
    ...problem.items.flatMap((item, i) => countFindings(layout, item, i)),
    ...layout.bodies.flatMap((body) => [
      ...allowedFindings(layout, body),
      ...gridFindings(layout, body),
      ...body.item.place.flatMap((entry) => entryFindings(layout, body, entry)),
    ]),
  ]
}

const finding = (items: readonly string[], text: string, by = 0): Finding => ({ rule: 'R10', items, text, by })

function unknownFindings(layout: Layout, p: Placement): Finding[] {
  const item = layout.problem.items[p.item]
  if (!item) return [finding([], found.itemUnknown(p.item))]
  if (isPlaceable(layout.problem, p)) return []
  const text = layout.problem.decks[p.deck] ? found.unusable : found.deckUnknown
  return [finding([item.id], text(say(item.id)))]
}

function countFindings(layout: Layout, item: Item, index: number): Finding[] {
  const n = layout.placements.filter((p) => p.item === index).length
  if (n > 1) return [finding([item.id], found.placedTwice(say(item.id), n))]
  if (n === 0 && item.required) return [finding([item.id], found.notPlaced(say(item.id)))]
  return []
}

function allowedFindings(layout: Layout, body: Body): Finding[] {
  const { item, placement } = body
  const findings: Finding[] = []
  if (!item.decks.includes(body.deck))
    findings.push(
      finding(
        [item.id, layout.problem.decks[body.deck]!.id],
        found.deckNotAllowed(name(body), deckName(layout.problem, body.deck)),
      ),
    )
  if (!item.turns.includes(placement.turn))
    findings.push(finding([item.id], found.turnNotAllowed(name(body), placement.turn, item.turns)))
  return findings
}

/** Coordinates are whole multiples of the grid, except where `at` or `centred` fixes them, and for plug-in parts. */
function gridFindings(layout: Layout, body: Body): Finding[] {
  if (body.item.footprint.mount.kind === 'plug-in') return []
  const { grid } = layout.problem
  return (['x', 'y'] as const).flatMap((axis) => {
    const v = body.placement.at[axis]
    const fixed = body.item.place.some((p) => p.kind === 'at' || (p.kind === 'centred' && p.axis === axis))
    const off = ((v % grid) + grid) % grid
    if (fixed || off === 0) return []
    const by = Math.min(off, grid - off)
    return [finding([body.item.id], found.offGrid(name(body), by, grid, axis), by)]
  })
}

const edgeOf = (r: Rect, side: Side): number => {
  switch (side) {
    case 'front':
      return r.y + r.h
    case 'back':
      return r.y
    case 'left':
      return r.x
    case 'right':
      return r.x + r.w
  }
}

/** Bodies of the copies that a reference names, never the item's own. */
const named = (layout: Layout, body: Body, ref: ItemRef): Body[] =>
  ref.items.filter((i) => i !== body.index).flatMap((i) => layout.bodyOf.get(i) ?? [])

function entryFindings(layout: Layout, body: Body, entry: Place): Finding[] {
  const { problem } = layout
  const id = body.item.id
  const box = bounds(layout.decks[body.deck]!.outline)
  const r = body.rect
  switch (entry.kind) {
    case 'at': {
      const far = Math.max(Math.abs(r.x - entry.at.x), Math.abs(r.y - entry.at.y))
      const right = body.deck === entry.deck && (entry.turn === undefined || entry.turn === body.placement.turn)
      if (right && far === 0) return []
      const text = found.notAt(name(body), entry.at.x, entry.at.y, deckName(problem, entry.deck), entry.turn)
      return [finding([id], text, far)]
    }
    case 'centred': {
      const off =
        entry.axis === 'x' ? Math.abs(2 * r.x + r.w - 2 * box.x - box.w) : Math.abs(2 * r.y + r.h - 2 * box.y - box.h)
      if (off <= 1) return []
      const by = short(off / 2)
      return [finding([id], found.offMiddle(name(body), by, deckName(problem, body.deck), entry.axis), by)]
    }
    case 'edge': {
      const gap = Math.abs(edgeOf(r, entry.edge) - edgeOf(box, entry.edge))
      if (gap <= entry.within) return []
      const deck = deckName(problem, body.deck)
      const text = found.farFromEdge(name(body), gap, entry.edge, deck, entry.within)
      return [finding([id], text, gap - entry.within)]
    }
    case 'inside': {
      const region = prepare(entry.shape)
      if (rectInside(region, r)) return []
      const by = short(insideShort(region, r))
      return [finding([id], found.outOfArea(name(body), by), by)]
    }
    case 'near': {
      const centre = (q: Rect) => [2 * q.x + q.w, 2 * q.y + q.h] as const
      const [x, y] = centre(r)
      const far = named(layout, body, entry.item).map((o) => {
        const [ox, oy] = centre(o.rect)
        return Math.abs(x - ox) + Math.abs(y - oy)
      })
      const least = Math.min(...far)
      if (least <= 2 * entry.within) return []
      if (far.length === 0) return [finding([id, entry.item.name], found.nearMissing(name(body), say(entry.item.name)))]
      const by = short(least / 2 - entry.within)
      const text = found.farFrom(name(body), entry.within + by, say(entry.item.name), entry.within)
      return [finding([id, entry.item.name], text, by)]
    }
    case 'beyond': {
      const lack = named(layout, body, entry.item).map((o) => beyondBy(r, o.rect, entry.side))
      const least = Math.min(...lack)
      if (least <= 0) return []
      const other = say(entry.item.name)
      if (lack.length === 0) return [finding([id, entry.item.name], found.beyondMissing(name(body), entry.side, other))]
      const text = found.notBeyond(name(body), least, entry.side, other)
      return [finding([id, entry.item.name], text, least)]
    }
    case 'host': {
      const ok = body.host !== undefined && named(layout, body, entry.item).some((o) => o.index === body.host)
      if (ok) return []
      return [finding([id, entry.item.name], found.notOnHost(name(body), say(entry.item.name)))]
    }
  }
}

/** How much `r` lacks to be wholly on that side of `o`; 0 or less where it is. */
function beyondBy(r: Rect, o: Rect, side: Side): number {
  switch (side) {
    case 'front':
      return o.y + o.h - r.y
    case 'back':
      return r.y + r.h - o.y
    case 'left':
      return r.x + r.w - o.x
    case 'right':
      return o.x + o.w - r.x
  }
}
