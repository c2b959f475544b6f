/** Rounded corners stay rounded while corners are moved. That an arc touches its edges is measured from its centre: at right angles. */
import { describe, expect, it } from 'vitest'
import type { ShapeFile } from '../../footprints/fields.ts'
import * as edit from '../../src/model/edit-corners.ts'
import fc from '../seeded.ts'

type Corners = readonly edit.Corner[]

const cornersOf = (shape: ShapeFile): Corners => edit.cornersOf(edit.asPolygon(shape))!
const rounded = cornersOf({ rect: [0, 0, 120, 80], radius: 6 })

/**
 * Of each arc: radius, and how far its centre is off the perpendicular at either end, mm; of short edges and arcs, whose direction whole
 * micrometres tell less well, so much less.
 */
function arcs(corners: Corners): { at: number; radius: number; off: number }[] {
  const n = corners.length
  return corners.flatMap(([x0, y0, k], i) => {
    if (k === 0) return []
    const [x1, y1] = corners[(i + 1) % n]!
    const f = (1 - k * k) / (4 * k)
    const [cx, cy] = [(x0 + x1) / 2 - (y1 - y0) * f, (y0 + y1) / 2 + (x1 - x0) * f]
    const off = [
      [corners[(i + n - 1) % n]!, [x0, y0]],
      [corners[(i + 2) % n]!, [x1, y1]],
    ].map(([far, end]) => {
      const [ux, uy] = [far![0]! - end![0]!, far![1]! - end![1]!]
      const [radius, long, chord] = [Math.hypot(x0 - cx, y0 - cy), Math.hypot(ux, uy), Math.hypot(x1 - x0, y1 - y0)]
      return (Math.abs(ux * (cx - end![0]!) + uy * (cy - end![1]!)) / long) * Math.min(1, long / radius, chord / radius)
    })
    return [{ at: i, radius: Math.hypot(x0 - cx, y0 - cy), off: Math.max(...off) }]
  })
}

/** Corners stand on whole micrometres; so do ends of arcs, whose centre this moves by some more. */
const touches = (corners: Corners): void => {
  for (const arc of arcs(corners)) expect(arc.off, JSON.stringify([arc, corners])).toBeLessThan(0.01)
}
const radii = (corners: Corners): number[] => arcs(corners).map((a) => Math.round(a.radius * 100) / 100)

describe('a rounded corner that is moved', () => {
  it('comes to where it is put, keeps its radius, and touches its edges; so do its neighbours', () => {
    for (const at of rounded.keys()) {
      const [x, y] = rounded[at]!
      for (const by of [
        [9, 0],
        [0, -14],
        [-11, 17],
        [23, 8],
        [0.001, 0],
      ] as const) {
        const to = [x + by[0], y + by[1]] as const
        const made = edit.moveCorner(rounded, at, to)
        expect(made.length).toBe(rounded.length)
        expect(made[at]![0]).toBeCloseTo(to[0], 2)
        expect(made[at]![1]).toBeCloseTo(to[1], 2)
        expect(edit.faultOf(made)).toBeUndefined()
        expect(radii(made)).toEqual([6, 6, 6, 6])
        touches(made)
      }
    }
  })

  it('leaves alone what it does not touch, and is the same again when it is moved back', () => {
    const [x, y] = rounded[2]!
    const made = edit.moveCorner(rounded, 2, [x + 13, y + 5])
    expect(made.slice(5, 7)).toEqual(rounded.slice(5, 7))
    const back = edit.moveCorner(made, 2, [x, y])
    for (const [i, c] of back.entries())
      for (const k of [0, 1] as const) expect(Math.abs(c[k] - rounded[i]![k])).toBeLessThan(0.004)
  })

  it('has a smaller radius where an edge is too short for it', () => {
    // The upper left rounding ends at (0, 74); the lower left corner comes to 2 mm below that.
    const made = edit.moveCorner(rounded, 0, [6, 72])
    expect(edit.faultOf(made)).toBeUndefined()
    touches(made)
    const all = radii(made)
    expect(all.filter((r) => r < 6).length).toBeGreaterThan(0)
    expect(Math.max(...all)).toBe(6)
  })

  it('may turn to the inside', () => {
    const corner = edit.roundCorner(
      [
        [0, 0, 0],
        [60, 0, 0],
        [60, 40, 0],
        [0, 40, 0],
      ],
      2,
      5,
    )!
    const made = edit.moveCorner(corner, 2, [25, 20])
    expect(edit.faultOf(made)).toBeUndefined()
    expect(radii(made)).toEqual([5])
    expect(Math.sign(made[2]![2])).toBe(-Math.sign(corner[2]![2]))
    const dent = edit.moveCorner(corner, 2, [20, 12])
    touches(dent)
    const inward = edit.moveCorner(
      edit.roundCorner(
        [
          [0, 0, 0],
          [60, 0, 0],
          [60, 40, 0],
          [30, 38, 0],
          [0, 40, 0],
        ],
        3,
        8,
      )!,
      3,
      [34, 46],
    )
    expect(edit.faultOf(inward)).toBeUndefined()
    touches(inward)
  })

  it('a sharp corner beside a rounded one takes its edge along', () => {
    const one = edit.roundCorner(
      [
        [0, 0, 0],
        [60, 0, 0],
        [60, 40, 0],
        [0, 40, 0],
      ],
      0,
      7,
    )!
    const made = edit.moveCorner(one, 2, [70, -9])
    expect(made[2]).toEqual([70, -9, 0])
    expect(radii(made)).toEqual([7])
    touches(made)
    expect(edit.moveCorner(one, 3, [66, 44])).toEqual(one.with(3, [66, 44, 0]))
  })

  it('arcs that round nothing off keep their sweep: circles, slots, bowed edges', () => {
    const shapes: Corners[] = [
      cornersOf({ circle: [10, 20, 7.5] }),
      cornersOf({ rect: [0, 0, 44, 4], radius: 2 }),
      [
        [0, 0, 0],
        [60, 0, 0.3],
        [60, 40, 0],
        [0, 40, 0],
      ],
    ]
    for (const corners of shapes) {
      const [x, y, bulge] = corners[1]!
      expect(edit.moveCorner(corners, 1, [x + 3, y + 1])).toEqual(corners.with(1, [x + 3, y + 1, bulge]))
    }
  })

  it('whatever is moved anywhere: as many corners, no figure that is none, and arcs that touch', () => {
    const radius = fc.double({ min: 0.5, max: 18, noNaN: true })
    let sound = 0
    fc.assert(
      fc.property(
        radius,
        fc.boolean(),
        fc.array(
          fc.tuple(
            fc.nat(7),
            fc.double({ min: -60, max: 60, noNaN: true }),
            fc.double({ min: -60, max: 60, noNaN: true }),
          ),
          { minLength: 1, maxLength: 3 },
        ),
        (r, mirrored, moves) => {
          const plain = cornersOf({ rect: [0, 0, 120, 80], radius: r })
          let corners: Corners = mirrored ? plain.map(([x, y], i) => [-x, y, -plain[i]![2]] as const) : plain
          for (const [at, dx, dy] of moves) {
            const [x, y] = corners[at]!
            const next = edit.moveCorner(corners, at, [x + dx, y + dy])
            expect(next.length).toBe(8)
            expect(next.flat().every(Number.isFinite)).toBe(true)
            if (edit.faultOf(next) !== undefined) return
            sound++
            touches(next)
            corners = next
          }
        },
      ),
      { numRuns: 300 },
    )
    expect(sound).toBeGreaterThan(200)
  })
})
