import { describe, expect, it } from 'vitest'
import { type ShapeFile, shapeToSolver } from '../../footprints/fields.ts'
import { area, bounds, prepare } from '../../solver/index.ts'
import * as edit from '../../src/model/edit-corners.ts'
import { formOf, movedShape, slotShape } from '../../src/model/edit-shapes.ts'
import fc from '../seeded.ts'

type Corners = readonly edit.Corner[]

const square: Corners = [
  [0, 0, 0],
  [40, 0, 0],
  [40, 30, 0],
  [0, 30, 0],
]
const clockwise = square.toReversed()
/** mm² and mm. */
const size = (shape: ShapeFile) => {
  const exact = shapeToSolver(shape)
  const box = bounds(prepare(exact))
  return { area: area(exact) / 1e6, box: [box.x, box.y, box.w, box.h].map((um) => um / 1000) }
}
const sizeOf = (corners: Corners) => size(edit.polygonOf(corners))

describe('shapes as corners', () => {
  it('cover what the rectangle, circle, slot or sector covered', () => {
    const shapes: ShapeFile[] = [
      { rect: [3, 4, 165.1, 120] },
      { rect: [3, 4, 165.1, 120], radius: 6.35 },
      // Round ends without a straight piece between them.
      { rect: [0, 0, 44, 4], radius: 2 },
      { rect: [0, 0, 10, 10], radius: 5 },
      { circle: [10, 20, 7.5] },
      slotShape([0, 0], [20, 15], 4),
      { sector: [5, 5, 20, 30, 260] },
      { sector: [5, 5, 20, 350, 10] },
      { sector: [5, 5, 20, 0, 360] },
    ]
    for (const shape of shapes) {
      const corners = edit.cornersOf(edit.asPolygon(shape))!
      expect(edit.faultOf(corners), JSON.stringify(shape)).toBeUndefined()
      const [was, is] = [size(shape), sizeOf(corners)]
      // Corners stand on whole micrometres: half of one, along the whole outline.
      expect(Math.abs(is.area - was.area)).toBeLessThan(0.001 * 600)
      for (const k of [0, 1, 2, 3]) expect(Math.abs(is.box[k]! - was.box[k]!)).toBeLessThan(0.0025)
    }
    expect(edit.cornersOf(edit.asPolygon({ rect: [0, 0, 44, 4], radius: 2 }))).toHaveLength(6)
    expect(edit.cornersOf(edit.asPolygon({ rect: [0, 0, 10, 10], radius: 5 }))).toHaveLength(4)
    expect(edit.cornersOf({ circle: [0, 0, 1] })).toBeUndefined()
  })

  it('stay corners when the whole shape is moved, though they make a rectangle', () => {
    const shape = edit.asPolygon({ rect: [0, 0, 40, 30] })
    expect(formOf(shape).kind).toBe('rect')
    expect(movedShape(shape, 1, 2)).toEqual(edit.polygonOf(square.map(([x, y]) => [x + 1, y + 2, 0])))
    expect(
      movedShape(
        {
          polygon: [
            [0, 0, 1],
            [4, 0, 1],
          ],
        },
        1,
        0,
      ),
    ).toEqual({
      polygon: [
        [1, 0, 1],
        [5, 0, 1],
      ],
    })
  })

  it('stand in the outline, or in an opening or zone by its id', () => {
    const project = {
      decks: [{ id: 'low', outline: { rect: [0, 0, 40, 30] }, openings: [{ id: 'o', shape: { circle: [9, 9, 3] } }] }],
      zones: [{ id: 'z', deck: 'low', shape: { rect: [1, 1, 5, 5] } }],
    } as never
    for (const at of [{ part: 'outline' }, { part: 'openings', id: 'o' }, { part: 'zones', id: 'z' }] as const) {
      const shape = edit.asPolygon(edit.shapeAt(project, 'low', at)!)
      const next = edit.withShapeAt(project, 'low', at, shape)
      expect(edit.shapeAt(next, 'low', at)).toEqual(shape)
      expect(edit.sameShapeAt(at, { ...at })).toBe(true)
    }
    expect(edit.shapeAt(project, 'low', { part: 'openings', id: 'gone' })).toBeUndefined()
    expect(edit.sameShapeAt({ part: 'openings', id: 'o' }, { part: 'openings', id: 'p' })).toBe(false)
    expect(edit.sameShapeAt(undefined, { part: 'outline' })).toBe(false)
  })
})

