/** R5: every hole, slot and cut-out lies on solid deck, with web around it. */
import { mountCuts, mountHoles } from '../mount.ts'
import type { Footprint, Shape, Zone } from '../problem.ts'
import type { Body, Mode, Model } from '../search/model.ts'
import { cornerOf } from '../search/model.ts'
import { at, rectAt } from '../search/parts.ts'
import { shapeApart } from '../search/round.ts'
import { movingRect, type StaticTest } from '../search/static-tests.ts'
import { prepare, type Region, spanInside, spanOverlaps } from '../shapes.ts'
import { type Rect, um } from '../units.ts'
import { asked } from '../words-asked.ts'
import { coincides, mayReuse, reuses } from './coincide.ts'
import { type DeckShapes, deckShapes } from './deck.ts'
import type { Rule } from './index.ts'

export const holes: Rule = {
  post(model) {
    const cutting = model.bodies.filter(
      (b) => mountHoles(b.footprint.mount).length + mountCuts(b.footprint.mount).length > 0,
    )
    for (const body of cutting) {
      const guard = model.instance('R5', [body.item.id], () => text(model, body))
      model.addStatic(body, guard, (mode) => alone(model, body, mode))
    }
    cutting.forEach((a, i) => {
      for (const b of cutting.slice(i + 1)) {
        const guard = model.instance('R5', [a.item.id, b.item.id], () => textOf(model, a, b))
        between(model, a, b, guard)
      }
    })
  },
}

function text({ problem }: Model, { item, footprint, modes }: Body): string {
  const under = problem.zones.filter((z) => z.kind === 'underside' && modes.some((m) => m.deck === z.deck))
  return asked.holes(item.id, footprint.mount, problem.minWeb, under)
}

const textOf = ({ problem }: Model, a: Body, b: Body): string =>
  asked.holesApart(a.item.id, a.footprint.mount, b.item.id, b.footprint.mount, problem.minWeb)

/** A hole (disc) or cut (rectangle) relative to the corner, for one mode. */
export interface Mark {
  readonly rect: Rect
  /** 0 for cuts. */
  readonly radius: number
  readonly land: number
  readonly cutout: boolean
}

export function marks(body: Body, mode: Mode): Mark[] {
  const f = body.footprint
  const round = mountHoles(f.mount).map((h): Mark => {
    const p = at(f, h.at, mode.turn)
    return { rect: { x: p.x, y: p.y, w: um(0), h: um(0) }, radius: h.diameter / 2, land: h.land / 2, cutout: false }
  })
  const cutout = f.mount.kind === 'drop-in'
  return [
    ...round,
    ...mountCuts(f.mount).map((r): Mark => ({ rect: rectAt(f, r, mode.turn), radius: 0, land: 0, cutout })),
  ]
}

const isHole = (m: Mark): boolean => m.radius > 0

/** Is this one there already, with the body's corner at x, y? */
export const already = (m: Mark, x: number, y: number, d: DeckShapes): boolean =>
  isHole(m)
    ? reuses(x + m.rect.x, y + m.rect.y, m.radius * 2, d)
    : d.openings.some((o) => mayServe(m, o) && coincides(m.rect, x, y, o.sides!))

/** A cut-out may be any opening with four sides, a strap's slot one that was cut for a strap. */
const mayServe = (m: Mark, { sides, strap }: DeckShapes['openings'][number]): boolean =>
  sides !== undefined && (m.cutout || strap)

/** Could it be there already, somewhere on this deck? */
const mayBeThere = (m: Mark, d: DeckShapes): boolean =>
  isHole(m) ? mayReuse(m.radius * 2, d) : d.openings.some((o) => mayServe(m, o))

