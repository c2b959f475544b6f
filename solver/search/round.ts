/** Keeps a rectangle of one body clear of a shape that moves with another. */
import type { Footprint, Shape } from '../problem.ts'
import { bounds, prepare, type Region, rectInside, sectorSweep, spanOverlaps, turnShape } from '../shapes.ts'
import { type Rect, type Turn, um } from '../units.ts'
import { atPoints, inConvex } from './apart.ts'
import type { Body, Mode, Model } from './model.ts'
import { gathered, rectAt } from './parts.ts'

const isPlainRect = (s: Shape): boolean => s.kind === 'rect' && s.radius === 0

/** `rectA` relative to a's corner; `shape` in b's footprint frame. */
export function shapeApart(
  model: Model,
  a: Body,
  rectA: (m: Mode) => Rect,
  b: Body,
  shape: Shape,
  active: (ma: Mode, mb: Mode) => boolean,
  guard: number,
): void {
  const f = b.footprint
  const solid = isPlainRect(shape)
  const rectB = coreOf(f, shape, solid)
  // a rectangle inside the shape gives the search something to branch on; for a plain one it is the whole rule
  if (rectB) model.rectsApart(a, rectA, b, rectB, 0, active, guard)
  if (solid) return
  const rects = a.modes.map((mode) => ({ mode, rect: rectA(mode) }))
  const alike = gathered(rects, (p, q) => isSame(p.rect, q.rect))
  const groups = alike.length === 1 ? [a.modes] : alike.map((group) => group.map((one) => one.mode))
  for (const part of convexParts(shape))
    for (const [turn, turned] of byTurn(b)) {
      const region = prepare(turnShape(part.shape, f.width, f.depth, turn))
      for (const mas of groups) apartIn(model, a, mas, rectA(mas[0]!), b, turned, region, part.convex, active, guard)
    }
}

const isSame = (p: Rect, q: Rect): boolean => p.x === q.x && p.y === q.y && p.w === q.w && p.h === q.h

const turns = new WeakMap<Body, ReadonlyMap<Turn, readonly Mode[]>>()

/** A body's modes by turn: the same lists every time. */
function byTurn(body: Body): ReadonlyMap<Turn, readonly Mode[]> {
  let known = turns.get(body)
  if (!known) {
    known = new Map([...new Set(body.modes.map((m) => m.turn))].map((t) => [t, body.modes.filter((m) => m.turn === t)]))
    turns.set(body, known)
  }
  return known
}

const cores = new WeakMap<Shape, { readonly f: Footprint; readonly rect: ((m: Mode) => Rect) | undefined }>()

/** The shape itself, or a large rectangle inside it, as it moves with a part: the same function every time it is asked for. */
function coreOf(f: Footprint, shape: Shape, solid: boolean): ((m: Mode) => Rect) | undefined {
  const known = cores.get(shape)
  if (known?.f === f) return known.rect
  const whole = prepare(shape)
  const inner = solid ? bounds(whole) : innerRect(whole)
  const rect = inner && ((m: Mode) => rectAt(f, inner, m.turn))
  cores.set(shape, { f, rect })
  return rect
}

function apartIn(
  model: Model,
  a: Body,
  mas: readonly Mode[],
  r: Rect,
  b: Body,
  turned: readonly Mode[],
  region: Region,
  convex: boolean,
  active: (ma: Mode, mb: Mode) => boolean,
  guard: number,
): void {
  const box = bounds(region)
  const known = convex ? inConvex : atPoints
  for (const row of model.pairs(mas, turned, active))
    model.apart(a, b, [guard, model.group(a, row.a), model.group(b, row.b)], {
      box: [r.x - box.x - box.w, r.x + r.w - box.x, r.y - box.y - box.h, r.y + r.h - box.y],
      forbids: known((dx, dy) => spanOverlaps(region, r.x - dx, r.y - dy, r.w, r.h, 0)),
    })
}

/** The shape as parts whose open insides together forbid the same as the whole; convex where that is known. */
function convexParts(shape: Shape): { shape: Shape; convex: boolean }[] {
  switch (shape.kind) {
    case 'rect':
    case 'circle':
      return [{ shape, convex: true }]
    case 'sector': {
      const sweep = sectorSweep(shape.from, shape.to)
      if (sweep === 360 || sweep <= 180) return [{ shape, convex: true }]
      const mid = shape.from + sweep / 2
      return [
        { shape: { ...shape, to: mid }, convex: true },
        { shape: { ...shape, from: mid, to: shape.from + sweep }, convex: true },
      ]
    }
    case 'polygon':
      return [{ shape, convex: isConvex(shape.points) }]
  }
}

function isConvex(points: readonly { readonly x: number; readonly y: number; readonly bulge: number }[]): boolean {
  if (points.some((p) => p.bulge !== 0)) return false
  let sign = 0
  for (let i = 0; i < points.length; i++) {
    const a = points[i]!
    const b = points[(i + 1) % points.length]!
    const c = points[(i + 2) % points.length]!
    const cross = (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x)
    if (cross === 0) continue
    if (sign !== 0 && Math.sign(cross) !== sign) return false
    sign = Math.sign(cross)
  }
  return sign !== 0
}

/** A large rectangle inside the region (not the largest), or none. */
export function innerRect(region: Region): Rect | undefined {
  const box = bounds(region)
  let best: Rect | undefined
  for (const fx of [0.5, 0.3, 0.7])
    for (const fy of [0.5, 0.3, 0.7])
      for (const aspect of [1, 2, 0.5]) {
        const cx = box.x + box.w * fx
        const cy = box.y + box.h * fy
        let lo = 0
        let hi = Math.max(box.w, box.h)
        while (hi - lo > 100) {
          const s = (lo + hi) / 2
          const r = around(cx, cy, s * Math.min(1, aspect), s * Math.min(1, 1 / aspect))
          if (rectInside(region, r, 0)) lo = s
          else hi = s
        }
        const r = around(cx, cy, lo * Math.min(1, aspect), lo * Math.min(1, 1 / aspect))
        if (lo > 0 && r.w > 0 && r.h > 0 && rectInside(region, r, 0) && (!best || r.w * r.h > best.w * best.h)) best = r
      }
  return best
}

const around = (cx: number, cy: number, w: number, h: number): Rect => ({
  x: um(Math.ceil(cx - w / 2)),
  y: um(Math.ceil(cy - h / 2)),
  w: um(Math.floor(w)),
  h: um(Math.floor(h)),
})
