/** Rules that look at two bodies: R2, R3, R5 and R9. */
import type { Problem } from '../../../solver/problem.ts'
import { boxDistance, boxesOverlap, boxOverlaps, discToBox, TOL } from './geometry.ts'
import { heightsMeet, id } from './rules-body.ts'
import type { Stand } from './stand.ts'

/** R2, R3, R5 and R9 of two placed bodies, `a` the one with the smaller index. */
export function broken2(p: Problem, a: Stand, b: Stand): string[] {
  if (a.item > b.item) return broken2(p, b, a)
  const out: string[] = []
  const key = `${id(p, a)}|${id(p, b)}`
  if (!apart(p, a, b)) out.push(`R2|${key}`)
  const enters = (owner: Stand, other: Stand): boolean =>
    owner.corridors.some((c) => heightsMeet(c.lo, c.hi, other.under, other.high) && boxOverlaps(c.region, other.box))
  if (enters(a, b) || enters(b, a)) out.push(`R3|${key}`)
  if (a.deck === b.deck && !websHold(p, a, b)) out.push(`R5|${key}`)
  for (const [head, other] of [
    [a, b],
    [b, a],
  ] as const) {
    if (head.sweep && sweepHits(p, head, other)) out.push(`R9|${id(p, head)}|${id(p, other)}`)
  }
  return out
}

function apart(p: Problem, a: Stand, b: Stand): boolean {
  if (a.host === b.item || b.host === a.item) return true
  if (a.deck !== b.deck) return !(heightsMeet(a.under, a.top, b.under, b.top) && boxesOverlap(a.box, b.box))
  const gapX = Math.max(a.box.x - b.box.x - b.box.w, b.box.x - a.box.x - a.box.w)
  const gapY = Math.max(a.box.y - b.box.y - b.box.h, b.box.y - a.box.y - a.box.h)
  return Math.max(gapX, gapY) >= p.itemClearance
}

function websHold(p: Problem, a: Stand, b: Stand): boolean {
  const web = p.minWeb
  for (const h of a.holes)
    for (const g of b.holes) {
      const d = Math.hypot(h.x - g.x, h.y - g.y)
      if (!h.reused && !g.reused && d - h.r - g.r < web - TOL) return false
      if (h.land > 0 && g.land > 0 && d < h.land + g.land - TOL) return false
    }
  const holeCut = (s: Stand, t: Stand): boolean =>
    s.holes.every((h) => h.reused || t.cuts.every((c) => c.reused || discToBox(c, h.x, h.y, h.r) >= web - TOL))
  if (!holeCut(a, b) || !holeCut(b, a)) return false
  return a.cuts.every(
    (c) => c.reused || b.cuts.every((d) => d.reused || (boxDistance(c, d) >= web - TOL && !boxesOverlap(c, d))),
  )
}

function sweepHits(p: Problem, head: Stand, other: Stand): boolean {
  const s = head.sweep!
  const above = p.items[other.item]!.footprint.above
  const over = (): boolean => s.regions.some((r) => boxOverlaps(r, other.box))
  if (heightsMeet(s.lo, s.hi, other.under, other.high + (above === 'open' ? 0 : above))) return over()
  return above === 'open' && s.hi > other.under && over()
}