describe('edits of corners', () => {
  it('move one, and say what crosses', () => {
    expect(edit.moveCorner(square, 2, [50, 35.5])[2]).toEqual([50, 35.5, 0])
    expect(edit.faultOf(edit.moveCorner(square, 2, [50, 35.5]))).toBeUndefined()
    // Over the left edge: the edges that start at the second and at the fourth corner.
    expect(edit.faultOf(edit.moveCorner(square, 2, [-10, 10]))).toEqual({ kind: 'crosses', edges: [1, 3] })
    expect(edit.faultOf(edit.moveCorner(square, 2, [40, 0]))).toEqual({ kind: 'twice', corner: 2 })
  })

  it('add one on an edge and take it away again, without a change of the outline', () => {
    expect(edit.addCorner(square, 3)).toEqual([...square, [0, 15, 0]])
    expect(edit.removeCorner(edit.addCorner(square, 3), 4)).toEqual(square)
    const round = edit.cornersOf(edit.asPolygon({ circle: [0, 0, 10] }))!
    for (const at of [0, 1, 2, 3]) {
      const more = edit.addCorner(round, at)
      expect(sizeOf(more).area).toBeCloseTo(Math.PI * 100, 2)
      const again = edit.removeCorner(more, at + 1)
      expect(again.map(([x, y]) => [x, y])).toEqual(round.map(([x, y]) => [x, y]))
      for (const [k, c] of again.entries()) expect(c[2]).toBeCloseTo(round[k]![2], 6)
    }
    // The first corner's edge before it is the last corner's.
    expect(edit.removeCorner(round, 0).map((c) => c[2])).toEqual([
      expect.closeTo(Math.tan(Math.PI / 8), 9),
      expect.closeTo(Math.tan(Math.PI / 8), 9),
      expect.closeTo(1, 6),
    ])
    // Edges of two arcs become straight.
    expect(
      edit.removeCorner(
        [
          [0, 0, 0.2],
          [20, 0, -0.3],
          [40, 0, 0],
          [20, 30, 0],
        ],
        1,
      )[0],
    ).toEqual([0, 0, 0])
  })

  it('need three, or two with a round edge', () => {
    const two = edit.removeCorner(edit.removeCorner(square, 0), 0)
    expect(edit.faultOf(two)).toEqual({ kind: 'few' })
    expect(
      edit.faultOf([
        [0, 0, 1],
        [10, 0, 1],
      ]),
    ).toBeUndefined()
    expect(edit.faultOf([[0, 0, 1]])).toEqual({ kind: 'few' })
  })

  it('bow an edge outwards or inwards, whichever way the corners run', () => {
    for (const corners of [square, clockwise]) {
      // The edge along x = 40, 30 long: a half circle of radius 15 out of the shape, or into it.
      const at = corners.findIndex(([x], i) => x === 40 && corners[(i + 1) % 4]![0] === 40)
      const out = edit.bowEdge(corners, at, 15)
      expect(edit.bowOf(out, at)).toBe(15)
      expect(edit.radiusAt(out, at)).toBe(15)
      expect(sizeOf(out).box).toEqual([0, 0, 55, 30])
      expect(sizeOf(out).area).toBeCloseTo(1200 + (Math.PI * 225) / 2, 6)
      expect(sizeOf(edit.bowEdge(corners, at, -15)).area).toBeCloseTo(1200 - (Math.PI * 225) / 2, 6)
      expect(edit.bowEdge(out, at, 0)).toEqual(corners)
      expect(edit.bowOf(corners, at)).toBe(0)
      expect(edit.radiusAt(corners, at)).toBeUndefined()
    }
    const disc: Corners = [
      [0, 0, 1],
      [10, 0, 1],
    ]
    expect(edit.bowOf(disc, 0)).toBe(5)
    expect(edit.middleOf(disc, 0)).toEqual([5, -5])
    expect(edit.faultOf(edit.bowEdge(square, 1, -41))).toMatchObject({ kind: 'crosses' })
  })

  it('round a corner off by a radius that has room', () => {
    expect(edit.mostRadius(square, 1)).toBe(30)
    const once = edit.roundCorner(square, 1, 10)!
    expect(once).toHaveLength(5)
    expect(once.slice(1, 3)).toEqual([
      [30, 0, expect.closeTo(Math.tan(Math.PI / 8), 12)],
      [40, 10, 0],
    ])
    expect(edit.radiusAt(once, 1)).toBe(10)
    expect(sizeOf(once).area).toBeCloseTo(1200 - (100 - 25 * Math.PI), 4)
    // Inside corners too: of an L, by hand: the corner gains what an outer one loses.
    const ell: Corners = [
      [0, 0, 0],
      [40, 0, 0],
      [40, 20, 0],
      [20, 20, 0],
      [20, 40, 0],
      [0, 40, 0],
    ]
    expect(sizeOf(edit.roundCorner(ell, 3, 10)!).area).toBeCloseTo(1200 + (100 - 25 * Math.PI), 4)
    // All four corners of a square, up to the middle of its sides, make a disc.
    let disc: Corners = [
      [0, 0, 0],
      [20, 0, 0],
      [20, 20, 0],
      [0, 20, 0],
    ]
    for (const at of [0, 1, 2, 3]) {
      const index = disc.findIndex(([x, y]) => x === [0, 20, 20, 0][at] && y === [0, 0, 20, 20][at])
      disc = edit.roundCorner(disc, index, 10)!
    }
    expect(disc).toHaveLength(4)
    expect(sizeOf(disc).area).toBeCloseTo(100 * Math.PI, 4)
    expect(edit.roundCorner(square, 1, 30.1)).toBeUndefined()
    expect(edit.mostRadius(once, 1)).toBeUndefined()
    expect(edit.mostRadius(edit.addCorner(square, 0), 1)).toBeUndefined()
  })

  it('keep random round outlines sound through adding, bowing and taking away', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 20, max: 60 }), fc.integer({ min: -20, max: 20 })), {
          minLength: 4,
          maxLength: 9,
        }),
        fc.boolean(),
        fc.nat(),
        (rays, turned, pick) => {
          // Round a middle, so that nothing crosses; bows of at most a fifth of a chord.
          const star = rays.map(([r, b], i): edit.Corner => {
            const a = (2 * Math.PI * i) / rays.length
            return [Math.round(r * Math.cos(a)), Math.round(r * Math.sin(a)), b / 100]
          })
          const corners = turned
            ? star.toReversed().map(([x, y], i) => [x, y, -star.toReversed()[i]![2]] as const)
            : star
          fc.pre(edit.faultOf(corners) === undefined)
          const at = pick % corners.length
          const more = edit.addCorner(corners, at)
          expect(more).toHaveLength(corners.length + 1)
          expect(Math.abs(sizeOf(more).area - sizeOf(corners).area)).toBeLessThan(0.1)
          const back = edit.removeCorner(more, at + 1)
          for (const [i, [x, y, b]] of back.entries()) {
            expect([x, y]).toEqual(corners[i]!.slice(0, 2))
            expect(Math.abs(b - corners[i]![2])).toBeLessThan(1e-3)
          }
          const bow = edit.bowOf(corners, at)
          expect(edit.bowOf(edit.bowEdge(corners, at, bow), at)).toBe(bow)
          const larger = sizeOf(edit.bowEdge(corners, at, bow + 1)).area
          expect(larger).toBeGreaterThan(sizeOf(corners).area)
        },
      ),
      { numRuns: 60 },
    )
  })
})
