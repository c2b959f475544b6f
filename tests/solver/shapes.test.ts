import { describe, expect, it } from 'vitest'
import {
  boundaryDistance,
  bounds,
  containsPoint,
  discInside,
  discOverlaps,
  distance,
  innerPoint,
  moveShape,
  prepare,
  rectInside,
  rectOverlaps,
  regionInside,
  regionOverlaps,
  turnShape,
} from '../../solver/shapes.ts'
import { mm, type Rect, type Turn, turnRect, um } from '../../solver/units.ts'
import { LONG } from './oracle/mixes.ts'
import { chain, circle, overlapArea, plain, poly, random, randomShape, randomStar, rect, sector } from './shapes-kit.ts'

describe('bounds', () => {
  it('takes in the extremes of arcs', () => {
    // Half disc of radius 10 mm standing on a 20 mm line, closed form.
    expect(bounds(prepare(poly([0, 0, 0], [20000, 0, 1])))).toEqual(rect(0, 0, 20000, 10000))
    expect(bounds(prepare(poly([0, 0, -1], [20000, 0])))).toEqual(rect(0, 0, 20000, 10000))
    expect(bounds(prepare(poly([0, 0, 1], [20000, 0])))).toEqual(rect(0, -10000, 20000, 10000))
    expect(bounds(prepare(sector(0, 0, 10000, 45, 135)))).toEqual(rect(-7072, 0, 14144, 10000))
    expect(bounds(prepare(sector(0, 0, 10000, 350, 10)))).toEqual(rect(0, -1737, 10000, 3474))
    expect(bounds(prepare(sector(5, 6, 10000, -30, 330)))).toEqual(rect(-9995, -9994, 20000, 20000))
    expect(bounds(prepare(circle(1, 2, 30)))).toEqual(rect(-29, -28, 60, 60))
    expect(bounds(prepare(plain(1, 2, 30, 40, 10)))).toEqual(rect(1, 2, 30, 40))
  })
  it('is empty for a sector of no sweep', () => {
    const none = prepare(sector(0, 0, 1000, 20, 20))
    expect(none.kind).toBe('empty')
    expect(rectOverlaps(none, rect(-5000, -5000, 10000, 10000))).toBe(false)
    expect(rectInside(none, rect(0, 0, 0, 0))).toBe(false)
    expect(discOverlaps(none, 0, 0, 500)).toBe(false)
  })
})

describe('a polygon of 200000 corners', () => {
  it('has bounds', () => {
    const n = 200_000
    const points = Array.from({ length: n }, (_, i) => {
      const a = (2 * Math.PI * i) / n
      return { x: mm(5000 * Math.cos(a)), y: mm(5000 * Math.sin(a)), bulge: 0 }
    })
    expect(bounds(prepare({ kind: 'polygon', points }))).toEqual({
      x: mm(-5000),
      y: mm(-5000),
      w: mm(10_000),
      h: mm(10_000),
    })
  })
})

