/** R1: every body lies in its deck's outline and, where it stands on the deck, clear of the openings. */

import type { Body, Mode, Model } from '../search/model.ts'
import { rectAt } from '../search/parts.ts'
import { all, movingRect, type StaticTest } from '../search/static-tests.ts'
import { rectInside, rectOverlaps } from '../shapes.ts'
import { type Rect, um } from '../units.ts'
import { coincides } from './coincide.ts'
import { type DeckShapes, deckShapes } from './deck.ts'
import type { Rule } from './index.ts'

export const inside: Rule = {
  post(model) {
    for (const body of model.bodies) {
      const guard = model.instance(
        'R1',
        [body.item.id],
        () => `${body.item.id} must lie on its deck, clear of the openings`,
      )
      model.addStatic(body, guard, (mode) => all(testsOf(model, body, mode)))
    }
  },
}

function testsOf(model: Model, body: Body, mode: Mode): StaticTest[] {
  const { problem } = model
  const d = deckShapes(problem)[mode.deck]!
  const size: Rect = { x: um(0), y: um(0), w: um(mode.w), h: um(mode.h) }
  const tests: StaticTest[] = [movingRect(size, (x, y, w, h) => !inOutline(d, body, x, y, w, h, problem.edgeClearance))]
  for (const o of d.openings) {
    if (mode.host >= 0 || body.footprint.mount.kind === 'plug-in') {
      if (o.round) tests.push(movingRect(size, (x, y, w, h) => overlaps(o.region, x, y, w, h, 0)))
      continue
    }
    if (o.mayCover && body.footprint.mount.kind !== 'adhesive') continue
    const test = movingRect(size, (x, y, w, h) =>
      overlaps(o.region, x, y, w, h, o.mayCover ? 0 : problem.edgeClearance),
    )
    tests.push(cutoutOr(body, mode, o.region.box, test))
  }
  return tests
}

const overlaps = (
  region: DeckShapes['outline'],
  x: number,
  y: number,
  w: number,
  h: number,
  clearance: number,
): boolean => rectOverlaps(region, { x: um(x), y: um(y), w: um(w), h: um(h) }, clearance)

/** A drop-in part may cover the opening that its cut-out is. */
function cutoutOr(body: Body, mode: Mode, opening: Rect, test: StaticTest): StaticTest {
  const { mount } = body.footprint
  if (mount.kind !== 'drop-in') return test
  const cut = rectAt(body.footprint, mount.cutout, mode.turn)
  return (xl, xu, yl, yu) => {
    const r = test(xl, xu, yl, yu)
    if (r === 1) return 1
    if (xl === xu && yl === yu) return coincides(cut, xl, yl, opening) ? 1 : r
    // somewhere in this block the two may coincide
    return r === -1 && mayCoincide(cut, xl, xu, yl, yu, opening) ? 0 : r
  }
}

function mayCoincide(cut: Rect, xl: number, xu: number, yl: number, yu: number, o: Rect): boolean {
  return o.x >= xl + cut.x - 100 && o.x <= xu + cut.x + 100 && o.y >= yl + cut.y - 100 && o.y <= yu + cut.y + 100
}

/** Overhang: the body may pass that side by so much, and what lies beyond the side (less the clearance) does not count. */
function inOutline(d: DeckShapes, body: Body, x: number, y: number, w: number, h: number, clearance: number): boolean {
  const { box } = d
  const over = body.item.overhang
  let x0 = x
  let y0 = y
  let x1 = x + w
  let y1 = y + h
  if (over.left > 0) {
    if (x0 < box.x - over.left) return false
    x0 = Math.max(x0, box.x + clearance)
  }
  if (over.right > 0) {
    if (x1 > box.x + box.w + over.right) return false
    x1 = Math.min(x1, box.x + box.w - clearance)
  }
  if (over.back > 0) {
    if (y0 < box.y - over.back) return false
    y0 = Math.max(y0, box.y + clearance)
  }
  if (over.front > 0) {
    if (y1 > box.y + box.h + over.front) return false
    y1 = Math.min(y1, box.y + box.h - clearance)
  }
  if (x1 < x0 || y1 < y0) return true
  return rectInside(d.outline, { x: um(x0), y: um(y0), w: um(x1 - x0), h: um(y1 - y0) }, clearance)
}