function alone(model: Model, body: Body, mode: Mode): StaticTest[] {
  const { problem } = model
  const d = deckShapes(problem)[mode.deck]!
  const under = problem.zones
    .filter((z) => z.kind === 'underside' && z.deck === mode.deck)
    .map((z: Zone) => prepare(z.shape))
  const mine = marks(body, mode)
  const tests: StaticTest[] = []
  for (const m of mine) {
    const near = m.radius + problem.minWeb
    const reusable = mayBeThere(m, d)
    // off the deck's box, or within one opening, no centre is on solid deck
    const hopeless = (x: number, y: number, w: number, h: number): boolean =>
      x > d.box.x + d.box.w ||
      y > d.box.y + d.box.h ||
      x + w < d.box.x ||
      y + h < d.box.y ||
      d.openings.some((o) => spanInside(o.region, x, y, w, h, 0.01))
    const there = (x: number, y: number) => already(m, x, y, d)
    const leaves = (far: number) => (x: number, y: number, w: number, h: number) =>
      !spanInside(d.outline, x, y, w, h, far)
    const meets = (region: Region, far: number) => (x: number, y: number, w: number, h: number) =>
      spanOverlaps(region, x, y, w, h, far)
    tests.push(disc(m, leaves(near), hopeless, there, reusable))
    for (const o of [...d.openings, ...d.holes]) tests.push(disc(m, meets(o.region, near), undefined, there, reusable))
    if (m.land > 0) {
      tests.push(disc(m, leaves(m.land), hopeless))
      for (const o of d.openings) tests.push(disc(m, meets(o.region, m.land)))
    }
    for (const z of under) tests.push(disc(m, meets(z, m.radius)))
  }
  for (const [i, a] of mine.entries())
    for (const b of mine.slice(i + 1)) {
      if (a.land > 0 && b.land > 0 && gap(a, b) < a.land + b.land) tests.push(() => -1)
      if (!tooClose(a, b, a.radius + b.radius + problem.minWeb)) continue
      // too close to each other, unless one of them is there already
      const ok = (x: number, y: number) => already(a, x, y, d) || already(b, x, y, d)
      tests.push((xl, xu, yl, yu) => (xl === xu && yl === yu ? (ok(xl, yl) ? 1 : -1) : 0))
    }
  return tests
}

/** Euclidean distance of two marks' centres (holes) or rectangles. */
function gap(a: Mark, b: Mark): number {
  const dx = Math.max(0, b.rect.x - a.rect.x - a.rect.w, a.rect.x - b.rect.x - b.rect.w)
  const dy = Math.max(0, b.rect.y - a.rect.y - a.rect.h, a.rect.y - b.rect.y - b.rect.h)
  return Math.sqrt(dx * dx + dy * dy)
}

/** Less than `need` between two marks; where nothing is asked, cuts may touch but not overlap. */
function tooClose(a: Mark, b: Mark, need: number): boolean {
  const overlap =
    a.rect.x < b.rect.x + b.rect.w &&
    b.rect.x < a.rect.x + a.rect.w &&
    a.rect.y < b.rect.y + b.rect.h &&
    b.rect.y < a.rect.y + a.rect.h
  return overlap || gap(a, b) < need - 0.001
}

/** Like `movingRect`; a position where `excused` holds passes whatever `bad` says. */
function disc(
  m: Mark,
  bad: (x: number, y: number, w: number, h: number) => boolean,
  hopeless?: (x: number, y: number, w: number, h: number) => boolean,
  excused?: (x: number, y: number) => boolean,
  mayBe = false,
): StaticTest {
  const moving = movingRect(m.rect, bad)
  const { rect } = m
  const test: StaticTest = (xl, xu, yl, yu) => {
    const r = moving(xl, xu, yl, yu)
    if (r !== 0 || !hopeless || !isHole(m)) return r
    return hopeless(xl + rect.x, yl + rect.y, xu - xl, yu - yl) ? -1 : 0
  }
  if (!excused || !mayBe) return test
  return (xl, xu, yl, yu) => {
    const r = test(xl, xu, yl, yu)
    if (r === 1) return 1
    if (xl === xu && yl === yu) return excused(xl, yl) ? 1 : r
    return 0
  }
}