describe('limits, one micrometre either side', () => {
  it('of a rounded corner: a square in the corner of radius 10 mm (3-4-5 triangle)', () => {
    const r = prepare(plain(0, 0, 100000, 60000, 10000))
    // From the arc's centre (10,10) the corner (4,2) is 6-8-10 away: on the arc.
    expect(rectInside(r, rect(4000, 2000, 20000, 20000))).toBe(true)
    expect(rectInside(r, rect(3999, 2000, 20000, 20000))).toBe(false)
    expect(rectInside(r, rect(4000, 1999, 20000, 20000))).toBe(false)
    // 5 mm clearance: (7,6) is 3-4-5 from the centre.
    expect(rectInside(r, rect(7000, 6000, 20000, 20000), 5000)).toBe(true)
    expect(rectInside(r, rect(6999, 6000, 20000, 20000), 5000)).toBe(false)
    expect(rectInside(r, rect(7000, 6000, 20000, 20000), 5001)).toBe(false)
  })
  it('of a disc, over its corner and over its side', () => {
    const c = prepare(circle(0, 0, 5000))
    expect(rectOverlaps(c, rect(3000, 4000, 10000, 10000))).toBe(false)
    expect(rectOverlaps(c, rect(2999, 4000, 10000, 10000))).toBe(true)
    expect(rectOverlaps(c, rect(5000, -5000, 10, 10000))).toBe(false)
    expect(rectOverlaps(c, rect(4999, -5000, 10, 10000))).toBe(true)
    expect(rectOverlaps(c, rect(6000, 8000, 10, 10), 5000)).toBe(false)
    expect(rectOverlaps(c, rect(6000, 8000, 10, 10), 5001)).toBe(true)
    expect(rectInside(c, rect(-3000, -4000, 6000, 8000))).toBe(true)
    expect(rectInside(c, rect(-3000, -4000, 6001, 8000))).toBe(false)
  })
  it('of a concave bite: a half-round bay of radius 20 mm in the front edge', () => {
    // The bay is the arc from (70,60) to (30,60) that dips to y = 40.
    const bay = prepare(poly([0, 0], [100000, 0], [100000, 60000], [70000, 60000, -1], [30000, 60000], [0, 60000]))
    expect(bounds(bay)).toEqual(rect(0, 0, 100000, 60000))
    expect(rectInside(bay, rect(40000, 0, 20000, 40000))).toBe(true)
    expect(rectInside(bay, rect(40000, 0, 20000, 40001))).toBe(false)
    // Ends of the arc stick out between neighbours: a rectangle from the left, its corner 12-16-20 from the centre (50,60).
    expect(rectInside(bay, rect(0, 0, 38000, 44000))).toBe(true)
    expect(rectInside(bay, rect(0, 0, 38001, 44000))).toBe(false)
    expect(rectInside(bay, rect(0, 0, 20000, 60000))).toBe(true)
    expect(rectInside(bay, rect(0, 0, 30001, 60000))).toBe(false)
    // Clearance 5 mm: 15-20-25.
    expect(rectInside(bay, rect(5000, 5000, 30000, 35000), 5000)).toBe(true)
    expect(rectInside(bay, rect(5000, 5000, 30001, 35000), 5000)).toBe(false)
    expect(rectOverlaps(bay, rect(38000, 44000, 24000, 16000))).toBe(false)
    expect(rectOverlaps(bay, rect(38000, 44000, 24001, 16000))).toBe(true)
    expect(rectOverlaps(bay, rect(37999, 44000, 24001, 16000))).toBe(true)
    expect(rectOverlaps(bay, rect(40000, 50000, 20000, 10000))).toBe(false)
  })
  it('of a slanted edge', () => {
    const tri = prepare(poly([0, 0], [30000, 0], [0, 40000]))
    // Hypotenuse 3-4-5: the point (15,20) lies on it; its distance from the origin is 24.
    expect(rectInside(tri, rect(0, 0, 15000, 20000))).toBe(true)
    expect(rectInside(tri, rect(0, 0, 15001, 20000))).toBe(false)
    expect(rectOverlaps(tri, rect(15000, 20000, 100, 100))).toBe(false)
    expect(rectOverlaps(tri, rect(14999, 20000, 100, 100))).toBe(true)
    expect(distance(tri, rect(15000 + 8000, 20000 + 6000, 5, 5))).toBeCloseTo(10000, 6)
    expect(discInside(tri, 10000, 10000, 10000)).toBe(true) // the incircle of 30-40-50 has radius 10
    expect(discInside(tri, 10000, 10000, 10001)).toBe(false)
    expect(discOverlaps(tri, 23000, 26000, 10000)).toBe(false)
    expect(discOverlaps(tri, 23000, 26000, 10001)).toBe(true)
  })
  it('of points and segments', () => {
    const r = prepare(plain(0, 0, 10000, 10000))
    expect(rectOverlaps(r, rect(0, 5000, 0, 0))).toBe(false)
    expect(rectOverlaps(r, rect(1, 5000, 0, 0))).toBe(true)
    expect(rectInside(r, rect(0, 0, 0, 10000))).toBe(true)
    const c = prepare(sector(0, 0, 10000, 0, 90))
    expect(rectOverlaps(c, rect(0, -5000, 0, 20000))).toBe(false)
    expect(rectOverlaps(c, rect(1, -5000, 0, 20000))).toBe(true)
    expect(rectInside(c, rect(0, 0, 0, 10000))).toBe(true)
    expect(rectInside(c, rect(0, 0, 0, 10001))).toBe(false)
    expect(rectInside(c, rect(6000, 8000, 0, 0))).toBe(true)
    expect(rectInside(c, rect(6000, 8001, 0, 0))).toBe(false)
    expect(rectOverlaps(c, rect(6000, 7999, 0, 0))).toBe(true)
    expect(rectOverlaps(c, rect(6000, 8000, 0, 0))).toBe(false)
  })
})

