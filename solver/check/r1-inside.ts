/** R1: every body lies in its deck's outline and clear of what is open in the deck. */
import type { Side } from '../problem.ts'
import type { Finding } from '../result.ts'
import { bounds, rectInside, rectOverlaps } from '../shapes.ts'
import { type Rect, um } from '../units.ts'
import { found, say } from '../words.ts'
import type { Body } from './body.ts'
import { isOwnCutout, type Layout, stands } from './layout.ts'
import { deckName, insideShort, name, overlapDepth, short } from './say.ts'

const SIDES: readonly Side[] = ['front', 'back', 'left', 'right']

/** How far a rectangle passes one side of a box (negative: how far it stays inside). Front is +y. */
function past(rect: Rect, box: Rect, side: Side): number {
  switch (side) {
    case 'front':
      return rect.y + rect.h - (box.y + box.h)
    case 'back':
      return box.y - rect.y
    case 'left':
      return box.x - rect.x
    case 'right':
      return rect.x + rect.w - (box.x + box.w)
  }
}

/** Cuts off what lies beyond `side` of the box, less `clearance`; nothing when nothing is left. */
function cutAt(rect: Rect, box: Rect, side: Side, clearance: number): Rect | undefined {
  let x0: number = rect.x
  let y0: number = rect.y
  let x1 = rect.x + rect.w
  let y1 = rect.y + rect.h
  if (side === 'front') y1 = Math.min(y1, box.y + box.h - clearance)
  if (side === 'back') y0 = Math.max(y0, box.y + clearance)
  if (side === 'left') x0 = Math.max(x0, box.x + clearance)
  if (side === 'right') x1 = Math.min(x1, box.x + box.w - clearance)
  if (x1 <= x0 || y1 <= y0) return undefined
  return { x: um(x0), y: um(y0), w: um(x1 - x0), h: um(y1 - y0) }
}

export function inside(layout: Layout): Finding[] {
  return layout.bodies.flatMap((body) => insideOf(layout, body))
}

function insideOf(layout: Layout, body: Body): Finding[] {
  const { problem } = layout
  const plan = layout.decks[body.deck]!
  const box = bounds(plan.outline)
  const deck = deckName(problem, body.deck)
  const deckId = problem.decks[body.deck]!.id
  const clearance = problem.edgeClearance
  const findings: Finding[] = []
  const { overhang } = body.item
  /** What counts of the body. */
  const rest = SIDES.filter((side) => overhang[side] > 0).reduce<Rect | undefined>(
    (r, side) => r && cutAt(r, box, side, clearance),
    body.rect,
  )
  for (const side of SIDES) {
    const allowed = overhang[side]
    const over = past(body.rect, box, side)
    // a side that nothing may pass is passed by the rest as well, of which more can be said
    if (over <= allowed || (rest && allowed === 0)) continue
    const text =
      allowed > 0
        ? found.overEdgeAllowed(name(body), over, side, deck, allowed)
        : found.overEdge(name(body), over, side, deck)
    findings.push({ rule: 'R1', items: [body.item.id, deckId], text, by: over - allowed })
  }
  if (!rest) return findings
  if (!rectInside(plan.outline, rest, clearance)) {
    const lacking = short(insideShort(plan.outline, rest, clearance))
    findings.push({
      rule: 'R1',
      items: [body.item.id, deckId],
      text: outText(body, rest, box, deck, clearance, lacking),
      by: lacking,
    })
  }
  for (const opening of plan.openings) {
    let gap: number = clearance
    if (!stands(body)) {
      if (opening.kind !== 'lead') continue
      gap = 0
    } else if (opening.mayCover) {
      if (body.item.footprint.mount.kind !== 'adhesive') continue
      gap = 0
    } else if (isOwnCutout(body, opening)) continue
    if (!rectOverlaps(opening.region, rest, gap)) continue
    const by = short(overlapDepth(opening.region, rest, gap))
    const covers = rectOverlaps(opening.region, rest)
    findings.push({
      rule: 'R1',
      items: [body.item.id, opening.id, deckId],
      text: covers
        ? found.coversOpening(name(body), say(opening.id), deck)
        : found.nearOpening(name(body), gap - by, say(opening.id), deck, gap),
      by,
    })
  }
  return findings
}

function outText(body: Body, rest: Rect, box: Rect, deck: string, clearance: number, lacking: number): string {
  const worst = SIDES.map((side) => ({ side, over: past(rest, box, side) })).sort((a, b) => b.over - a.over)[0]!
  if (worst.over > 0) return found.overEdge(name(body), worst.over, worst.side, deck)
  // a corner may lack more than the side that it is at
  if (worst.over > -clearance && lacking <= clearance + worst.over + 1)
    return found.nearEdge(name(body), -worst.over, worst.side, deck, clearance)
  if (lacking > clearance) return found.overOutline(name(body), lacking - clearance, deck)
  return found.nearOutline(name(body), clearance - lacking, deck, clearance)
}
