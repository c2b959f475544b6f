/** Offsets of random contours against plain sampling, and files whose arcs only almost meet their lines. */

import { describe, expect, it } from 'vitest'
import { mm } from '../../solver/index.ts'
import { along, type Contour, contourOf, path, reversed, segmentsOf, signedArea } from '../../src/export/contour.ts'
import { OffsetError, offset } from '../../src/export/offset.ts'
import fc from '../seeded.ts'

const runs = process.env.DECKWRIGHT_LONG === '1' ? 3000 : 80

function walk(c: Contour, each: number): { x: number; y: number }[] {
  if (c.kind === 'circle') throw new Error('paths only')
  return segmentsOf(c.points).flatMap((s) => Array.from({ length: each }, (_, k) => along(s, k / each)))
}

/** Star-shaped about the origin, so simple whatever the radii; arcs bulge a little. */
const star = fc
  .array(fc.record({ r: fc.integer({ min: 8000, max: 40000 }), bulge: fc.constantFrom(0, 0, 0.1, 0.3, -0.1) }), {
    minLength: 3,
    maxLength: 9,
  })
  .map((corners) =>
    contourOf({
      kind: 'polygon',
      points: corners.map(({ r, bulge }, i) => {
        const angle = (2 * Math.PI * i) / corners.length
        return { x: mm((r * Math.cos(angle)) / 1000), y: mm((r * Math.sin(angle)) / 1000), bulge }
      }),
    }),
  )

describe('offsets of random contours', () => {
  it('keep their distance from every point of the original, or are refused', () => {
    let [moved, refused] = [0, 0]
    fc.assert(
      fc.property(star, fc.constantFrom(0.05, 0.1, 0.4, -0.05, -0.1, -0.4), (shape, by) => {
        let out: Contour
        try {
          out = offset(shape, by)
        } catch (error) {
          expect(error).toBeInstanceOf(OffsetError)
          refused++
          return
        }
        moved++
        const before = walk(shape, 300)
        // Sampling the original every ~0.2 mm makes it seem farther away by at most 0.005 / (2 · |by|) or so; never nearer.
        for (const p of walk(out, 12)) {
          const near = Math.min(...before.map((q) => Math.hypot(p.x - q.x, p.y - q.y)))
          expect(near).toBeGreaterThan(Math.abs(by) - 1e-4)
          expect(near).toBeLessThan(Math.abs(by) * 4 + 0.2)
        }
        if (out.kind === 'path' && shape.kind === 'path') {
          const grown = signedArea(out.points) - Math.abs(signedArea(shape.points))
          expect(Math.sign(grown)).toBe(Math.sign(by))
        }
      }),
      { numRuns: runs },
    )
    // Nothing here is narrower than a kerf, apart from spikes that lean into a neighbour.
    expect(refused).toBeLessThan(moved / 10)
  })

  it('work where a file rounds its bulges, at any place, turn and direction', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 6 }),
        fc.double({ min: 0, max: 6.28, noNaN: true }),
        fc.boolean(),
        fc.constantFrom(0.1, -0.1),
        (places, turn, back, by) => {
          const bulge = Number(Math.tan(Math.PI / 8).toFixed(places))
          const corners = [
            [5, 0, 0],
            [35, 0, bulge],
            [40, 5, 0],
            [40, 15, bulge],
            [35, 20, 0],
            [5, 20, bulge],
            [0, 15, 0],
            [0, 5, bulge],
          ].map(([x, y, b]) => ({
            x: Math.round(1000 * (x! * Math.cos(turn) - y! * Math.sin(turn))) / 1000,
            y: Math.round(1000 * (x! * Math.sin(turn) + y! * Math.cos(turn))) / 1000,
            bulge: b!,
          }))
          const shape = path(back ? reversed(corners) : corners)
          const out = offset(shape, by)
          if (out.kind !== 'path') throw new Error('a path stays a path')
          const perimeter = 2 * (30 + 10) + 2 * Math.PI * 5
          const grown = Math.abs(signedArea(out.points)) - Math.abs(signedArea(shape.points))
          expect(grown).toBeCloseTo(by * perimeter + Math.PI * by * by, places > 2 ? 1 : 0)
        },
      ),
      { numRuns: runs },
    )
  })
})