/** All in the long run, two of five else. */
const many = (all: number): number => (LONG ? all : 0.25 * all)

describe('against sampled points', () => {
  it('rectInside and rectOverlaps agree with points of rectangle and boundary', () => {
    const rnd = random(11)
    let checked = 0
    for (let k = 0; k < many(1500); k++) {
      const shape = randomShape(rnd, k)
      const region = prepare(shape)
      if (region.kind === 'empty') continue
      const at = innerPoint(region)
      const spread = k % 3 === 0 ? 12000 : 80000
      const w = 1 + Math.round(rnd() * (k % 2 ? 6000 : 40000))
      const h = 1 + Math.round(rnd() * (k % 2 ? 6000 : 40000))
      const r = rect(
        Math.round(at.x + (rnd() - 0.5) * spread - w / 2),
        Math.round(at.y + (rnd() - 0.5) * spread - h / 2),
        w,
        h,
      )
      const ring = chain(shape, 60)
      const inside = (x: number, y: number) => evenOdd(ring, x, y)
      let some = false
      let all = true
      for (let i = 0; i <= 12; i++)
        for (let j = 0; j <= 12; j++) {
          const x = r.x + (r.w * i) / 12
          const y = r.y + (r.h * j) / 12
          // Points closer to the boundary than the chain's error say nothing.
          if (boundaryDistance(region, x, y) < 40) continue
          if (inside(x, y)) some = true
          else all = false
        }
      const within = (x: number, y: number, gap: number) =>
        x > r.x - gap && y > r.y - gap && x < r.x + r.w + gap && y < r.y + r.h + gap
      const crossed = ring.some(([x, y]) => within(x, y, -40))
      if (some) expect(rectOverlaps(region, r), `overlap ${k}`).toBe(true)
      if (!all || crossed) expect(rectInside(region, r), `inside ${k}`).toBe(false)
      if (rectInside(region, r)) expect(all && !crossed, `inside ${k}`).toBe(true)
      if (!rectOverlaps(region, r)) expect(some || crossed, `overlap ${k}`).toBe(false)
      // Distances: never above that of any sampled boundary point, and not below it by more than the spacing allows.
      const d = distance(region, r)
      if (d > 0) {
        let best = Number.POSITIVE_INFINITY
        for (const [x, y] of dense(ring)) best = Math.min(best, toRect(r, x, y))
        expect(d).toBeLessThanOrEqual(best + 1)
        expect(d).toBeGreaterThan(best - 150)
        expect(rectOverlaps(region, r, Math.floor(d))).toBe(false)
        expect(rectOverlaps(region, r, Math.ceil(d) + 1)).toBe(true)
      }
      checked++
    }
    expect(checked).toBeGreaterThan(many(1300))
  })
  it('clearance inside equals the distance to the nearest boundary point', () => {
    const rnd = random(12)
    let hits = 0
    for (let k = 0; k < many(1500); k++) {
      const shape = randomShape(rnd, k)
      const region = prepare(shape)
      if (region.kind === 'empty') continue
      const at = innerPoint(region)
      const w = 1 + Math.round(rnd() * 9000)
      const h = 1 + Math.round(rnd() * 9000)
      const r = rect(Math.round(at.x - w * rnd()), Math.round(at.y - h * rnd()), w, h)
      if (!rectInside(region, r)) continue
      hits++
      let best = Number.POSITIVE_INFINITY
      for (const [x, y] of dense(chain(shape, 60))) best = Math.min(best, toRect(r, x, y))
      expect(rectInside(region, r, Math.max(0, Math.floor(best) - 150)), `${k}`).toBe(true)
      expect(rectInside(region, r, Math.ceil(best) + 40), `${k}`).toBe(false)
    }
    expect(hits).toBeGreaterThan(many(600))
  })
})

