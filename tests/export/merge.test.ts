/** Contours that share a line, against a boolean library that knows polygons only; every shape invented. */

import { difference, union } from 'polyclip-ts'
import { describe, expect, it } from 'vitest'
import { along, type Contour, circle, contourOf, segmentsOf } from '../../src/export/contour.ts'
import { apart, type Named, sharing } from '../../src/export/merge.ts'
import fc from '../seeded.ts'
import { area, polygon } from './contour-kit.ts'
import { rect, round } from './decks.ts'

const runs = process.env.DECKWRIGHT_LONG === '1' ? 1000 : 20

const box = (x: number, y: number, w: number, h: number): Contour => contourOf(rect(x, y, w, h))
const voids = (...contours: readonly Contour[]): Named[] =>
  contours.map((contour, i) => ({ name: `v${i}`, contour, solid: false }))
const plate = (contour: Contour): Named => ({ name: 'plate', contour, solid: true })
const corners = (c: Contour): readonly { bulge: number }[] => (c.kind === 'path' ? c.points : [])

/** Corners of a contour, arcs as many of them, for the library. */
const flat = (c: Contour): [number, number][] => {
  if (c.kind === 'circle') {
    return Array.from({ length: 256 }, (_, k) => [
      c.cx + c.r * Math.cos((k * Math.PI) / 128),
      c.cy + c.r * Math.sin((k * Math.PI) / 128),
    ])
  }
  return segmentsOf(c.points).flatMap((s) =>
    Array.from({ length: s.arc ? 64 : 1 }, (_, k): [number, number] => {
      const p = along(s, k / (s.arc ? 64 : 1))
      return [p.x, p.y]
    }),
  )
}

type Multi = readonly (readonly (readonly (readonly [number, number])[])[])[]
const areaOf = (multi: Multi): number =>
  multi.reduce(
    (sum, rings) => sum + rings.reduce((s, ring, i) => s + (i === 0 ? 1 : -1) * Math.abs(shoelace(ring)), 0),
    0,
  )
const shoelace = (ring: readonly (readonly [number, number])[]): number =>
  ring.reduce((s, [x, y], i) => {
    const [u, v] = ring[(i + 1) % ring.length]!
    return s + (x * v - u * y) / 2
  }, 0)

