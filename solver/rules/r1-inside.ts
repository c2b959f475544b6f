/** R1: every body lies in its deck's outline and, where it stands on the deck, clear of the openings. */

import type { Body, Mode, Model } from '../search/model.ts'
import { rectAt } from '../search/parts.ts'
import { movingRect, type StaticTest } from '../search/static-tests.ts'
import { type Region, rectInside, rectOverlaps, spanInside, spanOverlaps } from '../shapes.ts'
import { type Rect, type Um, um } from '../units.ts'
import { deckCalled } from '../words.ts'
import { asked } from '../words-asked.ts'
import { coincides, NEAR, type Sides } from './coincide.ts'
import { type DeckShapes, deckShapes } from './deck.ts'
import type { Rule } from './index.ts'

export const inside: Rule = {
  post(model) {
    for (const body of model.bodies) {
      const guard = model.instance('R1', [body.item.id], () => text(model, body))
      model.addStatic(body, guard, (mode) => testsOf(model, body, mode))
    }
  },
}

function text({ problem }: Model, body: Body): string {
  const decks = [...new Set(body.modes.map((m) => m.deck))].map((d) => deckShapes(problem)[d]!)
  // by id: a pass is an opening of each deck that it leads through
  const openings = new Map<string, Um>()
  for (const o of decks.flatMap((d) => d.openings)) {
    const far = keptFrom(o, body, problem.edgeClearance)
    if (far !== undefined) openings.set(o.id, um(Math.max(far, openings.get(o.id) ?? 0)))
  }
  return asked.inside(body.item.id, {
    decks: decks.map((d) => deckCalled(d.deck)),
    edge: problem.edgeClearance,
    openings: [...openings].map(([id, far]) => ({ id, far })),
    over: body.item.overhang,
  })
}

/** How far a body keeps from an opening; undefined where it may cover it. */
function keptFrom(o: DeckShapes['openings'][number], body: Body, clear: Um): Um | undefined {
  const { kind } = body.footprint.mount
  if (kind === 'plug-in') return o.round ? um(0) : undefined
  if (o.mayCover) return kind === 'adhesive' ? um(0) : undefined
  return clear
}

const hangsOver = (body: Body): boolean => Object.values(body.item.overhang).some((o) => o > 0)

function testsOf(model: Model, body: Body, mode: Mode): StaticTest[] {
  const { problem } = model
  const d = deckShapes(problem)[mode.deck]!
  const size: Rect = { x: um(0), y: um(0), w: um(mode.w), h: um(mode.h) }
  const clear = problem.edgeClearance
  const over = hangsOver(body)
  const tests: StaticTest[] = [
    ...(model.explaining ? [nearBox(d, body, mode, over ? 0 : clear)] : []),
    movingRect(
      size,
      over
        ? (x, y, w, h) => !inOutline(d, body, x, y, w, h, clear)
        : (x, y, w, h) => !spanInside(d.outline, x, y, w, h, clear),
    ),
  ]
  const covers = (region: Region, x: number, y: number, w: number, h: number, clearance: number): boolean => {
    if (!over) return spanOverlaps(region, x, y, w, h, clearance)
    const left = within(d, body, x, y, w, h, clear)
    return left !== undefined && rectOverlaps(region, left, clearance)
  }
  for (const o of d.openings) {
    const far = keptFrom(o, body, clear)
    if (far === undefined) continue
    const test = movingRect(size, (x, y, w, h) => covers(o.region, x, y, w, h, far))
    tests.push(cutoutOr(body, mode, o.sides, test))
  }
  return tests
}

/** Asks no more than the outline does, but settles blocks of any size far off the deck, as there are where conflicts are explained. */
function nearBox({ box }: DeckShapes, { item }: Body, mode: Mode, clear: number): StaticTest {
  const { left, right, back, front } = item.overhang
  const off = clear - 1
  const [x0, x1] = [box.x - left + off, box.x + box.w + right - off - mode.w]
  const [y0, y1] = [box.y - back + off, box.y + box.h + front - off - mode.h]
  return (xl, xu, yl, yu) => {
    if (xu < x0 || xl > x1 || yu < y0 || yl > y1) return -1
    return xl >= x0 && xu <= x1 && yl >= y0 && yu <= y1 ? 1 : 0
  }
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

/** The body may pass a side by its overhang, and what lies beyond such a side (less the clearance) does not count. */
function inOutline(d: DeckShapes, body: Body, x: number, y: number, w: number, h: number, clearance: number): boolean {
  const { box } = d
  const over = body.item.overhang
  if (x < box.x - over.left || x + w > box.x + box.w + over.right) return false
  if (y < box.y - over.back || y + h > box.y + box.h + over.front) return false
  const left = within(d, body, x, y, w, h, clearance)
  return !left || rectInside(d.outline, left, clearance)
}

/** What counts of a body, or of what bodies in a block of positions have in common; undefined where nothing is left. */
function within({ box }: DeckShapes, body: Body, x: number, y: number, w: number, h: number, clearance: number) {
  const over = body.item.overhang
  const left = over.left > 0 ? box.x + clearance : Number.NEGATIVE_INFINITY
  const back = over.back > 0 ? box.y + clearance : Number.NEGATIVE_INFINITY
  const right = over.right > 0 ? box.x + box.w - clearance : Number.POSITIVE_INFINITY
  const front = over.front > 0 ? box.y + box.h - clearance : Number.POSITIVE_INFINITY
  // a line or point in common may lie on the edge itself: of a body that begins there nothing is left
  if (x + w <= left || x >= right || y + h <= back || y >= front || left >= right || back >= front) return undefined
  const x0 = Math.max(x, left)
  const y0 = Math.max(y, back)
  return { x: um(x0), y: um(y0), w: um(Math.min(x + w, right) - x0), h: um(Math.min(y + h, front) - y0) }
}