describe('against a polygon clipper (polyclip-ts)', () => {
  it('regionOverlaps says what the area of the intersection says', () => {
    const rnd = random(13)
    let yes = 0
    let no = 0
    for (let k = 0; k < many(500); k++) {
      const a = randomShape(rnd, k)
      const b = moveShape(
        randomShape(rnd, Math.floor(rnd() * 5)),
        um(Math.round((rnd() - 0.5) * 160000)),
        um(Math.round((rnd() - 0.5) * 120000)),
      )
      const ra = prepare(a)
      const rb = prepare(b)
      if (ra.kind === 'empty' || rb.kind === 'empty') continue
      const shared = overlapArea(chain(a, 40), chain(b, 40))
      // Between nothing and a sliver the chains say nothing: their arcs are cut short.
      if (shared > 1e6) {
        yes++
        expect(regionOverlaps(ra, rb), `${k}`).toBe(true)
        expect(regionOverlaps(rb, ra), `${k}`).toBe(true)
      } else if (shared === 0 && overlapArea(chain(a, 40), widen(chain(b, 40))) === 0) {
        no++
        expect(regionOverlaps(ra, rb), `${k}`).toBe(false)
        expect(regionOverlaps(rb, ra), `${k}`).toBe(false)
      }
    }
    expect(yes).toBeGreaterThan(many(100))
    expect(no).toBeGreaterThan(many(100))
  })
  it('regionInside says whether the intersection is all of the first', () => {
    const rnd = random(31)
    const told = { yes: 0, no: 0 }
    for (let k = 0; k < many(100); k++) {
      const a = randomShape(rnd, k)
      const b = moveShape(randomShape(rnd, Math.floor(rnd() * 5)), um(Math.round(rnd() * 30000)), um(0))
      const [ra, rb] = [prepare(a), prepare(b)]
      if (ra.kind === 'empty' || rb.kind === 'empty') continue
      // Chains of arcs are cut short: what lies in the wide one by a hair says nothing.
      const out = overlapArea(chain(a, 40), chain(a, 40)) - overlapArea(chain(a, 40), widen(chain(b, 40)))
      const clear =
        overlapArea(widen(chain(a, 40)), widen(chain(a, 40))) - overlapArea(widen(chain(a, 40)), chain(b, 40))
      if (out > 1e6) {
        told.no++
        expect(regionInside(ra, rb), `${k}`).toBe(false)
      } else if (clear < 1) {
        told.yes++
        expect(regionInside(ra, rb), `${k}`).toBe(true)
      }
    }
    expect(told.no).toBeGreaterThan(many(30))
    expect(told.yes).toBeGreaterThan(many(2))
  })

  it('rectangles and straight polygons: inside means that the intersection is the whole rectangle', () => {
    const rnd = random(14)
    let yes = 0
    for (let k = 0; k < many(400); k++) {
      const shape = randomStar(rnd, false)
      const region = prepare(shape)
      const at = innerPoint(region)
      const w = 1 + Math.round(rnd() * 15000)
      const h = 1 + Math.round(rnd() * 15000)
      const r = rect(Math.round(at.x - w * rnd()), Math.round(at.y - h * rnd()), w, h)
      const shared = overlapArea(chain(shape), [
        [r.x, r.y],
        [r.x + w, r.y],
        [r.x + w, r.y + h],
        [r.x, r.y + h],
      ])
      if (Math.abs(shared - w * h) < 1e-3) {
        yes++
        expect(rectInside(region, r), `${k}`).toBe(true)
      } else if (w * h - shared > 5) expect(rectInside(region, r), `${k}`).toBe(false)
      if (shared > 5) expect(rectOverlaps(region, r), `${k}`).toBe(true)
    }
    expect(yes).toBeGreaterThan(many(100))
  })
})