/** Holes and cuts of two bodies on one deck. */
function between(model: Model, a: Body, b: Body, guard: number): void {
  const { problem } = model
  const shapes = deckShapes(problem)
  const same = (ma: Mode, mb: Mode) => ma.deck === mb.deck
  if (!a.modes.some((ma) => b.modes.some((mb) => same(ma, mb)))) return
  const firstA = marks(a, a.modes[0]!)
  const firstB = marks(b, b.modes[0]!)
  const decks = shapes.filter((_, d) => a.modes.some((m) => m.deck === d) && b.modes.some((m) => m.deck === d))
  const may = (m: Mark) => decks.some((d) => mayBeThere(m, d))
  const [insetA, insetB] = [insets(a, firstA), insets(b, firstB)]
  firstA.forEach((ma, i) => {
    firstB.forEach((mb, j) => {
      const need = ma.radius + mb.radius + problem.minWeb
      const lands = ma.land > 0 && mb.land > 0 ? ma.land + mb.land : 0
      // bodies that stand apart keep their holes apart, where these lie well inside
      const apart = insetA[i]! + insetB[j]! + problem.itemClearance
      if (!model.explaining && apart >= Math.max(need, lands)) return
      const reusable = may(ma) || may(mb)
      if (lands > 0) keepApart(model, a, i, b, j, lands, same, guard)
      if (lands > 0 && need <= lands) return
      if (!reusable) keepApart(model, a, i, b, j, need, same, guard)
      else
        model.whenFixed([a, b], [guard], ([pa, pb]) => {
          if (!pa || !pb || pa.deck !== pb.deck) return true
          const d = shapes[pa.deck]!
          const ca = cornerOf(model.e, a)
          const cb = cornerOf(model.e, b)
          const xa = marks(a, pa)[i]!
          const xb = marks(b, pb)[j]!
          if (already(xa, ca.x, ca.y, d) || already(xb, cb.x, cb.y, d)) return true
          return !tooClose(shifted(xa, ca), shifted(xb, cb), need)
        })
    })
  })
}

const shifted = (m: Mark, by: { x: number; y: number }): Mark => ({
  ...m,
  rect: { ...m.rect, x: um(m.rect.x + by.x), y: um(m.rect.y + by.y) },
})

/** How far marks in a body's first mode lie inside its outline; negative outside. */
function insets({ modes }: Body, all: readonly Mark[]): number[] {
  const { w, h } = modes[0]!
  return all.map(({ rect: r }) => Math.min(r.x, r.y, w - r.x - r.w, h - r.y - r.h))
}

function keepApart(
  model: Model,
  a: Body,
  i: number,
  b: Body,
  j: number,
  distance: number,
  active: (ma: Mode, mb: Mode) => boolean,
  guard: number,
): void {
  const shape = around(b, j, distance)
  shapeApart(model, a, (m) => marks(a, m)[i]!.rect, b, shape, active, guard)
}

const known = new WeakMap<Footprint, Map<string, Shape>>()

/** All that is nearer than so much to a mark, in the footprint's frame at turn 0: the same shape every time. */
function around(b: Body, j: number, distance: number): Shape {
  const f = b.footprint
  let shapes = known.get(f)
  if (!shapes) {
    shapes = new Map()
    known.set(f, shapes)
  }
  const key = `${j}/${distance}`
  let shape = shapes.get(key)
  if (!shape) {
    const { rect, radius } = marks(b, { ...b.modes[0]!, turn: 0, w: f.width, h: f.depth })[j]!
    shape =
      radius > 0
        ? { kind: 'circle', cx: rect.x, cy: rect.y, r: um(distance) }
        : {
            kind: 'rect',
            x: um(rect.x - distance),
            y: um(rect.y - distance),
            w: um(rect.w + 2 * distance),
            h: um(rect.h + 2 * distance),
            radius: um(distance),
          }
    shapes.set(key, shape)
  }
  return shape
}
