import { describe, expect, it } from 'vitest'
import { mm } from '../../solver/index.ts'
import { along, boxOf, type Contour, contourOf, segmentsOf } from '../../src/export/contour.ts'
import { OffsetError, offset } from '../../src/export/offset.ts'
import { area, polygon } from './contour-kit.ts'
import { rect, round } from './decks.ts'

/** Points close together all along a contour, by plain angles and fractions. */
function walk(c: Contour): { x: number; y: number }[] {
  if (c.kind === 'circle') {
    return Array.from({ length: 2000 }, (_, k) => ({
      x: c.cx + c.r * Math.cos((k * Math.PI) / 1000),
      y: c.cy + c.r * Math.sin((k * Math.PI) / 1000),
    }))
  }
  return segmentsOf(c.points).flatMap((s) => Array.from({ length: 400 }, (_, k) => along(s, k / 400)))
}

/** From a point to the nearest of many. */
function nearest(p: { x: number; y: number }, all: readonly { x: number; y: number }[]): number {
  let least = Number.POSITIVE_INFINITY
  for (const q of all) least = Math.min(least, (p.x - q.x) ** 2 + (p.y - q.y) ** 2)
  return Math.sqrt(least)
}

const size = (c: Contour): [number, number] => {
  const b = boxOf(c)
  return [b.x1 - b.x0, b.y1 - b.y0]
}

/** Bulge of a quarter turn. */
const ROUND = Math.tan(Math.PI / 8)

const shapes: Record<string, Contour> = {
  square: contourOf(rect(0, 0, 40, 40)),
  rounded: contourOf(rect(3, 4, 60, 30, 5)),
  circle: contourOf(round(10, 10, 12)),
  sector: contourOf({ kind: 'sector', cx: mm(0), cy: mm(0), r: mm(30), from: -40, to: 85 }),
  'wide sector': contourOf({ kind: 'sector', cx: mm(5), cy: mm(5), r: mm(20), from: 30, to: 300 }),
  L: polygon([0, 0], [50, 0], [50, 20], [20, 20], [20, 60], [0, 60]),
  'L clockwise': polygon([0, 60], [20, 60], [20, 20], [50, 20], [50, 0], [0, 0]),
  bay: polygon([0, 0], [40, 0], [40, 30], [30, 30, -1], [10, 30], [0, 30]),
  nose: polygon([0, 0], [40, 0], [40, 30, 0.6], [0, 30]),
  lens: polygon([0, 0, 0.5], [30, 0, 0.5]),
  spike: polygon([0, 0], [60, 4], [0, 8]),
}

/** What a rounded opening that touches the edge leaves: two horns of plate, each ending in a cusp. */
const horns = polygon(
  [0, 0],
  [60, 0],
  [60, 60],
  [0, 60],
  [0, 40, -ROUND],
  [6, 46],
  [14, 46, -ROUND],
  [20, 40],
  [20, 26, -ROUND],
  [14, 20],
  [6, 20, -ROUND],
  [0, 26],
)

describe('a contour moved by half a kerf', () => {
  it('makes a 40 mm square 40.2 mm and keeps its corners sharp', () => {
    const out = offset(shapes.square!, 0.1)
    expect(size(out)[0]).toBeCloseTo(40.2, 9)
    expect(area(out)).toBeCloseTo(40.2 * 40.2, 6)
  })

  it('makes a 3.4 mm hole 3.2 mm', () => {
    const out = offset(contourOf(round(5, 5, 1.7)), -0.1)
    expect(size(out)[0]).toBeCloseTo(3.2, 9)
    expect(size(out)[1]).toBeCloseTo(3.2, 9)
  })

  for (const [name, shape] of Object.entries(shapes)) {
    for (const by of [0.1, -0.1, 1.5, -1.5]) {
      it(`stays ${Math.abs(by)} mm ${by > 0 ? 'outside' : 'inside'} of the ${name}`, () => {
        const out = offset(shape, by)
        const before = walk(shape)
        let tight = 0
        for (const p of walk(out).filter((_, i) => i % 7 === 0)) {
          const near = nearest(p, before)
          // Sampling of the original may only make the nearest point seem farther, by a few micrometres.
          expect(near).toBeGreaterThan(Math.abs(by) - 1e-4)
          expect(near).toBeLessThan(Math.abs(by) * 4.1)
          if (near < Math.abs(by) + 0.01) tight++
        }
        expect(tight).toBeGreaterThan(20)
        expect(Math.sign(area(out) - area(shape))).toBe(Math.sign(by))
      })
    }
  }

  it('grows a convex contour by area + perimeter · d + Σ tan(θ/2) · d² over sharp corners and θ/2 · d² over arcs', () => {
    // Steiner's formula for parallel bodies, corners mitred (from memory). Rounded rectangle: all turning is in arcs.
    const d = 2
    const r = shapes.rounded!
    const perimeter = 2 * (50 + 20) + 2 * Math.PI * 5
    expect(area(offset(r, d))).toBeCloseTo(area(r) + perimeter * d + Math.PI * d * d, 6)
    expect(area(offset(shapes.square!, d))).toBeCloseTo(1600 + 160 * d + 4 * d * d, 6)
  })

  it('takes from an L what its arms lose', () => {
    expect(area(offset(shapes.L!, -1))).toBeCloseTo(48 * 18 + 18 * 40, 6)
    expect(area(offset(shapes.L!, 1))).toBeCloseTo(52 * 22 + 22 * 40, 6)
  })

  it('gives the same for both directions of drawing', () => {
    expect(area(offset(shapes['L clockwise']!, 1))).toBeCloseTo(area(offset(shapes.L!, 1)), 9)
  })

  it('makes small corner radii sharp instead of turning them inside out', () => {
    expect(area(offset(contourOf(rect(0, 0, 20, 10, 0.5)), -1))).toBeCloseTo(18 * 8, 9)
  })

  it('goes round the cusps of horns at its distance', () => {
    const cusps = [
      { x: 0, y: 40 },
      { x: 0, y: 26 },
    ]
    for (const by of [0.1, 1.5]) {
      const before = walk(horns)
      const out = walk(offset(horns, by)).filter((_, i) => i % 7 === 0)
      for (const p of out) {
        expect(nearest(p, before)).toBeGreaterThan(by - 1e-4)
      }
      for (const c of cusps) expect(nearest(c, out)).toBeLessThan(by + 1e-4)
    }
  })

  const refused: [string, Contour, number][] = [
    ['an opening that ends in a cusp, which no beam can reach', horns, -0.1],
    ['a slot narrower than the kerf', contourOf(rect(0, 0, 20, 2)), -1],
    ['a hole smaller than the kerf', contourOf(round(0, 0, 0.5)), -0.5],
    [
      'a neck narrower than the kerf',
      polygon(
        [0, 0],
        [20, 0],
        [20, 9],
        [24, 9],
        [24, 0],
        [44, 0],
        [44, 20],
        [24, 20],
        [24, 11],
        [20, 11],
        [20, 20],
        [0, 20],
      ),
      -1.2,
    ],
    ['a bay that fills up', polygon([0, 0], [40, 0], [40, 30], [21, 30], [21, 10], [19, 10], [19, 30], [0, 30]), 1.2],
  ]
  for (const [name, shape, by] of refused) {
    it(`refuses ${name}`, () => {
      expect(() => offset(shape, by)).toThrow(OffsetError)
    })
  }
})