describe('monotone in the rectangle', () => {
  it('a part of what is inside is inside, a rectangle around what overlaps overlaps', () => {
    const rnd = random(15)
    for (let k = 0; k < many(6000); k++) {
      const region = prepare(randomShape(rnd, k))
      const at = region.kind === 'empty' ? { x: 0, y: 0 } : innerPoint(region)
      const w = Math.round(rnd() * 20000)
      const h = Math.round(rnd() * 20000)
      const r = rect(Math.round(at.x + (rnd() - 0.6) * 30000), Math.round(at.y + (rnd() - 0.6) * 30000), w, h)
      const pw = rnd() < 0.2 ? 0 : Math.round(rnd() * w)
      const ph = rnd() < 0.2 ? 0 : Math.round(rnd() * h)
      const part = rect(r.x + Math.round(rnd() * (w - pw)), r.y + Math.round(rnd() * (h - ph)), pw, ph)
      const c = rnd() < 0.5 ? 0 : Math.round(rnd() * 6000)
      if (rectInside(region, r, c)) expect(rectInside(region, part, c), `inside ${k}`).toBe(true)
      if (rectOverlaps(region, part, c)) expect(rectOverlaps(region, r, c), `overlap ${k}`).toBe(true)
    }
  })
})

describe('turning and moving', () => {
  it('a turned shape answers about a turned rectangle as the shape did', () => {
    const rnd = random(16)
    const w = mm(90)
    const d = mm(50)
    for (let k = 0; k < many(800); k++) {
      const shape = randomShape(rnd, k)
      const turn = (k % 4) as Turn
      const a = prepare(shape)
      const b = prepare(turnShape(shape, w, d, turn))
      const r = rect(
        Math.round((rnd() - 0.5) * 60000),
        Math.round((rnd() - 0.5) * 60000),
        1 + Math.round(rnd() * 20000),
        1 + Math.round(rnd() * 20000),
      )
      const q = turnRect(r, w, d, turn)
      expect(rectOverlaps(b, q)).toBe(rectOverlaps(a, r))
      expect(rectInside(b, q)).toBe(rectInside(a, r))
      expect(turnShape(turnShape(shape, w, d, 1), d, w, 3)).toEqual(
        shape.kind === 'sector' ? { ...shape, from: shape.from + 360, to: shape.to + 360 } : shape,
      )
    }
  })
  it('a sector that looks along +y looks along −x after one turn', () => {
    const s = prepare(turnShape(sector(5000, 5000, 20000, 45, 135), mm(10), mm(10), 1))
    expect(containsPoint(s, -10000, 5000)).toBe(true)
    expect(containsPoint(s, 5000, 20000)).toBe(false)
  })
})

function evenOdd(ring: readonly [number, number][], x: number, y: number): boolean {
  let inside = false
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [ax, ay] = ring[i]!
    const [bx, by] = ring[j]!
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside
  }
  return inside
}

function* dense(ring: readonly [number, number][]): Generator<[number, number]> {
  for (let i = 0; i < ring.length; i++) {
    const [ax, ay] = ring[i]!
    const [bx, by] = ring[(i + 1) % ring.length]!
    const n = Math.max(1, Math.ceil(Math.hypot(bx - ax, by - ay) / 100))
    for (let j = 0; j < n; j++) yield [ax + ((bx - ax) * j) / n, ay + ((by - ay) * j) / n]
  }
}

const toRect = (r: Rect, x: number, y: number) =>
  Math.hypot(Math.max(0, r.x - x, x - r.x - r.w), Math.max(0, r.y - y, y - r.y - r.h))

/** A ring blown up a little about its own middle, to keep near misses out of the "no". */
function widen(ring: [number, number][]): [number, number][] {
  const mx = ring.reduce((s, p) => s + p[0], 0) / ring.length
  const my = ring.reduce((s, p) => s + p[1], 0) / ring.length
  return ring.map(([x, y]) => [mx + (x - mx) * 1.01, my + (y - my) * 1.01])
}
