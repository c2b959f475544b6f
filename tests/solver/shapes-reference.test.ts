/** Areas, centroids and gaps against tests/fixtures/reference-values.json; each entry names its source there, and its status. */
import { describe, expect, it } from 'vitest'
import type { Shape } from '../../solver/problem.ts'
import {
  area,
  boundaryDistance,
  centroid,
  containsPoint,
  distance,
  polygonCentroid,
  prepare,
} from '../../solver/shapes.ts'
import { mm, type Point, um } from '../../solver/units.ts'
import reference from '../fixtures/reference-values.json'

const value = <T>(id: string): T => {
  const entry = reference.find((e) => e.id === id)
  if (!entry) throw new Error(`no reference value ${id}`)
  return entry.value as T
}

const polygon = (points: readonly (readonly [number, number, number?])[], scale = 1000): Shape => ({
  kind: 'polygon',
  points: points.map(([x, y, bulge]) => ({
    x: um(Math.round(x * scale)),
    y: um(Math.round(y * scale)),
    bulge: bulge ?? 0,
  })),
})
/** Area in mm² (or in squares of the unit that 1000 Um stand for). */
const areaOf = (shape: Shape) => area(shape) / 1e6

describe('shoelace areas, in either direction', () => {
  // The vertices are in the entries' `quantity` and `value`; classical and school examples.
  const cases: [string, [number, number][]][] = [
    [
      'shoelace-pentagon-wiki',
      [
        [3, 4],
        [5, 11],
        [12, 8],
        [9, 5],
        [5, 6],
      ],
    ],
    [
      'shoelace-pentagon-gps',
      [
        [5, 3],
        [2, 4],
        [-3, 2],
        [1, -2],
        [4, -1],
      ],
    ],
    [
      'shoelace-triangle',
      [
        [6, 1],
        [-1, 0],
        [-2, 5],
      ],
    ],
    [
      'shoelace-pentagon-2',
      [
        [-1, -2],
        [1, -2],
        [2, -1],
        [0, 2],
        [-2, -1],
      ],
    ],
  ]
  it.each(cases)('%s', (id, points) => {
    expect(areaOf(polygon(points))).toBe(value(id))
    expect(areaOf(polygon([...points].reverse()))).toBe(value(id))
  })
  it('hull-princeton: the hull’s area, and the point 0.116 inside its long edge', () => {
    const { hull, area: expected } = value<{ hull: [number, number][]; area: number }>('hull-princeton')
    expect(areaOf(polygon(hull))).toBe(expected)
    const region = prepare(polygon(hull))
    expect(containsPoint(region, 5000, 6000)).toBe(true)
    expect(boundaryDistance(region, 5000, 6000) / 1000).toBeCloseTo(0.116, 3)
  })
})

describe('Pick’s theorem: lattice points inside and on the boundary give the area', () => {
  // Triangles of our own, made to have the interior and boundary counts of the entries.
  it.each([
    ['pick-7-8', [5, 2, 4], 7, 8],
    ['pick-5-8', [4, 2, 4], 5, 8],
    ['pick-33-20', [12, 0, 7], 33, 20],
    ['pick-18-18', [13, 1, 4], 18, 18],
  ] as const)('%s', (id, [base, x, height], inner, rim) => {
    const shape = polygon([
      [0, 0],
      [base, 0],
      [x, height],
    ])
    const region = prepare(shape)
    let inside = 0
    let on = 0
    for (let i = -1; i <= base + 1; i++) {
      for (let j = -1; j <= height + 1; j++) {
        if (boundaryDistance(region, i * 1000, j * 1000) < 0.001) on++
        else if (containsPoint(region, i * 1000, j * 1000)) inside++
      }
    }
    expect([inside, on]).toEqual([inner, rim])
    expect(areaOf(shape)).toBe(value(id))
  })
})