describe('contours that share a line', () => {
  it('become one opening where they lie side by side', () => {
    const out = apart(voids(box(0, 0, 10, 10), box(10, 0, 10, 10)))
    expect(out).toHaveLength(1)
    expect(out[0]!.solid).toBe(false)
    expect(area(out[0]!.contour)).toBeCloseTo(200, 6)
    expect(corners(out[0]!.contour)).toHaveLength(4)
    expect(out[0]!.name).toContain('v0')
    expect(out[0]!.name).toContain('v1')
  })

  it('become one where a slot touches an opening with part of a side', () => {
    const out = apart(voids(box(0, 0, 20, 10), box(5, 10, 8, 3)))
    expect(out).toHaveLength(1)
    expect(area(out[0]!.contour)).toBeCloseTo(224, 6)
    expect(corners(out[0]!.contour)).toHaveLength(8)
  })

  it('become a notch of the outline where an opening lies on the edge', () => {
    const out = apart([...voids(box(10, 0, 5, 5)), plate(box(0, 0, 40, 30))])
    expect(out).toHaveLength(1)
    expect(out[0]!.solid).toBe(true)
    expect(area(out[0]!.contour)).toBeCloseTo(1175, 6)
  })

  it('keep their arcs', () => {
    // Half a disc on a rectangle, twice the same half turn written differently.
    const half = polygon([10, 10, 1], [0, 10])
    const out = apart(voids(box(0, 0, 10, 10), half))
    expect(out).toHaveLength(1)
    expect(area(out[0]!.contour)).toBeCloseTo(100 + (Math.PI * 25) / 2, 6)
    expect(corners(out[0]!.contour).filter((p) => p.bulge !== 0)).toHaveLength(1)
    const rim = apart([
      plate(contourOf(round(0, 0, 20))),
      ...voids(polygon([20, 0, Math.tan(Math.PI / 8)], [0, 20], [0, 0])),
    ])
    expect(rim).toHaveLength(1)
    expect(area(rim[0]!.contour)).toBeCloseTo(0.75 * Math.PI * 400, 2)
  })

  it('go once where two are the same line written differently', () => {
    const round1 = contourOf(round(5, 5, 3))
    const round2 = polygon([8, 5, 1], [2, 5, 1])
    expect(apart(voids(round1, round2))).toHaveLength(1)
    expect(apart(voids(box(0, 0, 9, 9), box(0, 0, 9, 9)))).toHaveLength(1)
    const extra = polygon([0, 0], [4, 0], [9, 0], [9, 9], [0, 9])
    const both = apart(voids(box(0, 0, 9, 9), extra))
    expect(both).toHaveLength(1)
    expect(area(both[0]!.contour)).toBeCloseTo(81, 6)
  })

  it('stay as they are where they only touch in a point, cross, or lie apart', () => {
    for (const pair of [
      [box(0, 0, 5, 5), box(5, 5, 5, 5)],
      [box(0, 0, 5, 5), circle(8, 2.5, 3)],
      [box(0, 0, 5, 5), box(3, 3, 5, 5)],
      [box(0, 0, 5, 5), box(5.01, 0, 5, 5)],
      [circle(0, 0, 5), circle(10, 0, 5)],
      [circle(0, 0, 5), circle(0, 0, 5.01)],
    ] as [Contour, Contour][]) {
      expect(apart(voids(...pair)).map((n) => n.contour)).toEqual(pair)
    }
  })

  it('leave an island where openings close a ring around it', () => {
    const out = apart(voids(box(0, 0, 30, 10), box(0, 20, 30, 10), box(0, 10, 10, 10), box(20, 10, 10, 10)))
    expect(out.map((n) => n.solid).sort()).toEqual([false, true])
    expect(out.map((n) => area(n.contour)).sort((a, b) => a - b)).toEqual([100, 900])
  })

  const shape = fc.record({
    x: fc.integer({ min: 0, max: 12 }),
    y: fc.integer({ min: 0, max: 12 }),
    w: fc.integer({ min: 2, max: 9 }),
    h: fc.integer({ min: 2, max: 9 }),
    how: fc.constantFrom('rect', 'round', 'cut', 'disc'),
  })
  const drawn = ({ x, y, w, h, how }: { x: number; y: number; w: number; h: number; how: string }): Contour => {
    if (how === 'round') return contourOf(rect(x, y, w, h, 1))
    if (how === 'cut') return polygon([x, y], [x + w, y], [x, y + h])
    if (how === 'disc') return contourOf(round(x, y, w / 2))
    return box(x, y, w, h)
  }

  it('leave the same deck as the library, with no line shared, on random grids of shapes', () => {
    let mergedSome = 0
    fc.assert(
      fc.property(fc.array(shape, { minLength: 2, maxLength: 5 }), fc.boolean(), (shapes, edge) => {
        const cuts = shapes.map(drawn)
        const all: Named[] = edge ? [...voids(...cuts), plate(box(0, 0, 14, 14))] : voids(...cuts)
        const out = apart(all)
        if (out.length < all.length) mergedSome++
        expect(sharing(out.map((n) => n.contour))).toEqual([])
        const rings = (some: readonly Named[], solid: boolean) =>
          some.filter((n) => n.solid === solid).map((n): [[number, number][]] => [flat(n.contour)])
        const left = (some: readonly Named[]): number => {
          const [first, ...more] = rings(some, false)
          const gone = first ? union(first, ...more) : []
          const solids = rings(some, true)
          if (!edge) {
            // Islands are solid deck inside what is gone.
            const [island, ...others] = solids
            return areaOf(gone as Multi) - (island ? areaOf(union(island, ...others) as Multi) : 0)
          }
          const [one, ...rest] = solids
          if (!one) return 0
          const deck = union(one, ...rest)
          return areaOf((first ? difference(deck, gone) : deck) as Multi)
        }
        expect(left(out)).toBeCloseTo(left(all), 0)
        expect(Math.abs(left(out) - left(all))).toBeLessThan(0.05)
      }),
      { numRuns: runs },
    )
    expect(mergedSome).toBeGreaterThan(runs / 10)
  })
})
