/**
 * Offsets against two libraries that share nothing with ours, on concave and curved shapes, and the beam simulated: what a
 * round beam of the kerf's width leaves along our lines must be the part that was asked for.
 */

import { difference, type Geom, union } from 'polyclip-ts'
import { beforeAll, describe, expect, it } from 'vitest'
import { mm } from '../../solver/index.ts'
import { along, type Contour, contourOf, segmentsOf, signedArea } from '../../src/export/contour.ts'
import { meetings } from '../../src/export/meet.ts'
import { OffsetError, offset } from '../../src/export/offset.ts'
import fc from '../seeded.ts'
import { type Clipper, clipper, flat, type Ring } from './clipper.ts'

const long = process.env.DECKWRIGHT_LONG === '1'

let lib: Clipper
beforeAll(async () => {
  lib = await clipper()
})

/** Any radius at any corner, so deep bays and spikes; arcs bulge in and out up to a third of a turn. */
const shape = fc
  .array(
    fc.record({ r: fc.integer({ min: 3000, max: 40000 }), bulge: fc.constantFrom(0, 0, 0, 0.1, 0.4, -0.1, -0.3) }),
    { minLength: 4, maxLength: 14 },
  )
  .map((corners) =>
    contourOf({
      kind: 'polygon',
      points: corners.map(({ r, bulge }, i) => {
        const angle = (2 * Math.PI * i) / corners.length
        return { x: mm((r * Math.cos(angle)) / 1000), y: mm((r * Math.sin(angle)) / 1000), bulge }
      }),
    }),
  )

const corners = (c: Contour): number => (c.kind === 'circle' ? 0 : c.points.length)

/** Arcs that bulge in may cross their neighbours, even right at their corner; such a shape is no contour. */
function simple(c: Contour): boolean {
  if (c.kind === 'circle') return true
  const segments = segmentsOf(c.points)
  return segments.every((s, i) =>
    segments.every((t, k) => {
      if (i === k) return true
      const next = k === (i + 1) % segments.length
      const before = i === (k + 1) % segments.length
      const corner = next ? s.b : before ? s.a : undefined
      if (next) {
        const [p, q] = [along(s, 0.999), along(t, 0.001)]
        const [a, b] = [Math.atan2(p.y - s.b.y, p.x - s.b.x), Math.atan2(q.y - s.b.y, q.x - s.b.x)]
        if (Math.abs(Math.sin((a - b) / 2)) < 0.02) return false
      }
      return meetings(s, t).every((p) => corner !== undefined && Math.hypot(p.x - corner.x, p.y - corner.y) < 1e-3)
    }),
  )
}

describe('offsets against an offset library', () => {
  it('are the same but for the corners, or refused where the library says that something is lost', () => {
    let [moved, refused, idle] = [0, 0, 0]
    fc.assert(
      fc.property(shape, fc.constantFrom(0.1, -0.1, 0.5, -0.5, 2, -2), (c, by) => {
        if (!simple(c)) return
        const d = Math.abs(by)
        const before = flat(c)
        const theirs = lib.inflate([before], by)
        // A corner may be mitred here and rounded there, which differs by less than a square of four distances.
        const slack = corners(c) * 16 * d * d * 0.25 + 0.02
        try {
          const ours = offset(c, by)
          moved++
          expect(lib.differs([flat(ours)], theirs)).toBeLessThan(slack)
          if (ours.kind === 'path') expect(signedArea(ours.points) - Math.abs(lib.area([before]))).not.toBe(0)
        } catch (error) {
          if (!(error instanceof OffsetError)) throw error
          refused++
          // Right where moving there and back does not give the shape again: a neck or a bay is gone.
          const back = lib.inflate(theirs, -by)
          if (lib.differs(back, [before]) < d * d && theirs.length === 1) idle++
        }
      }),
      { numRuns: long ? 5000 : 100 },
    )
    expect(moved).toBeGreaterThan(20 * refused)
    expect(idle).toBeLessThanOrEqual(refused / 4)
  })
})

describe('a beam along the lines', () => {
  /** What falls out of the beam's band on the inside. */
  const part = (line: Contour, kerf: number): Ring[] => lib.minus([flat(line)], lib.swept([flat(line)], kerf))

  it('leaves the part that was asked for', () => {
    let checked = 0
    fc.assert(
      fc.property(shape, fc.constantFrom(0.1, 0.2, 0.6), (c, kerf) => {
        if (!simple(c)) return
        let line: Contour
        try {
          line = offset(c, kerf / 2)
        } catch {
          return
        }
        checked++
        // A round beam leaves a fillet in each inner corner, at most (1/tan(θ/2)) of its radius long.
        const left = part(line, kerf)
        const fillets = corners(c) * kerf * kerf * 2 + 0.02
        expect(lib.differs(left, [flat(c)])).toBeLessThan(fillets)
      }),
      { numRuns: long ? 2000 : 22 },
    )
    expect(checked).toBeGreaterThan(15)
  })

  it('leaves the part by another library too', () => {
    let compared = 0
    fc.assert(
      fc.property(shape, (c) => {
        if (!simple(c)) return
        const kerf = 0.4
        let line: Contour
        try {
          line = offset(c, kerf / 2)
        } catch {
          return
        }
        if (line.kind === 'circle') return
        // The beam as discs and bars along the line, joined by polyclip-ts.
        const bars = segmentsOf(line.points).flatMap((s) => {
          const steps = s.arc ? 8 : 1
          return Array.from({ length: steps }, (_, k) =>
            capsule(along(s, k / steps), along(s, (k + 1) / steps), kerf / 2),
          )
        })
        const [first, ...more] = bars
        let left: ReturnType<typeof difference>
        try {
          left = difference([flat(line, 8) as [number, number][]], union(first!, ...more))
        } catch (error) {
          // The library gives up on some nearly parallel bars; that says nothing of ours.
          expect(String(error)).toContain('Unable to complete output ring')
          return
        }
        compared++
        const area = left.reduce(
          (sum, rings) => sum + rings.reduce((s, ring, i) => s + (i === 0 ? 1 : -1) * Math.abs(lib.area([ring])), 0),
          0,
        )
        const asked = Math.abs(lib.area([flat(c, 8)]))
        expect(Math.abs(area - asked)).toBeLessThan(0.002 * asked + corners(c) * kerf * kerf)
      }),
      { numRuns: long ? 200 : 4 },
    )
    expect(compared).toBeGreaterThan(0)
  })

  it('takes kerf off a square that allows for none, and leaves 40.0 of one that does', () => {
    const square = contourOf({ kind: 'rect', x: mm(0), y: mm(0), w: mm(40), h: mm(40), radius: mm(0) })
    expect(lib.area(part(square, 0.2))).toBeCloseTo(39.8 * 39.8, 3)
    expect(lib.area(part(offset(square, 0.1), 0.2))).toBeCloseTo(1600, 3)
  })
})

function capsule(
  a: { readonly x: number; readonly y: number },
  b: { readonly x: number; readonly y: number },
  r: number,
): Geom {
  const along = Math.atan2(b.y - a.y, b.x - a.x)
  const cap = (p: { readonly x: number; readonly y: number }, from: number): [number, number][] =>
    Array.from({ length: 13 }, (_, k) => {
      const angle = from + (Math.PI * k) / 12
      return [p.x + r * Math.cos(angle), p.y + r * Math.sin(angle)]
    })
  return [[...cap(b, along - Math.PI / 2), ...cap(a, along + Math.PI / 2)]]
}
