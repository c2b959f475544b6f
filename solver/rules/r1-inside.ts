/** R1: every body lies in its deck's outline and, where it stands on the deck, clear of the openings. */

import type { Body, Mode, Model } from '../search/model.ts'
import { rectAt } from '../search/parts.ts'
import { movingRect, type StaticTest } from '../search/static-tests.ts'
import { type Region, rectInside, rectOverlaps, spanInside, spanOverlaps } from '../shapes.ts'
import { type Rect, um } from '../units.ts'
import { asked } from '../words.ts'
import { coincides, NEAR, type Sides } from './coincide.ts'
import { type DeckShapes, deckShapes } from './deck.ts'
import type { Rule } from './index.ts'

export const inside: Rule = {
  post(model) {
    for (const body of model.bodies) {
      const guard = model.instance('R1', [body.item.id], () => asked.inside(body.item.id))
      model.addStatic(body, guard, (mode) => testsOf(model, body, mode))
    }
  },
}

const hangsOver = (body: Body): boolean => Object.values(body.item.overhang).some((o) => o > 0)

function testsOf(model: Model, body: Body, mode: Mode): StaticTest[] {
  const { problem } = model
  const d = deckShapes(problem)[mode.deck]!
  const size: Rect = { x: um(0), y: um(0), w: um(mode.w), h: um(mode.h) }
  const clear = problem.edgeClearance
  const over = hangsOver(body)
  const tests: StaticTest[] = [
    movingRect(
      size,
      over
        ? (x, y, w, h) => !inOutline(d, body, x, y, w, h, clear)
        : (x, y, w, h) => !spanInside(d.outline, x, y, w, h, clear),
    ),
  ]
  if (over) tests.push(near(d, body, mode))
  const covers = (region: Region, x: number, y: number, w: number, h: number, clearance: number): boolean => {
    if (!over) return spanOverlaps(region, x, y, w, h, clearance)
    const left = within(d, body, x, y, w, h, clear)
    return left !== undefined && rectOverlaps(region, left, clearance)
  }
  for (const o of d.openings) {
    if (mode.host >= 0 || body.footprint.mount.kind === 'plug-in') {
      if (o.round) tests.push(movingRect(size, (x, y, w, h) => covers(o.region, x, y, w, h, 0)))
      continue
    }
    if (o.mayCover && body.footprint.mount.kind !== 'adhesive') continue
    const test = movingRect(size, (x, y, w, h) => covers(o.region, x, y, w, h, o.mayCover ? 0 : clear))
    tests.push(cutoutOr(body, mode, o.sides, test))
  }
  return tests
}

/**
 * A body of which nothing is left on this side of its edges could stand anywhere beyond them. It is looked for only where it passes
 * no side by more than its overhang, or where an `at` puts it.
 */
function near({ box }: DeckShapes, body: Body, mode: Mode): StaticTest {
  const { overhang: over, place } = body.item
  const fixed = place.flatMap((p) => (p.kind === 'at' && p.deck === mode.deck ? [p.at] : []))
  const along = (lo: number, hi: number, marks: readonly number[]) => (l: number, u: number) => {
    if (l >= lo && u <= hi) return 1
    if (l === u) return marks.includes(l) ? 1 : -1
    return (u < lo || l > hi) && !marks.some((m) => m >= l && m <= u) ? -1 : 0
  }
  const xs = along(
    box.x - over.left,
    box.x + box.w + over.right - mode.w,
    fixed.map((p) => p.x),
  )
  const ys = along(
    box.y - over.back,
    box.y + box.h + over.front - mode.h,
    fixed.map((p) => p.y),
  )
  return (xl, xu, yl, yu) => Math.min(xs(xl, xu), ys(yl, yu)) as -1 | 0 | 1
}

/** A drop-in part may cover the opening that its cut-out is. */
function cutoutOr(body: Body, mode: Mode, opening: Sides | undefined, test: StaticTest): StaticTest {
  const { mount } = body.footprint
  if (mount.kind !== 'drop-in' || !opening) return test
  const cut = rectAt(body.footprint, mount.cutout, mode.turn)
  return (xl, xu, yl, yu) => {
    const r = test(xl, xu, yl, yu)
    if (r === 1) return 1
    if (xl === xu && yl === yu) return coincides(cut, xl, yl, opening) ? 1 : r
    // somewhere in this block the two may coincide
    return r === -1 && mayCoincide(cut, xl, xu, yl, yu, opening) ? 0 : r
  }
}

function mayCoincide(cut: Rect, xl: number, xu: number, yl: number, yu: number, o: Sides): boolean {
  const [x] = o.left
  const [y] = o.back
  return x >= xl + cut.x - NEAR && x <= xu + cut.x + NEAR && y >= yl + cut.y - NEAR && y <= yu + cut.y + NEAR
}

/** Overhang: the body may pass that side by so much, and what lies beyond the side (less the clearance) does not count. */
function inOutline(d: DeckShapes, body: Body, x: number, y: number, w: number, h: number, clearance: number): boolean {
  const { box } = d
  const over = body.item.overhang
  if (over.left > 0 && x < box.x - over.left) return false
  if (over.right > 0 && x + w > box.x + box.w + over.right) return false
  if (over.back > 0 && y < box.y - over.back) return false
  if (over.front > 0 && y + h > box.y + box.h + over.front) return false
  const left = within(d, body, x, y, w, h, clearance)
  return !left || rectInside(d.outline, left, clearance)
}

/** What counts of the body; undefined where nothing is left. */
function within(d: DeckShapes, body: Body, x: number, y: number, w: number, h: number, clearance: number) {
  const { box } = d
  const over = body.item.overhang
  const x0 = over.left > 0 ? Math.max(x, box.x + clearance) : x
  const y0 = over.back > 0 ? Math.max(y, box.y + clearance) : y
  const x1 = over.right > 0 ? Math.min(x + w, box.x + box.w - clearance) : x + w
  const y1 = over.front > 0 ? Math.min(y + h, box.y + box.h - clearance) : y + h
  const cut = x1 - x0 < w || y1 - y0 < h
  if (cut && (x1 <= x0 || y1 <= y0)) return undefined
  return { x: um(x0), y: um(y0), w: um(x1 - x0), h: um(y1 - y0) }
}