describe('round areas', () => {
  it('circle-area-r10', () => {
    expect(areaOf({ kind: 'circle', cx: mm(7), cy: mm(-3), r: mm(10) })).toBeCloseTo(value('circle-area-r10'), 6)
    expect(areaOf({ kind: 'sector', cx: mm(7), cy: mm(-3), r: mm(10), from: 30, to: 400 })).toBeCloseTo(
      value('circle-area-r10'),
      6,
    )
  })
  it('segment-area: a quarter’s segment as a chord and an arc', () => {
    // Chord of a 90° segment of radius 10 along the diagonal, ends on whole micrometres: (10,0) to (0,10).
    const bulge = Math.tan(Math.PI / 8)
    expect(
      areaOf(
        polygon([
          [10, 0, bulge],
          [0, 10],
        ]),
      ),
    ).toBeCloseTo(value('segment-area'), 6)
    expect(
      areaOf(
        polygon([
          [0, 10, -bulge],
          [10, 0],
        ]),
      ),
    ).toBeCloseTo(value('segment-area'), 6)
  })
  it('lens-area: two arcs of 120°', () => {
    const bulge = Math.tan(Math.PI / 6)
    const h = Math.sqrt(3) / 2
    const lens = polygon(
      [
        [0.5, -h, bulge],
        [0.5, h, bulge],
      ],
      1e9,
    )
    expect(area(lens) / 1e18).toBeCloseTo(value('lens-area'), 5)
  })
  it('slot-area, addon-area: rounded rectangles', () => {
    const rounded = (w: number, h: number, r: number) =>
      areaOf({ kind: 'rect', x: mm(1), y: mm(2), w: mm(w), h: mm(h), radius: mm(r) })
    expect(rounded(20, 6, 3)).toBeCloseTo(value('slot-area'), 6)
    expect(rounded(65, 56.5, 3)).toBeCloseTo(value('addon-area'), 4)
  })
  it('a sector is its share of the disc, across the turn too', () => {
    for (const [from, to] of [
      [0, 90],
      [350, 80],
      [-45, 45],
      [200, 290],
    ] as const)
      expect(areaOf({ kind: 'sector', cx: mm(0), cy: mm(0), r: mm(10), from, to })).toBeCloseTo(
        value<number>('circle-area-r10') / 4,
        6,
      )
  })
})

describe('gaps', () => {
  it('rect-circle-gap (3-4-5 triangle)', () => {
    const circle = prepare({ kind: 'circle', cx: mm(13), cy: mm(14), r: mm(2) })
    expect(distance(circle, { x: mm(0), y: mm(0), w: mm(10), h: mm(10) }) / 1000).toBeCloseTo(
      value('rect-circle-gap'),
      9,
    )
  })
})

describe('centroids', () => {
  it('half disc: 4r / 3π over its flat side (closed form)', () => {
    const half = polygon([
      [0, 0],
      [20, 0, 1],
    ])
    const c = centroid(half)
    expect(c.x / 1000).toBeCloseTo(10, 9)
    expect(c.y / 1000).toBeCloseTo(40 / (3 * Math.PI), 9)
  })
  it('three quarters of a disc: the disc less the missing quarter (closed form)', () => {
    const c = centroid({ kind: 'sector', cx: mm(0), cy: mm(0), r: mm(10), from: 90, to: 360 })
    const quarter = 40 / (3 * Math.PI)
    expect(c.x / 1000).toBeCloseTo(-quarter / 3, 9)
    expect(c.y / 1000).toBeCloseTo(-quarter / 3, 9)
  })
  it('a straight polygon: an L of two rectangles, by weighing the two (closed form), either way round, far from the origin', () => {
    const l: [number, number][] = [
      [0, 0],
      [60, 0],
      [60, 20],
      [20, 20],
      [20, 80],
      [0, 80],
    ]
    const points: Point[] = l.map(([x, y]) => ({ x: mm(x + 5000), y: mm(y - 5000) }))
    for (const p of [points, [...points].reverse()]) {
      const c = polygonCentroid(p)
      expect(c.x / 1000 - 5000).toBeCloseTo((1200 * 30 + 1200 * 10) / 2400, 6)
      expect(c.y / 1000 + 5000).toBeCloseTo((1200 * 10 + 1200 * 50) / 2400, 6)
    }
  })
  it('without area: the mean of the points', () => {
    expect(polygonCentroid([])).toEqual({ x: 0, y: 0 })
    expect(polygonCentroid([{ x: mm(3), y: mm(4) }])).toEqual({ x: 3000, y: 4000 })
    expect(
      polygonCentroid([
        { x: mm(0), y: mm(0) },
        { x: mm(10), y: mm(20) },
      ]),
    ).toEqual({ x: 5000, y: 10000 })
  })
})
